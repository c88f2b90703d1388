//! How many runs the teeth last: the driver's events as damage a run, and as blows that break at once.

mod spent;
mod strikes;
mod survival;

pub use spent::Spent;
pub use survival::{LAST_RUNS, RunsToStrip, Survival};

use crate::Error;
use crate::bay::Bay;
use crate::states::Staged;
use spent::spent;
use strikes::{Events, Gears};
use survival::{fates, runs_until_tired};

/// What a life is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LifeAsk {
    /// Runs over which the shop wants the gears to last.
    pub horizon_runs: f64,
    /// Seed of the draws.
    pub seed: u32,
}

/// The life of one gear of a state.
#[derive(Clone, Debug)]
pub struct GearLife {
    /// Its name.
    pub name: &'static str,
    /// Over the runs.
    pub survival: Survival,
    /// Runs to a Miner's sum of 1 at its usual strength, single blows aside.
    pub runs_by_fatigue: f64,
}

/// The life of both gears of a state.
#[derive(Clone, Debug)]
pub struct Life {
    /// Pinion and spur.
    pub gears: [GearLife; 2],
    /// Until the first of them strips.
    pub both: Survival,
    /// What each case of the driver spends in a run of gears that have run in, the one that spends most first.
    pub cases: Vec<Spent>,
    /// Runs that were asked for.
    pub horizon_runs: f64,
}

/// Runs to a strip of a state's gears.
///
/// A run is survived if no blow of it exceeds the root's static strength and Miner's sum stays below 1. Drawn are the
/// strength of each gear (its material's scatter, one draw a set) and, for every landing anew, the drop height within
/// its stated range and the phase of the lash; the other inputs stand at their usual values. The damage of landings is
/// the mean of those that a set survives: many come before a tooth tires. New gears run in during their first run.
pub fn life(stage: &Staged, ask: &LifeAsk) -> Result<Life, Error> {
    let build = stage.sheet.build()?;
    let [fresh, run_in] = [Bay::new(&build, stage.run_in)?, Bay::new(&build, true)?];
    let events = Events::of(stage, &build, &run_in)?;
    let [at_first, then] = [events.roots(&build, &fresh)?, events.roots(&build, &run_in)?];
    let gears = Gears { first: events.strikes(&at_first, ask.seed)?, next: events.strikes(&then, ask.seed)? };
    let fates = fates(&gears, ask.seed);
    let gear = |name: &'static str, place: usize| GearLife {
        name,
        survival: Survival::of(fates.iter().map(|fate| fate.gears[place])),
        runs_by_fatigue: runs_until_tired(gears.both().map(|run| run.damage(place, 1.0))),
    };
    Ok(Life {
        gears: [gear("pinion", 0), gear("spur", 1)],
        both: Survival::of(fates.iter().map(|fate| fate.both)),
        cases: spent(&gears.next.cases, &then, ask.seed),
        horizon_runs: ask.horizon_runs,
    })
}
