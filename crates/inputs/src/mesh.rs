//! Inputs of gears, driveline, shaft stack, set screw and support bearing.

use crate::input::{Catalogue, Form, Input};
use toothsayer_quantity::Kind;

const MM: f64 = 1e-3;
const RACK: &str = "ISO 53 profile A";
const PLAIN: &str = "an unshifted gear at its nominal size";
const WORN: &str = "common practice, no source";

const fn quantity(key: &'static str, kind: Kind, least: f64, most: f64, help: &'static str) -> Input {
    Input::new(key, Form::Quantity(kind), help).within(least, most)
}

const fn length(key: &'static str, least_mm: f64, most_mm: f64, help: &'static str) -> Input {
    quantity(key, Kind::Length, least_mm * MM, most_mm * MM, help)
}

const fn teeth(key: &'static str, help: &'static str) -> Input {
    Input::new(key, Form::Count, help).required().within(5.0, 500.0)
}

const HOW_PITCH: &str = "count the teeth, calipers over the tips: toothsayer identify";

const fn own_module(key: &'static str, help: &'static str) -> Input {
    length(key, 0.2, 5.0, help).optional().measure(HOW_PITCH, 2.0)
}

const fn own_pitch(key: &'static str, help: &'static str) -> Input {
    quantity(key, Kind::PerLength, 200.0, 5000.0, help).optional().measure(HOW_PITCH, 2.0)
}

const fn own_angle(key: &'static str, help: &'static str) -> Input {
    quantity(key, Kind::Angle, 0.2, 0.6, help).optional()
}

const fn face(key: &'static str, help: &'static str) -> Input {
    length(key, 0.5, 100.0, help).measure("calipers across the toothed face", 1.0)
}

const fn shift(key: &'static str, help: &'static str) -> Input {
    quantity(key, Kind::Number, -1.0, 1.5, help).usually(0.0, 0.0, 0.0, PLAIN)
}

const fn thinning(key: &'static str, help: &'static str) -> Input {
    length(key, 0.0, 2.0, help).usually(0.0, 0.0, 0.0, PLAIN).measure("span over teeth against a new gear", 3.0)
}

const fn hardness(key: &'static str, help: &'static str) -> Input {
    quantity(key, Kind::Hardness, 80.0, 900.0, help).measure("hardness files on a tooth's end face", 3.0)
}

/// Rows of the tables `gears`, `driveline`, `stack`, `set_screw` and `support`.
pub static ROWS: &[Input] = &[
    length("gears.module", 0.2, 5.0, "module: millimetres of diameter per tooth"),
    quantity("gears.diametral_pitch", Kind::PerLength, 200.0, 5000.0, "diametral pitch: teeth per inch of diameter"),
    quantity("gears.pressure_angle", Kind::Angle, 0.2, 0.6, "pressure angle of the teeth").usually(
        0.349_065_850_398_865_9,
        0.349_065_850_398_865_9,
        0.349_065_850_398_865_9,
        "20 degrees: ISO 53",
    ),
    length("gears.centre_distance", 2.0, 500.0, "distance between the shafts of pinion and spur")
        .measure("calipers over both shafts, less half of each", 3.0),
    length("gears.backlash", 0.0, 3.0, "play at the pitch circle, measured along it")
        .optional()
        .measure("feeler, dial gauge or a paper strip in the mesh", 2.0),
    Input::new("gears.mesh_set", Form::Text, "how the mesh was set, for example \"paper 0.1 mm\"").optional(),
    quantity("gears.addendum", Kind::Number, 0.5, 1.5, "addendum of the rack, in modules").usually(1.0, 1.0, 1.0, RACK),
    quantity("gears.dedendum", Kind::Number, 0.6, 2.0, "dedendum of the rack, in modules")
        .usually(1.25, 1.25, 1.25, RACK),
    quantity("gears.root_radius", Kind::Number, 0.0, 0.5, "root radius of the rack, in modules")
        .usually(0.38, 0.38, 0.38, RACK),
    teeth("gears.pinion.teeth", "teeth of the pinion, on the motor's shaft"),
    own_module("gears.pinion.module", "module of the pinion, where it was found to differ"),
    own_pitch("gears.pinion.diametral_pitch", "diametral pitch of the pinion, where it was found to differ"),
    own_angle("gears.pinion.pressure_angle", "pressure angle of the pinion, where it was found to differ"),
    face("gears.pinion.face_width", "toothed width of the pinion"),
    shift("gears.pinion.shift", "profile shift of the pinion, in modules"),
    thinning("gears.pinion.thinning", "how much thinner the pinion's teeth are than nominal"),
    Input::new("gears.pinion.material", Form::Name(Catalogue::GearMaterial), "material of the pinion"),
    hardness("gears.pinion.hardness", "hardness of the pinion"),
    teeth("gears.spur.teeth", "teeth of the spur"),
    own_module("gears.spur.module", "module of the spur, where it was found to differ"),
    own_pitch("gears.spur.diametral_pitch", "diametral pitch of the spur, where it was found to differ"),
    own_angle("gears.spur.pressure_angle", "pressure angle of the spur, where it was found to differ"),
    face("gears.spur.face_width", "toothed width of the spur"),
    shift("gears.spur.shift", "profile shift of the spur, in modules"),
    thinning("gears.spur.thinning", "how much thinner the spur's teeth are than nominal"),
    Input::new("gears.spur.material", Form::Name(Catalogue::GearMaterial), "material of the spur"),
    hardness("gears.spur.hardness", "hardness of the spur"),
    quantity("driveline.spur_inertia", Kind::Inertia, 1e-8, 1e-1, "inertia of spur and input shaft"),
    quantity("driveline.ratio_after_spur", Kind::Number, 0.5, 60.0, "turns of the spur for one of the wheels")
        .measure("count the spur's turns while turning all wheels once", 2.0),
    quantity("driveline.stiffness", Kind::TorsionStiffness, 0.1, 1e5, "stiffness of the driveline, felt at the spur")
        .measure("wheels blocked, 1 kg on a 100 mm arm at the spur: travel of the arm's tip beyond the lash", 5.0),
    quantity("driveline.damping_ratio", Kind::Number, 0.0, 1.0, "damping of the driveline").usually(
        0.03,
        0.06,
        0.12,
        "estimate, no source",
    ),
    quantity("driveline.lash", Kind::Angle, 0.0, 1.0, "free play of the driveline, felt at the wheels")
        .measure("hold the spur, rock a tyre: swing at the tread over the tyre's radius", 2.0),
    quantity(
        "driveline.clutch_torque",
        Kind::Torque,
        0.01,
        1000.0,
        "torque at which the slipper clutch slips, at the spur",
    )
    .optional(),
    Input::new(
        "driveline.input_bearing",
        Form::Name(Catalogue::Bearing),
        "one of the two bearings of the spur's shaft, by its ISO size",
    )
    .optional(),
    length("stack.spacer", 0.0, 60.0, "spacer between the mount's face and the pinion")
        .optional()
        .measure("calipers on the spacer", 2.0),
    length("stack.pinion_length", 1.0, 100.0, "length of the pinion with its hub")
        .optional()
        .measure("calipers along the pinion", 2.0),
    length("stack.pinion_face_start", 0.0, 60.0, "from the pinion's inner end to its toothed face")
        .optional()
        .measure("calipers along the hub", 2.0),
    length("stack.spur_face_start", 0.0, 100.0, "from the mount's face to the spur's toothed face")
        .optional()
        .measure("depth gauge from the mount's face", 2.0),
    length("stack.cover_bearing", 1.0, 150.0, "from the mount's face to the cover bearing's inner face, cover seated")
        .optional()
        .measure("depth gauge through the cover, or a lump of putty on the pinion's end", 4.0),
    length("stack.bearing_gap", -10.0, 50.0, "gap between the pinion's end and the cover bearing")
        .measure("push the pinion's shaft end to the bearing: feeler or putty", 3.0),
    length("stack.overlap", 0.0, 100.0, "width on which both toothed faces meet")
        .measure("ink on the teeth, turn once, calipers on the mark", 2.0),
    Input::new("set_screw.size", Form::Name(Catalogue::SetScrew), "size of the pinion's set screw"),
    quantity("set_screw.torque", Kind::Torque, 0.01, 100.0, "torque of the set screw").optional(),
    Input::new(
        "set_screw.tool",
        Form::Word(&["short key", "driver", "torque driver"]),
        "what the set screw was tightened with",
    )
    .optional(),
    Input::new("set_screw.seat", Form::Word(&["flat", "round"]), "what the set screw presses on").word("flat"),
    Input::new(
        "support.bearing",
        Form::Name(Catalogue::Bearing),
        "outer bearing of the motor's shaft, by its ISO size",
    ),
    quantity("support.c", Kind::Force, 10.0, 1e6, "dynamic load rating of the support bearing").optional(),
    quantity("support.c0", Kind::Force, 5.0, 1e6, "static load rating of the support bearing").optional(),
    length("support.distance", 2.0, 200.0, "from the motor's front bearing to the support bearing")
        .measure("calipers along the shaft", 2.0),
    quantity("support.stiffness", Kind::LinearStiffness, 0.0, 1e9, "stiffness of the support bearing's seat")
        .usually(0.7e6, 2e6, 6e6, WORN),
];
