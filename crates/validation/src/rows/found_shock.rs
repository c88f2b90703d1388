//! Turning masses on shafts in textbook examples that were looked up.

use super::shock::truck;
use crate::check::{Check, Printed, Status, misprint};
use std::f64::consts::{PI, TAU};
use toothsayer_mechanics::driveline::Parameters;

const BEVAN: Printed = Printed {
    subject: "Shock and vehicle",
    source: "Bevan, The Theory of Machines, chapter 15, as a public notebook works it: a mass on a shaft",
    status: Status::Printed,
    unit: "1/min",
    tolerance: 0.5,
    because: "half of the last printed digit",
};
const LB_IN2: f64 = 0.453_592_37 * 0.0254 * 0.0254;
const LB_FT2: f64 = 144.0 * LB_IN2;
const LBF_IN: f64 = 0.453_592_37 * 9.806_65 * 0.0254;
/// Modulus of rigidity in all of the examples, psi.
const SHEAR_PSI: f64 = 12e6;

pub(super) fn rows() -> Vec<Check> {
    [one_mass(), two_masses(), geared()].concat()
}

/// Stiffness of a round steel shaft, N·m/rad.
fn stiffness(diameter_in: f64, length_in: f64) -> f64 {
    SHEAR_PSI * LBF_IN * PI * diameter_in.powi(4) / 32.0 / length_in
}

/// Two masses on a shaft: the wheels on one end, half the other at the rotor and half at the spur.
fn pair(first_kg_m2: f64, second_kg_m2: f64, stiffness: f64) -> Parameters {
    let gyration_ratio = 0.5;
    let tyre_radius_m = 0.1;
    Parameters {
        wheel_count: 1,
        driven_wheels: 1,
        wheel_mass_kg: second_kg_m2 / (gyration_ratio * tyre_radius_m * gyration_ratio * tyre_radius_m),
        tyre_radius_m,
        gyration_ratio,
        rotor_inertia_kg_m2: 0.5 * first_kg_m2,
        spur_inertia_kg_m2: 0.5 * first_kg_m2,
        shaft_stiffness_n_m_rad: stiffness,
        ..truck()
    }
}

fn per_second(parameters: &Parameters) -> f64 {
    parameters.shaft_frequency_rad_s() / TAU
}

/// A mass on a shaft whose other end is held: by a mass that hardly moves.
fn held(inertia_kg_m2: f64, stiffness: f64) -> f64 {
    per_second(&pair(1e9 * inertia_kg_m2, inertia_kg_m2, stiffness))
}

fn one_mass() -> Vec<Check> {
    let cantilever = 60.0 * held(672.0 * 15.0 * 15.0 * LB_IN2, stiffness(3.0, 36.0));
    let both_ends = 60.0 * held(1120.0 * 20.0 * 20.0 * LB_IN2, stiffness(2.0, 36.0) + stiffness(2.0, 24.0));
    vec![
        BEVAN.sure("example 1: 672 lb, gyration 15 in, on 3 in of 36 in length", 786.0, cantilever),
        BEVAN.sure("example 2: 1120 lb, gyration 20 in, between 36 and 24 in of 2 in", 321.0, both_ends),
        BEVAN.with("1/s", 0.5e-2).sure(
            "example 5: 500 lb·ft² on 1 in of 36 in length, undamped",
            2.11,
            held(500.0 * LB_FT2, stiffness(1.0, 36.0)),
        ),
    ]
}

/// 1500 and 1000 lb·ft² on five lengths, led back to 3 in by the fourth power of the diameters.
fn two_masses() -> Vec<Check> {
    let book = Printed {
        source: "Bevan, chapter 15, example 8, in a notebook that takes (3/5)⁴ and (3/7)⁴ for 0",
        unit: "1/s",
        tolerance: 0.05,
        ..BEVAN
    };
    let frequency = |whole: f64| {
        let shrunk = |length_in: f64, diameter_in: f64| length_in * (3.0 / diameter_in).powi(4);
        let length_in = 11.0 + shrunk(15.0, 3.5) + whole * (shrunk(10.0, 5.0) + shrunk(4.0, 7.0) + shrunk(10.0, 5.0));
        per_second(&pair(1500.0 * LB_FT2, 1000.0 * LB_FT2, stiffness(3.0, length_in)))
    };
    vec![
        misprint(book.sure("frequency", 23.8, frequency(1.0))),
        book.sure("frequency without the thicker lengths, as the notebook has it", 23.8, frequency(0.0)),
    ]
}

/// 1500 lb·in² drive 50 000 lb·in² through gears of 0.6; the shaft is 66.5 in of 2.75 in at the faster mass.
fn geared() -> Vec<Check> {
    let book = Printed {
        source: "Bevan, chapter 15, example 11 (gears of 0.6), in a notebook that takes gravity for 32.3 ft/s²",
        unit: "1/s",
        tolerance: 0.1,
        because: "the slip is worth 0.15 1/s",
        ..BEVAN
    };
    let ratio = 1.0 / 0.6;
    // Our shaft turns with the slower mass: led over, its stiffness grows with the square of the ratio.
    let at_spur = stiffness(2.75, 66.5) * ratio * ratio;
    let whole = pair(1e-9, 50_000.0 * LB_IN2, at_spur);
    let rotor_inertia_kg_m2 = 1500.0 * LB_IN2;
    let spur_base_radius_m = ratio * whole.pinion_base_radius_m;
    let frequency =
        per_second(&Parameters { rotor_inertia_kg_m2, spur_inertia_kg_m2: 1e-9, spur_base_radius_m, ..whole });
    let by_slip = frequency * (32.3f64 / 32.174).sqrt();
    vec![
        misprint(book.sure("frequency", 84.8, frequency)),
        book.with("1/s", 0.05).sure("frequency with the notebook's gravity", 84.8, by_slip),
    ]
}
