//! The shock solver against two other solutions of the same equations.

#[path = "driveline_common/mod.rs"]
mod common;
#[path = "driveline_common/drawn.rs"]
mod drawn;
#[path = "driveline_common/fixed_steps.rs"]
mod fixed_steps;
#[path = "driveline_common/reference.rs"]
mod reference;

use reference::Peaks;
use toothsayer_mechanics::driveline::{Case, Event, Outcome, Parameters, simulate};

/// Largest relative difference of a peak of the first blows, and of one after the third impact.
const FIRST_BLOWS: f64 = 1e-3;
const REBOUNDS: f64 = 1e-2;
/// What the solver allows itself on a flank that is only grazed, as a part of the largest tooth force: whether the flanks
/// touch at a millimetre a second or pass each other hangs on the last digits.
const GRAZE: f64 = 3e-4;
/// Step of the fixed-step solution, s: the law's jump at closing costs it about 2 zm w h / 2 of a closing speed, below 0.05 %.
const REFERENCE_STEP_S: f64 = 1e-7;

/// SciPy 1.17.1, solve_ivp, DOP853, rtol 1e-9, atol 1e-10, longest step 5 us, peaks at its steps; the same equations
/// written in Python in the angles themselves. Drive flank N, coast flank N, shaft N m, ground N, current A.
const SCIPY: [(Case, Peaks); 7] = [
    (Case::Launch, [311.4592, 0.0, 8.1217, 102.0240, 170.0]),
    (Case::FullBrake, [0.0, 360.7629, 9.5599, 102.0240, 140.0]),
    (Case::LandingOnThrottle, [395.4561, 0.0, 10.4499, 1279.7740, 170.0]),
    (Case::LandingOnBrake, [0.0, 331.7911, 8.7583, 1279.7741, 140.0]),
    (Case::LandingCoasting, [0.0, 4.1752, 0.1065, 1279.7741, 0.0]),
    (Case::Reversal, [337.9992, 360.7629, 9.5599, 102.0240, 170.0]),
    (Case::WheelStop, [1773.7836, 1522.3605, 49.1853, 102.0240, 0.0]),
];

#[test]
fn peaks_of_the_example_agree_with_a_general_solver() {
    for (case, expected) in SCIPY {
        let outcome = simulate(&common::example(), &Event::usual(case)).unwrap();
        check(&outcome, &expected, case);
    }
}

#[test]
fn every_case_of_drawn_trucks_agrees_with_a_fixed_small_step() {
    for truck in drawn::drawn(10) {
        Case::ALL.into_iter().for_each(|case| check_drawn(&truck, case));
    }
}

#[track_caller]
fn check_drawn(truck: &Parameters, case: Case) {
    let is_reversal = case == Case::Reversal;
    let event = Event { duration_s: Some(if is_reversal { 0.27 } else { 0.05 }), ..Event::usual(case) };
    let step_s = if is_reversal { 4.0 * REFERENCE_STEP_S } else { REFERENCE_STEP_S };
    let outcome = simulate(truck, &event).unwrap();
    check(&outcome, &fixed_steps::peaks(truck, &event, step_s), case);
}

#[track_caller]
fn check(outcome: &Outcome, expected: &Peaks, case: Case) {
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
