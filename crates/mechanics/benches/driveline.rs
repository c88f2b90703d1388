//! Time of a shock event beside the plain fixed-step solution of the same equations, the answers compared.

#[path = "../tests/driveline_common/mod.rs"]
mod common;
#[path = "../tests/driveline_common/reference.rs"]
mod reference;

use std::time::Instant;
use toothsayer_mechanics::driveline::{Case, Event, simulate};

/// Step at which the fixed-step solution is about as exact as the solver, s.
const FIXED_STEP_S: f64 = 2e-7;
/// Runs of the solver of which the fastest counts.
const RUNS: u32 = 50;
/// Largest relative difference of the larger flank's peak.
const AGREEMENT: f64 = 1e-2;

fn main() {
    let truck = common::example();
    for case in Case::ALL {
        let event = Event::usual(case);
        let mut fastest_s = f64::INFINITY;
        let mut peak_n = 0.0;
        for _ in 0..RUNS {
            let begun = Instant::now();
            let outcome = simulate(&truck, &event).expect("the example is valid");
            fastest_s = fastest_s.min(begun.elapsed().as_secs_f64());
            peak_n = outcome.peak_drive_flank.force_n.max(outcome.peak_coast_flank.force_n);
        }
        let begun = Instant::now();
        let [drive_n, coast_n, ..] = reference::peaks(&truck, &event, FIXED_STEP_S);
        let ratio = begun.elapsed().as_secs_f64() / fastest_s;
        let expected_n = drive_n.max(coast_n);
        assert!((peak_n - expected_n).abs() <= AGREEMENT * expected_n, "{peak_n} N, expected {expected_n} N");
        println!("{:20} {:6.3} ms, {ratio:4.0} times faster than fixed steps", case.name(), fastest_s * 1e3);
    }
}
