//! What the solver needs for the example's cases, so that a regression shows without a stopwatch.

#[path = "driveline_common/mod.rs"]
mod common;

use toothsayer_mechanics::driveline::{Case, Event, simulate};

/// How far the counts may move, relative: other processors round elementary functions differently in the last bit.
const DRIFT: f64 = 0.2;

/// Steps and evaluations of the right-hand side over all runs, counted on the day the solver was tuned.
const EFFORT: [(Case, u32, u32); 7] = [
    (Case::Launch, 1362, 8552),
    (Case::FullBrake, 1461, 9272),
    (Case::LandingOnThrottle, 1102, 6774),
    (Case::LandingOnBrake, 1391, 8914),
    (Case::LandingCoasting, 2044, 12336),
    (Case::Reversal, 3046, 19386),
    (Case::WheelStop, 5030, 36247),
];

#[test]
fn the_cases_of_the_example_cost_what_they_did() {
    for (case, steps, evaluations) in EFFORT {
        let effort = simulate(&common::example(), &Event::usual(case)).unwrap().effort;
        check(case, effort.steps, steps);
        check(case, effort.evaluations, evaluations);
    }
}

#[track_caller]
fn check(case: Case, got: u32, expected: u32) {
    let off = (f64::from(got) - f64::from(expected)).abs();
    assert!(off <= DRIFT * f64::from(expected), "{}: {got}, expected about {expected}", case.name());
}
