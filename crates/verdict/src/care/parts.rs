//! Set screw, teeth and bearings in the care plan.

use super::{COVER_OFF_RUNS, CareItem, CareTask, Due};
use crate::Error;
use crate::figure::WorkFigure;
use crate::grease::{Grease, bearing_speeds};
use crate::life::{Life, RunsToStrip};
use crate::margin::{Limit, Margin};
use crate::states::Loaded;
use toothsayer_fault_book::Figure;
use toothsayer_job::Build;

/// Looks before one set in twenty has stripped (this project's choice).
const LOOKS: f64 = 4.0;
/// Ends of life beyond this many times what the shop wants are not told (this project's choice).
const MOST_HORIZONS: f64 = 4.0;

/// The life of the teeth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TeethCare {
    /// Runs after which one set in twenty has stripped; none beyond what `life` tells.
    pub low: Option<f64>,
    /// Runs after which half of them have.
    pub median: Option<f64>,
}

/// A bearing with its rating life.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BearingCare {
    /// The part, as in the margins.
    pub part: &'static str,
    /// Runs until one in ten fails (ISO 281); none where nothing loads it.
    pub runs: Option<f64>,
    /// Which grease its speed asks for; none where its size is not known.
    pub grease: Option<Grease>,
}

/// The set screw: after the first run, then whenever the cover is off.
pub(super) fn set_screw(build: &Build, margins: &[Margin]) -> CareItem {
    let torque = match WorkFigure::of(Figure::SetScrew, build) {
        Some(WorkFigure::SetScrew { torque, .. }) => Some(torque),
        _ => None,
    };
    let hold = margins.iter().filter(|margin| margin.limit == Limit::Hold && margin.counts());
    let margin = hold.filter_map(|margin| margin.margin).reduce(f64::min);
    let task = CareTask::SetScrew { size: build.set_screw.size.clone(), torque, margin };
    CareItem { due: Due::first_and_every(COVER_OFF_RUNS), task }
}

/// A look at the teeth, several before one set in twenty has stripped; new ones where that comes soon. Where it comes in
/// the first run new ones of the same kind are no care.
pub(super) fn teeth(life: &Life) -> Vec<CareItem> {
    let RunsToStrip { low, median, .. } = life.both.runs_to_strip();
    let care = TeethCare { low, median };
    let every = low.map_or(COVER_OFF_RUNS, |low| whole(low / LOOKS).clamp(1, COVER_OFF_RUNS));
    let mut items = vec![CareItem { due: Due::first_and_every(every), task: CareTask::Teeth(care) }];
    if let Some(low) = low.filter(|low| (1.0..=MOST_HORIZONS * life.horizon_runs).contains(low)) {
        let runs = whole(low);
        items.push(CareItem { due: Due { first: runs, every: Some(runs) }, task: CareTask::NewGears(care) });
    }
    items
}

/// Every bearing whose life is known: turned by hand when the cover is off, new where its life ends soon.
pub(super) fn bearings(loaded: &Loaded, margins: &[Margin], horizon_runs: f64) -> Result<Vec<CareItem>, Error> {
    let speeds = bearing_speeds(&loaded.build, &loaded.bay)?;
    let mut items = Vec::new();
    for margin in margins.iter().filter(|margin| margin.limit == Limit::Life) {
        let Some(part) = PARTS.into_iter().find(|part| *part == margin.part) else { continue };
        let grease = speeds.iter().find(|speed| speed.part == part).map(|speed| speed.grease);
        let care = BearingCare { part, runs: margin.margin.map(|times| times * horizon_runs), grease };
        items.push(CareItem { due: Due::first_and_every(COVER_OFF_RUNS), task: CareTask::Bearing(care) });
        if let Some(runs) = care.runs.filter(|runs| *runs <= MOST_HORIZONS * horizon_runs) {
            let runs = whole(runs).max(1);
            items.push(CareItem { due: Due { first: runs, every: Some(runs) }, task: CareTask::NewBearing(care) });
        }
    }
    Ok(items)
}

/// Parts of the margins that are bearings.
const PARTS: [&str; 3] = ["support-bearing", "motor-front-bearing", "input-bearing"];

/// Whole runs, rounded down: before, not after.
fn whole(runs: f64) -> u32 {
    runs.floor().clamp(0.0, f64::from(u32::MAX)) as u32
}
