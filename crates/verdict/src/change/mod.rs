//! Wanted changes: the margins before and after, which change took what, and what would make it hold.

mod levers;
mod remedy;
mod share;

pub use remedy::Remedy;
pub use share::{Share, shapley};

use crate::Error;
use crate::bay::Bay;
use crate::joint::Windows;
use crate::makers_limits::{MakersLimit, makers_limits};
use crate::margin::{Holds, Margin, StateMargins};
use crate::motor::truck_speeds;
use crate::peaks::Memo;
use crate::ranges::{Ranges, Subject, Watch, judge};
use crate::states::{Loaded, Staged, point_margins, windows};
use crate::stopping::{Stopping, stopping_distance};
use rayon::prelude::*;
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_job::{Setting, Sheet, State};
use toothsayer_quantity::Speed;

/// Most changes that are weighed at once: every set of them is computed.
pub const MOST_CHANGES: usize = 6;

/// A truck and what somebody wants to change of it.
pub struct Wanted<'a> {
    /// The truck before.
    pub before: &'a Sheet,
    /// Which state that is.
    pub state: State,
    /// Whether its gears have run.
    pub run_in: bool,
    /// The wanted changes, at most [`MOST_CHANGES`].
    pub settings: &'a [Setting],
    /// Runs that endurance is asked for.
    pub horizon_runs: f64,
}

/// What the changes do.
#[derive(Clone, Debug)]
pub struct Changed {
    /// Before, with nothing changed.
    pub before: StateMargins,
    /// With every change.
    pub after: StateMargins,
    /// The margins that moved, and which change moved them by how much; the tightest after the change first.
    pub shares: Vec<Share>,
    /// The smallest sets of changes (by their places) without which the rest holds; none where nothing fails.
    pub without: Vec<Vec<usize>>,
    /// Further changes, each of which makes it hold; none where nothing fails.
    pub remedies: Vec<Remedy>,
    /// The makers' limits of the changed truck.
    pub limits: [MakersLimit; 3],
    /// The way to a stop before and after, at the brake strength that each has.
    pub stops: [Stopping; 2],
}

impl Changed {
    /// The stated limits that the changed truck passes: what passes one is not to be fitted.
    pub fn passed_limits(&self) -> impl Iterator<Item = &MakersLimit> {
        self.limits.iter().filter(|limit| limit.passed() == Some(true))
    }
}

/// The changed truck at point values: what a slider asks for while it moves.
#[derive(Clone, Debug)]
pub struct Tried {
    /// Its margins.
    pub margins: StateMargins,
    /// Its makers' limits.
    pub limits: [MakersLimit; 3],
    /// Its way to a stop at the brake strength that it has.
    pub stop: Stopping,
    /// Its top speed.
    pub top_speed: Speed,
}

impl Wanted<'_> {
    /// The truck with every change, at point values alone; joints stay as tight as they were.
    pub fn at_points(&self, memo: &Memo) -> Result<Tried, Error> {
        let bench = Bench::new(self, memo)?;
        let sheet = self.sheet((1 << self.settings.len()) - 1);
        let build = sheet.build()?;
        let top_speed = truck_speeds(&build, &Bay::new(&build, self.run_in)?)?.top_speed;
        let (limits, stop, margins) = (bench.limits(&sheet)?, bench.stop(&sheet)?, bench.margins(&sheet)?);
        Ok(Tried { margins: bench.judged(sheet, &margins, None)?, limits, stop, top_speed })
    }

    /// Weighs the changes; with ranges of before and after where they are asked for.
    pub fn weigh(&self, ranges: Option<&Ranges<'_>>, memo: &Memo, watch: &Watch<'_>) -> Result<Changed, Error> {
        let bench = Bench::new(self, memo)?;
        let count = 1_usize << self.settings.len();
        let done = AtomicU32::new(0);
        let sets: Vec<Vec<Margin>> = (0..count)
            .into_par_iter()
            .map(|set| {
                let margins = bench.margins(&self.sheet(set));
                let done = done.fetch_add(1, Ordering::Relaxed) + 1;
                if watch(done, count as u32) { margins } else { Err(Error::Cancelled { done, most: count as u32 }) }
            })
            .collect::<Result<_, Error>>()?;
        let fails = sets.last().is_some_and(|margins| Holds::of(margins) == Holds::No);
        let (without, remedies) = if fails {
            (share::holds_without(&sets), remedy::remedies(&self.sheet(count - 1), &bench)?)
        } else {
            (Vec::new(), Vec::new())
        };
        Ok(Changed {
            before: bench.judged(self.before.clone(), &sets[0], ranges)?,
            after: bench.judged(self.sheet(count - 1), &sets[count - 1], ranges)?,
            shares: share::shares(&sets),
            without,
            remedies,
            limits: bench.limits(&self.sheet(count - 1))?,
            stops: [bench.stop(self.before)?, bench.stop(&self.sheet(count - 1))?],
        })
    }

    /// The truck with the changes of `set` made, bit i for the i-th.
    pub fn sheet(&self, set: usize) -> Sheet {
        let wanted = self.settings.iter().enumerate().filter(|(place, _)| set >> place & 1 == 1);
        wanted.fold(self.before.clone(), |sheet, (_, setting)| sheet.overlaid(&setting.over))
    }
}

/// What a changed truck is judged with: joints stay as tight as they were before.
struct Bench<'a> {
    state: State,
    run_in: bool,
    horizon_runs: f64,
    windows: Windows,
    memo: &'a Memo,
}

impl<'a> Bench<'a> {
    fn new(wanted: &Wanted<'_>, memo: &'a Memo) -> Result<Self, Error> {
        let windows = windows(&Loaded::new(wanted.before, wanted.run_in, memo)?)?;
        Ok(Self { state: wanted.state, run_in: wanted.run_in, horizon_runs: wanted.horizon_runs, windows, memo })
    }

    fn margins(&self, sheet: &Sheet) -> Result<Vec<Margin>, Error> {
        point_margins(&Loaded::new(sheet, self.run_in, self.memo)?, &self.windows, self.horizon_runs)
    }

    fn limits(&self, sheet: &Sheet) -> Result<[MakersLimit; 3], Error> {
        let build = sheet.build()?;
        Ok(makers_limits(&build, &Bay::new(&build, self.run_in)?))
    }

    fn stop(&self, sheet: &Sheet) -> Result<Stopping, Error> {
        let build = sheet.build()?;
        stopping_distance(&build, &Bay::new(&build, self.run_in)?, build.controller.brake_strength)
    }

    fn judged(&self, sheet: Sheet, margins: &[Margin], ranges: Option<&Ranges<'_>>) -> Result<StateMargins, Error> {
        let Self { windows, horizon_runs, memo, .. } = self;
        let stage = &Staged { state: self.state, sheet, run_in: self.run_in };
        let subject = Subject { stage, windows, horizon_runs: *horizon_runs, memo };
        judge(self.state, margins.to_vec(), subject, ranges)
    }
}
