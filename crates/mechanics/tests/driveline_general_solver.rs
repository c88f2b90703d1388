//! The shock solver against a general solver from the registry, on the same equations stated once more.

#[path = "driveline_common/mod.rs"]
mod common;
#[path = "driveline_common/drawn.rs"]
mod drawn;
#[path = "driveline_common/general.rs"]
mod general;
#[path = "driveline_common/reference.rs"]
mod reference;

use general::{Tolerance, peaks};
use reference::Peaks;
use toothsayer_mechanics::driveline::{Case, Event, Outcome, Parameters, simulate};

/// Largest relative difference of a peak of the first blows, and of one after the third impact.
const FIRST_BLOWS: f64 = 1e-3;
const REBOUNDS: f64 = 1e-2;
/// What the solver allows itself on a flank that is only grazed, as a part of the largest tooth force.
const GRAZE: f64 = 3e-4;
/// A micrometre of mesh gives some 50 N, so angles have to be good to 1e-9 rad and much better; looser tolerances miss
/// some drawn truck's blow by half a per cent.
const TOLERANCE: Tolerance = Tolerance { relative: 1e-11, absolute: 1e-13, most_steps: u32::MAX };

#[test]
fn a_hundred_drawn_trucks_agree_in_every_case() {
    for truck in drawn::drawn(100) {
        Case::ALL.into_iter().for_each(|case| check(&truck, case));
    }
}

#[test]
fn the_example_agrees_in_every_case() {
    Case::ALL.into_iter().for_each(|case| check(&common::example(), case));
}

/// Long enough for the first blows; the reversal's second one comes after a quarter of a second.
#[track_caller]
fn check(truck: &Parameters, case: Case) {
    let duration_s = if case == Case::Reversal { 0.27 } else { 0.05 };
    let event = Event { duration_s: Some(duration_s), ..Event::usual(case) };
    agree(&simulate(truck, &event).unwrap(), &peaks(truck, &event, TOLERANCE).unwrap(), case);
}

#[track_caller]
fn agree(outcome: &Outcome, expected: &Peaks, case: Case) {
    let graze_n = GRAZE * expected[0].max(expected[1]);
    for (blow, expected_n) in [(outcome.peak_drive_flank, expected[0]), (outcome.peak_coast_flank, expected[1])] {
        let share = if blow.impacts_before >= 3 { REBOUNDS } else { FIRST_BLOWS };
        let off_n = (blow.force_n - expected_n).abs();
        assert!(off_n <= (share * expected_n).max(graze_n), "{}: {blow:?}, expected {expected_n} N", case.name());
    }
    let others = [outcome.peak_shaft_torque_n_m, outcome.peak_ground_force_n, outcome.peak_current_a];
    for (got, expected) in others.iter().zip(&expected[2..]) {
        assert!((got - expected).abs() <= FIRST_BLOWS * expected, "{}: {got}, expected {expected}", case.name());
    }
}
