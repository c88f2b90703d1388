//! Inputs of wheels and suspension.

use crate::input::{Form, Input};
use toothsayer_quantity::Kind;

const MM: f64 = 1e-3;
const ESTIMATE: &str = "estimate, no source";

const fn quantity(key: &'static str, kind: Kind, least: f64, most: f64, help: &'static str) -> Input {
    Input::new(key, Form::Quantity(kind), help).within(least, most)
}

/// Rows of the tables `wheels` and `suspension`.
pub static ROWS: &[Input] = &[
    Input::new("wheels.count", Form::Count, "wheels").within(2.0, 8.0).usually(4.0, 4.0, 4.0, "four wheels"),
    Input::new("wheels.driven", Form::Count, "how many of the wheels are driven; all of them where not given")
        .optional()
        .within(1.0, 8.0),
    quantity("wheels.driven_load", Kind::Fraction, 0.1, 1.0, "share of the weight on the driven wheels")
        .optional()
        .measure("kitchen scales under the driven wheels, over the truck's weight", 2.0),
    quantity("wheels.mass", Kind::Mass, 0.005, 20.0, "mass of one wheel with its tyre")
        .required()
        .measure("weigh one wheel", 2.0),
    quantity("wheels.diameter", Kind::Length, 20.0 * MM, 1.0, "diameter of the tyre")
        .required()
        .measure("tape or calipers across the tyre", 1.0),
    quantity("wheels.gyration", Kind::Number, 0.3, 1.0, "radius of gyration over tyre radius")
        .usually(0.7, 0.8, 0.9, ESTIMATE),
    quantity("wheels.grip", Kind::Number, 0.05, 3.0, "coefficient of grip").usually(0.6, 0.9, 1.2, ESTIMATE),
    quantity("wheels.vertical_stiffness", Kind::LinearStiffness, 100.0, 1e6, "vertical stiffness of one tyre")
        .measure("press the wheel on a kitchen scale: newtons per millimetre", 4.0),
    quantity("wheels.vertical_damping", Kind::LinearDamping, 0.0, 1e4, "vertical damping of one tyre"),
    quantity("wheels.slip_stiffness", Kind::Number, 1.0, 40.0, "stiffness factor B of the tyre's slip curve")
        .usually(7.0, 10.0, 14.0, ESTIMATE),
    quantity("wheels.slip_shape", Kind::Number, 1.0, 1.99, "shape factor C of the tyre's slip curve")
        .usually(1.2, 1.4, 1.6, ESTIMATE),
    quantity("wheels.relaxation_length", Kind::Length, 5.0 * MM, 2.0, "travel in which the tyre's force builds up")
        .usually(0.05, 0.08, 0.12, ESTIMATE),
    quantity("wheels.max_speed", Kind::AngularSpeed, 1.0, 10000.0, "the maker's limit of wheel speed").optional(),
    quantity("suspension.stiffness", Kind::LinearStiffness, 50.0, 1e6, "stiffness of the whole suspension")
        .measure("sag of the chassis under a known load", 4.0),
    quantity("suspension.damping", Kind::LinearDamping, 0.0, 1e5, "damping of the whole suspension"),
    quantity("suspension.travel", Kind::Length, 2.0 * MM, 0.5, "travel from full droop to the stop")
        .measure("rule at the chassis, lifted and pressed", 2.0),
    quantity("suspension.stop_stiffness", Kind::LinearStiffness, 500.0, 1e7, "stiffness of the suspension's stops")
        .usually(30e3, 60e3, 120e3, ESTIMATE),
    quantity("suspension.clearance", Kind::Length, 2.0 * MM, 1.0, "chassis to ground at full droop, where it slaps")
        .optional()
        .measure("rule under the chassis, lifted until the tyres just touch", 1.0),
];
