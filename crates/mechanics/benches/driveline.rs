//! Time of a shock event alone and in lanes, beside a general solver, plain fixed steps and SciPy's LSODA on the same
//! equations, the answers compared; the arithmetic done and its share of the core's peak; and samples a second.

#[path = "../tests/driveline_common/mod.rs"]
mod common;
#[path = "../tests/driveline_common/drawn.rs"]
mod drawn;
#[path = "../tests/driveline_common/fixed_steps.rs"]
mod fixed_steps;
#[path = "../tests/driveline_common/general.rs"]
mod general;
#[path = "driveline_parts/lsoda.rs"]
mod lsoda;
#[path = "driveline_parts/peak.rs"]
mod peak;
#[path = "../tests/driveline_common/reference.rs"]
mod reference;

use general::Tolerance;
use std::hint::black_box;
use std::time::Instant;
use toothsayer_mechanics::driveline::{
    Case, Event, Options, Outcome, Parameters, arithmetic, simulate, simulate_all, simulate_with,
};

/// Step at which the fixed-step solution is about as exact as the solver, s.
const FIXED_STEP_S: f64 = 2e-7;
/// The loosest of the general solver's tolerances, by powers of ten, at which the example's first blows are within 0.1 %.
const TOLERANCE: Tolerance = Tolerance { relative: 1e-9, absolute: 1e-11, most_steps: u32::MAX };
/// Runs of which the fastest counts.
const RUNS: u32 = 5;
/// Trucks side by side: the example with its backlash varied.
const TRUCKS: u32 = 64;
/// Drawn trucks of the last line, each in all seven cases.
const DRAWN: u64 = 1000;
/// Largest relative difference of the larger flank's peak.
const AGREEMENT: f64 = 1e-3;
/// Tolerance of the run that errors are measured by.
const EXACT: f64 = 1e-7;
/// Least error that is asked of LSODA: below, peaks between its steps and not its tolerance decide.
const LEAST_ERROR: f64 = 1e-5;

fn main() {
    let trucks = trucks();
    let peak_flops = peak::flops();
    println!("peak of this core, fused multiply-adds in lanes: {:.1} GFLOP/s", peak_flops * 1e-9);
    let operations = [false, true].map(arithmetic::of_step);
    println!("a step of a lane: explicit {:?}, where a lane of the set is implicit {:?}", operations[0], operations[1]);
    let python = lsoda::python();
    if python.is_none() {
        println!("no Python with SciPy (TOOTHSAYER_PYTHON or .venv): LSODA is not timed");
    }
    for case in Case::ALL {
        let event = Event::usual(case);
        let events: Vec<_> = trucks.iter().map(|truck| (truck, event)).collect();
        let (alone_s, alone) = fastest(|| trucks.iter().map(|truck| simulate(truck, &event)).collect::<Vec<_>>());
        let (lanes_s, lanes) = fastest(|| simulate_all(&events, &Options::default()));
        let arithmetic = Arithmetic::of(&lanes, lanes_s);
        let [lanes_n, alone_n] = [lanes, alone].map(|outcomes| hardest_of(&outcomes));
        assert_eq!(lanes_n, alone_n, "a lane differs from an event alone");
        let got_n = lanes_n[lanes_n.len() - 1];
        let last = &trucks[trucks.len() - 1];
        let fixed_s = same(got_n, || fixed_steps::peaks(last, &event, FIXED_STEP_S));
        let general_s = same(got_n, || general::peaks(last, &event, TOLERANCE).expect("it comes to its end"));
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
        arithmetic.print(peak_flops);
        if let Some(python) = &python {
            beside_lsoda(python, &event, last, [got_n, lanes_s]);
        }
    }
    drawn_trucks();
}

/// Floating-point operations of events in lanes.
struct Arithmetic {
    per_event: f64,
    flops: f64,
    taken: f64,
    useful: f64,
}

impl Arithmetic {
    /// Every step counts as an explicit one, so that the figure is what was needed at least.
    fn of(outcomes: &[Result<Outcome, toothsayer_mechanics::Error>], all_s: f64) -> Self {
        let efforts: Vec<_> = outcomes.iter().flatten().map(|outcome| outcome.effort).collect();
        let count = efforts.len() as f64;
        let taken = efforts.iter().map(|effort| f64::from(effort.taken)).sum::<f64>() / count;
        let useful = efforts.iter().map(|effort| f64::from(effort.steps)).sum::<f64>() / count;
        let per_event = taken * arithmetic::of_step(false).count() as f64;
        Self { per_event, flops: per_event * count / all_s, taken, useful }
    }

    fn print(&self, peak_flops: f64) {
        println!(
            "{:20} {:.2} MFLOP an event at least ({:.0} steps, {:.0} of them kept): {:.2} GFLOP/s, {:.0} % of the peak",
            "",
            self.per_event * 1e-6,
            self.taken,
            self.useful,
            self.flops * 1e-9,
            100.0 * self.flops / peak_flops
        );
    }
}

/// LSODA at the loosest tolerance that is as exact as the solver, and at the loosest within 0.1 %.
fn beside_lsoda(python: &std::path::Path, event: &Event, truck: &Parameters, [got_n, lanes_s]: [f64; 2]) {
    let options = Options { tolerance: EXACT, settle: false, max_steps: 50_000_000, ..Options::default() };
    let exact_n = hardest_of(&[simulate_with(truck, event, &options)])[0];
    let own = (got_n - exact_n).abs() / exact_n;
    for error in [own.max(LEAST_ERROR), AGREEMENT] {
        match lsoda::timed(python, event.case, truck, [exact_n, error]) {
            Some(timed) => println!(
                "{:20} LSODA within {error:.0e} (own error {own:.0e}): rtol {}, {:.0} ms, error {:.0e}, {} evaluations: {:.0} times slower",
                "",
                timed.tolerance,
                timed.taken_ms,
                timed.error,
                timed.evaluations,
                timed.taken_ms * 1e-3 / lanes_s
            ),
            None => println!("{:20} LSODA is not within {error:.0e} at any tolerance tried", ""),
        }
    }
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
