//! Jobs, verdicts and margins for the tests.

use std::sync::LazyLock;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, Sheet, State};
use toothsayer_mechanics::driveline::Case;
use toothsayer_verdict::{
    Bay, CasePeaks, Error, Holds, JointFriction, Limit, LoadPath, Loaded, Margin, Memo, Narrow, Phases, Ranges,
    StateMargins, Verdict, Windows, peaks,
};

/// Simulations, shared by every test of this binary.
pub static MEMO: LazyLock<Memo> = LazyLock::new(Memo::default);

/// Runs over which endurance is asked for where no verdict says it.
const HORIZON_RUNS: f64 = 50.0;

/// The example that fails as found.
pub static STRIPPED: LazyLock<Judged> = LazyLock::new(|| Judged::of(&example("tarnhorn.toml")));
/// The example with a fragment in its gear bay.
pub static FRAGMENTS: LazyLock<Judged> = LazyLock::new(|| Judged::of(&example("tarnhorn-fragments.toml")));
/// The healthy example.
pub static HEALTHY: LazyLock<Judged> = LazyLock::new(|| Judged::of(&example("tarnhorn-check.toml")));

/// A job's verdict with its margins at point values.
pub struct Judged {
    pub verdict: Verdict<'static>,
    pub states: Vec<StateMargins>,
}

impl Judged {
    /// Judges a job file's text; the job lives as long as the test.
    #[track_caller]
    pub fn of(text: &str) -> Judged {
        let job: &'static Job = Box::leak(Box::new(job(text)));
        let verdict = Verdict::new(job, FaultBook::built_in(), &MEMO).expect("a verdict");
        let states = verdict.margins(None, &MEMO).expect("margins");
        Judged { verdict, states }
    }

    #[track_caller]
    pub fn state(&self, state: State) -> &StateMargins {
        self.states.iter().find(|margins| margins.state == state).expect("the job has the state")
    }

    #[track_caller]
    pub fn holds(&self, state: State) -> Holds {
        self.state(state).holds
    }
}

/// Ranges of exactly so many draws, with nobody who watches.
pub fn ranges(draws: u32, seed: u32) -> Ranges<'static> {
    Ranges { first: draws, most: draws, seed, narrow: Narrow::Never, watch: &|_, _| true }
}

pub fn example(name: &str) -> String {
    let path = format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("the example is there")
}

/// The example that fails as found, without its findings.
pub fn unopened() -> String {
    let text = example("tarnhorn.toml");
    text.split("[[findings]]").next().unwrap_or("").to_owned()
}

#[track_caller]
pub fn job(text: &str) -> Job {
    Job::parse(text, FaultBook::built_in()).unwrap_or_else(|error| panic!("{error:?}"))
}

/// A text with one thing replaced everywhere; it must be there.
#[track_caller]
pub fn with(text: &str, old: &str, new: &str) -> String {
    assert!(text.contains(old), "{old}");
    text.replace(old, new)
}

/// Every case's blows of a truck as built.
#[track_caller]
pub fn blows(text: &str) -> Vec<CasePeaks> {
    let build = job(text).built.build().expect("it builds");
    let bay = Bay::new(&build, true).expect("a gear bay");
    peaks(&build, &bay, Phases::Worst, &MEMO).expect("blows")
}

/// The blows of one case.
#[track_caller]
pub fn of_case(blows: &[CasePeaks], case: Case) -> &CasePeaks {
    blows.iter().find(|peaks| peaks.case == case).expect("every case is run")
}

/// The margins of a sheet at point values, each joint's window its own.
pub fn margins_of(sheet: &Sheet) -> Result<Vec<Margin>, Error> {
    let Loaded { build, bay, peaks } = &Loaded::new(sheet, true, &MEMO)?;
    let (windows, friction, strength) = (&Windows::new(), JointFriction::NOMINAL, [1.0; 2]);
    LoadPath { build, bay, peaks, windows, horizon_runs: HORIZON_RUNS, friction, strength }.margins()
}

/// The margin of a part, limit and case; the part must be asked something.
#[track_caller]
pub fn margin(margins: &[Margin], part: &str, limit: Limit, case: &str) -> f64 {
    let wanted = |margin: &&Margin| margin.part == part && margin.limit == limit && margin.case == case;
    let found = margins.iter().find(wanted).unwrap_or_else(|| panic!("{part} has no {limit:?} in {case}"));
    found.margin.unwrap_or_else(|| panic!("{part}: nothing is asked of {limit:?} in {case}"))
}

/// The least margin of a part and limit over the cases that count.
#[track_caller]
pub fn least(margins: &[Margin], part: &str, limit: Limit) -> f64 {
    let wanted = margins.iter().filter(|margin| margin.part == part && margin.limit == limit && margin.counts());
    wanted.filter_map(|margin| margin.margin).reduce(f64::min).unwrap_or_else(|| panic!("{part} has no {limit:?}"))
}

/// `value` lies within `tolerance` of `wanted`.
#[track_caller]
pub fn near(value: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((value - wanted).abs() <= tolerance, "{what}: {value}, and {wanted} within {tolerance} is wanted");
}
