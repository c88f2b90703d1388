//! Inputs of joints, driver, job and shop.

use crate::input::{Catalogue, Form, Input};
use toothsayer_quantity::Kind;

const MM: f64 = 1e-3;

const fn quantity(key: &'static str, kind: Kind, least: f64, most: f64, help: &'static str) -> Input {
    Input::new(key, Form::Quantity(kind), help).within(least, most)
}

const fn times(key: &'static str, help: &'static str) -> Input {
    Input::new(key, Form::Count, help).within(0.0, 100_000.0)
}

/// What a joint may carry.
pub static CARRIED: &[&str] = &["motor", "mount", "input shaft", "nothing"];

/// Rows of a `[[joints]]` entry.
pub static JOINT_ROWS: &[Input] = &[
    Input::new("joints.name", Form::Text, "the joint's name").required(),
    Input::new("joints.carries", Form::Word(CARRIED), "what the joint holds").word("nothing"),
    Input::new("joints.screws", Form::Count, "number of screws").required().within(1.0, 40.0),
    Input::new("joints.size", Form::Name(Catalogue::Thread), "thread size").required(),
    Input::new("joints.class", Form::Name(Catalogue::ScrewClass), "property class of the screws").word("8.8"),
    quantity("joints.length", Kind::Length, 2.0 * MM, 0.2, "length of a screw under its head")
        .required()
        .measure("calipers on the screw", 1.0),
    quantity("joints.clamped", Kind::Length, 0.3 * MM, 0.15, "thickness of the part between head and thread")
        .required(),
    quantity("joints.hole_depth", Kind::Length, 0.5 * MM, 0.2, "usable depth of the threaded hole")
        .required()
        .measure("depth gauge in the hole", 1.0),
    Input::new("joints.thread_in", Form::Name(Catalogue::JointMaterial), "material of the threaded part").required(),
    Input::new("joints.under_head", Form::Name(Catalogue::JointMaterial), "material under the head").required(),
    Input::new("joints.washer", Form::Flag, "whether a washer lies under the head").usually(0.0, 0.0, 0.0, "no washer"),
    quantity("joints.circle", Kind::Length, 2.0 * MM, 0.5, "bolt circle of the screws")
        .optional()
        .measure("calipers over two screws", 1.0),
    quantity("joints.needed_clamp", Kind::Force, 0.0, 1e6, "clamp that each screw must keep").optional(),
    quantity("joints.torque", Kind::Torque, 0.0, 500.0, "torque that the screws were tightened to").optional(),
    quantity("joints.printed_torque", Kind::Torque, 0.01, 500.0, "torque that the maker prints").optional(),
    Input::new("joints.tightness", Form::Word(&["loose", "hand", "set"]), "how tight, where no torque is known")
        .optional(),
    times("joints.runs_since_tightened", "runs since the joint was tightened").usually(
        0.0,
        0.0,
        0.0,
        "freshly tightened",
    ),
    times("joints.removals", "how often the screws have been out").usually(0.0, 0.0, 0.0, "never out"),
];

/// Rows of the table `driver`.
pub static DRIVER_ROWS: &[Input] = &[
    quantity("driver.run_minutes", Kind::Time, 10.0, 36000.0, "length of a run"),
    quantity("driver.full_throttle_share", Kind::Fraction, 0.0, 1.0, "share of a run at full throttle"),
    times("driver.launches", "full-throttle launches in a run"),
    times("driver.full_brakes", "full brakings in a run"),
    times("driver.reversals", "reversals (brake, then throttle at once) in a run"),
    times("driver.landings", "landings in a run"),
    quantity("driver.drop_height", Kind::Length, 0.0, 10.0, "height that the truck drops from")
        .measure("film a jump beside a rule, or ask", 5.0),
    quantity("driver.landing_speed", Kind::Speed, 0.0, 60.0, "speed on landing"),
    quantity("driver.brake_from_speed", Kind::Speed, 0.1, 100.0, "speed from which the driver brakes").optional(),
    quantity("driver.landings_on_throttle", Kind::Fraction, 0.0, 1.0, "share of landings with the throttle open"),
    quantity("driver.landings_on_brake", Kind::Fraction, 0.0, 1.0, "share of landings with the brake on"),
    quantity("driver.part_load", Kind::Fraction, 0.0, 1.0, "current in the rest of a run over that at full throttle")
        .usually(0.15, 0.3, 0.5, "estimate, no source"),
    quantity("driver.air_temperature", Kind::Temperature, 253.15, 323.15, "temperature of the air")
        .usually(283.15, 298.15, 308.15, "a day from mild to hot: common practice, no source")
        .measure("thermometer in the shade", 1.0),
];

/// What a customer may come with.
pub static COMPLAINTS: &[&str] = &["stripped", "stripped-again", "noise", "check", "change-wanted", "season-end"];

/// Rows of the table `job`.
pub static JOB_ROWS: &[Input] = &[
    Input::new("job.complaint", Form::Word(COMPLAINTS), "what the customer came with").word("check"),
    times("job.runs_since_gears", "runs since the gears were new").usually(0.0, 0.0, 0.0, "new gears"),
];
