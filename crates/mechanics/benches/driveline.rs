//! Time of a shock event alone and in lanes, beside a general solver and plain fixed steps on the same equations, the
//! answers compared; and how many samples a second that is.

#[path = "../tests/driveline_common/mod.rs"]
mod common;
#[path = "../tests/driveline_common/drawn.rs"]
mod drawn;
#[path = "../tests/driveline_common/fixed_steps.rs"]
mod fixed_steps;
#[path = "../tests/driveline_common/general.rs"]
mod general;
#[path = "../tests/driveline_common/reference.rs"]
mod reference;

use general::Tolerance;
use std::hint::black_box;
use std::time::Instant;
use toothsayer_mechanics::driveline::{Case, Event, Options, Outcome, Parameters, simulate, simulate_all};

/// Step at which the fixed-step solution is about as exact as the solver, s.
const FIXED_STEP_S: f64 = 2e-7;
/// The loosest of the general solver's tolerances, by powers of ten, at which the example's first blows are within 0.1 %.
const TOLERANCE: Tolerance = Tolerance { relative: 1e-9, absolute: 1e-11 };
/// Runs of which the fastest counts.
const RUNS: u32 = 5;
/// Trucks side by side: the example with its backlash varied.
const TRUCKS: u32 = 64;
/// Drawn trucks of the last line, each in all seven cases.
const DRAWN: u64 = 1000;
/// Largest relative difference of the larger flank's peak.
const AGREEMENT: f64 = 1e-3;

fn main() {
    let trucks = trucks();
    for case in Case::ALL {
        let event = Event::usual(case);
        let events: Vec<_> = trucks.iter().map(|truck| (truck, event)).collect();
        let (alone_s, alone) = fastest(|| trucks.iter().map(|truck| simulate(truck, &event)).collect::<Vec<_>>());
        let (lanes_s, lanes) = fastest(|| simulate_all(&events, &Options::default()));
        let [lanes_n, alone_n] = [lanes, alone].map(|outcomes| hardest_of(&outcomes));
        assert_eq!(lanes_n, alone_n, "a lane differs from an event alone");
        let got_n = lanes_n[lanes_n.len() - 1];
        let last = &trucks[trucks.len() - 1];
        let fixed_s = same(got_n, || fixed_steps::peaks(last, &event, FIXED_STEP_S));
        let general_s = same(got_n, || general::peaks(last, &event, TOLERANCE));
        let [alone_s, lanes_s] = [alone_s, lanes_s].map(|all_s| all_s / f64::from(TRUCKS));
        println!(
            "{:20} alone {:6.3} ms, in lanes {:6.3} ms: {:4.1} times; {:5.0} times faster than a general solver, {:5.0} than fixed steps",
            case.name(),
            alone_s * 1e3,
            lanes_s * 1e3,
            alone_s / lanes_s,
            general_s / lanes_s,
            fixed_s / lanes_s
        );
    }
    drawn_trucks();
}

/// Seconds that another solution takes, which must come to the same larger peak.
fn same(got_n: f64, peaks: impl FnOnce() -> reference::Peaks) -> f64 {
    let begun = Instant::now();
    let [drive_n, coast_n, ..] = peaks();
    let taken_s = begun.elapsed().as_secs_f64();
    let expected_n = drive_n.max(coast_n);
    assert!((got_n - expected_n).abs() <= AGREEMENT * expected_n, "{got_n} N, expected {expected_n} N");
    taken_s
}

/// Seven cases of many drawn trucks on one core.
fn drawn_trucks() {
    let trucks = drawn::drawn(DRAWN);
    let events: Vec<_> = trucks.iter().flat_map(|truck| Case::ALL.map(|case| (truck, Event::usual(case)))).collect();
    let begun = Instant::now();
    let outcomes = simulate_all(&events, &Options::default());
    let all_s = begun.elapsed().as_secs_f64();
    let refused = outcomes.iter().filter(|outcome| outcome.is_err()).count();
    println!("7 cases x {DRAWN} drawn trucks on one core: {all_s:.2} s, {refused} of {} refused", events.len());
}

fn trucks() -> Vec<Parameters> {
    let example = common::example();
    let varied = |place| Parameters {
        normal_backlash_m: example.normal_backlash_m * (0.8 + 0.01 * f64::from(place)),
        ..example.clone()
    };
    (0..TRUCKS).map(varied).collect()
}

/// The larger flank's peak of each.
fn hardest_of(outcomes: &[Result<Outcome, toothsayer_mechanics::Error>]) -> Vec<f64> {
    let hardest_n = |outcome: &Outcome| outcome.peak_drive_flank.force_n.max(outcome.peak_coast_flank.force_n);
    outcomes.iter().map(|outcome| hardest_n(outcome.as_ref().expect("it is valid"))).collect()
}

/// Seconds of the fastest run, and its answer.
fn fastest<T>(run: impl Fn() -> T) -> (f64, T) {
    let timed = || {
        let begun = Instant::now();
        let answer = black_box(run());
        (begun.elapsed().as_secs_f64(), answer)
    };
    (1..RUNS).fold(timed(), |best, _| {
        let next = timed();
        if next.0 < best.0 { next } else { best }
    })
}
