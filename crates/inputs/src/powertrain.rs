//! Inputs of truck, battery, motor and controller.

use crate::input::{Catalogue, Form, Input};
use toothsayer_quantity::Kind;

const RPM: f64 = std::f64::consts::TAU / 60.0;
const DELIVERED: &str = "as delivered: common practice, no source";
const ESTIMATE: &str = "estimate, no source";

const fn quantity(key: &'static str, kind: Kind, least: f64, most: f64, help: &'static str) -> Input {
    Input::new(key, Form::Quantity(kind), help).within(least, most)
}

/// Rows of the tables `truck`, `battery`, `motor` and `controller`.
pub static ROWS: &[Input] = &[
    Input::new("truck.name", Form::Text, "the truck's name").word("truck"),
    Input::new("truck.start", Form::Name(Catalogue::StartingBuild), "the class of truck whose usual values stand in")
        .optional(),
    quantity("truck.mass", Kind::Mass, 0.1, 200.0, "mass ready to run, battery in")
        .required()
        .measure("weigh the truck with its battery", 1.0),
    quantity("truck.drag_area", Kind::Area, 0.0, 2.0, "drag coefficient times frontal area")
        .usually(0.03, 0.06, 0.12, ESTIMATE),
    Input::new("battery.cells", Form::Count, "lithium cells in series").required().within(1.0, 16.0),
    quantity("battery.cell_voltage", Kind::Voltage, 1.0, 4.5, "open-circuit voltage of one cell in the run")
        .usually(3.5, 3.8, 4.2, "IEC 61960-3 nominal 3.6 to 3.7 V, full 4.2 V")
        .measure("read the pack's voltage at rest and divide by the cells", 1.0),
    quantity("battery.resistance", Kind::Resistance, 0.0, 1.0, "resistance of pack, leads and plugs together")
        .measure("the charger's internal-resistance reading of the cells, summed, plus 3 mΩ of leads", 3.0),
    quantity("motor.kv", Kind::MotorConstant, 10.0 * RPM, 20000.0 * RPM, "no-load speed per volt, from the label"),
    quantity("motor.can_diameter", Kind::Length, 0.01, 0.2, "outer diameter of the motor's can")
        .optional()
        .measure("calipers across the can", 1.0),
    quantity("motor.can_length", Kind::Length, 0.01, 0.3, "length of the motor's can without the shaft")
        .optional()
        .measure("calipers along the can", 1.0),
    quantity("motor.resistance", Kind::Resistance, 1e-4, 10.0, "winding resistance between two leads")
        .measure("milliohm meter, or voltage at a known current", 5.0),
    quantity("motor.no_load_current", Kind::Current, 0.0, 100.0, "current of the motor running free")
        .usually(0.8, 2.5, 6.0, ESTIMATE)
        .measure("clamp meter with the pinion off the spur", 5.0),
    quantity("motor.rotor_inertia", Kind::Inertia, 1e-8, 1e-2, "moment of inertia of the rotor"),
    quantity("motor.shaft_diameter", Kind::Length, 0.001, 0.03, "diameter of the motor's shaft under the pinion")
        .measure("calipers on the shaft", 1.0),
    quantity("motor.shaft_yield", Kind::Pressure, 1e8, 2.5e9, "yield strength of the motor's shaft").usually(
        500e6,
        800e6,
        1100e6,
        "common practice for hardened motor shafts, no source",
    ),
    quantity("motor.overhang", Kind::Length, 0.002, 0.1, "from the motor's front bearing to the middle of the mesh")
        .measure("depth gauge from the mount's face to mid-tooth, plus the bearing's depth", 2.0),
    quantity("motor.run_out", Kind::Length, 0.0, 2e-3, "swing of the motor's shaft beside the pinion in one turn")
        .usually(0.0, 0.0, 0.0, "a straight shaft")
        .measure("dial gauge on the shaft beside the pinion, largest less smallest reading of one turn", 3.0),
    quantity("motor.mass", Kind::Mass, 0.005, 20.0, "mass of the motor").measure("weigh the motor", 3.0),
    quantity("motor.current_lag", Kind::Time, 1e-4, 0.1, "time constant of the motor's current")
        .usually(0.5e-3, 2e-3, 4e-3, ESTIMATE),
    quantity("motor.temperature_limit", Kind::Temperature, 300.0, 500.0, "the maker's limit of the winding").usually(
        353.15,
        383.15,
        403.15,
        "common practice, no source",
    ),
    quantity("motor.max_speed", Kind::AngularSpeed, 10.0, 20000.0, "the maker's limit of motor speed").optional(),
    quantity("motor.cooling", Kind::Number, 0.1, 20.0, "how well the motor's case is cooled against a bare can: 1")
        .usually(0.5, 1.0, 2.0, ESTIMATE),
    Input::new("motor.front_bearing", Form::Name(Catalogue::Bearing), "the motor's front bearing, by its ISO size")
        .optional(),
    quantity("controller.drive_current", Kind::Current, 1.0, 2000.0, "limit of the drive current")
        .measure("read it from the controller's log", 3.0),
    quantity("controller.brake_current", Kind::Current, 0.0, 2000.0, "limit of the brake current")
        .measure("read it from the controller's log", 3.0),
    quantity("controller.brake_strength", Kind::Fraction, 0.0, 1.0, "brake strength setting")
        .usually(1.0, 1.0, 1.0, DELIVERED)
        .measure("read the controller's setting", 1.0),
    quantity("controller.throttle_strength", Kind::Fraction, 0.0, 1.0, "throttle strength setting")
        .usually(1.0, 1.0, 1.0, DELIVERED)
        .measure("read the controller's setting", 1.0),
    Input::new("controller.max_cells", Form::Count, "cells that the controller's maker allows")
        .optional()
        .within(1.0, 16.0),
];
