//! The margins of every state, where each fails first, and the ranges that the inputs' spread gives them.

use crate::Error;
use crate::bay::Bay;
use crate::diagnosis::Diagnosis;
use crate::joint::Windows;
use crate::joint::{JointFriction, TightJoint};
use crate::load_path::LoadPath;
use crate::margin::{FailsAt, Margin, StateMargins};
use crate::peaks::{CasePeaks, Memo, Phases, peaks};
use crate::plan::{Plan, proposed};
use crate::ranges::{Ranges, Subject, judge};
use toothsayer_job::{Build, Job, Sheet, State};
use toothsayer_quantity::Force;

/// One state of the job.
pub struct Staged {
    /// Which.
    pub state: State,
    /// Its values.
    pub sheet: Sheet,
    /// Whether its gears have run.
    pub run_in: bool,
}

/// The build of a state with its bay and blows.
pub struct Loaded {
    /// The build.
    pub build: Build,
    /// Its gear bay.
    pub bay: Bay,
    /// Its blows.
    pub peaks: Vec<CasePeaks>,
}

impl Loaded {
    /// At point values.
    pub fn new(sheet: &Sheet, run_in: bool, memo: &Memo) -> Result<Loaded, Error> {
        let build = sheet.build()?;
        let bay = Bay::new(&build, run_in)?;
        let peaks = peaks(&build, &bay, Phases::Worst, memo)?;
        Ok(Loaded { build, bay, peaks })
    }
}

/// The states that the job has, in the order of a truck's life.
pub fn stages(job: &Job, diagnosis: &Diagnosis<'_>, plan: &Plan) -> Vec<Staged> {
    let run_in = job.runs_since_gears >= 1.0;
    let mut stages = Vec::new();
    if job.has_stock {
        stages.push(Staged { state: State::Stock, sheet: job.stock.clone(), run_in });
    }
    stages.push(Staged { state: State::Built, sheet: job.built.clone(), run_in });
    if let Some(found) = &job.found {
        stages.push(Staged { state: State::Found, sheet: found.clone(), run_in });
    }
    let repaired = proposed(diagnosis, plan);
    let still_run_in = run_in && !job.strip_happened();
    let after = job.after.as_ref().map(|over| repaired.overlaid(over));
    stages.push(Staged { state: State::Proposed, sheet: repaired, run_in: still_run_in });
    if let Some(after) = after {
        stages.push(Staged { state: State::After, sheet: after, run_in: still_run_in });
    }
    stages
}

/// Windows of the joints as they will be tightened: the clamp that the proposed state's blows ask for.
pub fn windows(loaded: &Loaded) -> Result<Windows, Error> {
    let mut windows = Windows::new();
    for joint in &loaded.build.joints {
        let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL)?;
        let needed = tight.needed_clamp()?.unwrap_or(Force::ZERO);
        windows.insert(joint.name.clone(), tight.window(needed)?);
    }
    Ok(windows)
}

/// Margins at point values.
pub(crate) fn point_margins(loaded: &Loaded, windows: &Windows, horizon_runs: f64) -> Result<Vec<Margin>, Error> {
    let Loaded { build, bay, peaks } = loaded;
    let friction = JointFriction::NOMINAL;
    LoadPath { build, bay, peaks, windows, horizon_runs, friction, strength: [1.0; 2] }.margins()
}

/// The margins of every stage; with ranges where `ranges` asks for them.
pub fn state_margins(
    job: &Job,
    stages: &[Staged],
    windows: &Windows,
    ranges: Option<&Ranges<'_>>,
    memo: &Memo,
) -> Result<Vec<StateMargins>, Error> {
    let horizon_runs = job.shop.horizon_runs;
    let with_usual_driver = |sheet: &Sheet, run_in: bool| -> Result<Vec<Margin>, Error> {
        let mut sheet = sheet.clone();
        sheet.fields.remove("driver.brake_from_speed");
        sheet.fields.lay(&job.usual_driver);
        point_margins(&Loaded::new(&sheet, run_in, memo)?, windows, horizon_runs)
    };
    let run_in = job.runs_since_gears >= 1.0;
    let stock = with_usual_driver(&job.stock, run_in)?;
    let built = with_usual_driver(&job.built, run_in)?;
    let mut out = Vec::with_capacity(stages.len());
    for stage in stages {
        let loaded = Loaded::new(&stage.sheet, stage.run_in, memo)?;
        let mut margins = point_margins(&loaded, windows, horizon_runs)?;
        if margins.iter().any(Margin::fails) {
            let own = with_usual_driver(&stage.sheet, stage.run_in)?;
            for margin in margins.iter_mut().filter(|margin| margin.fails()) {
                margin.fails_at = Some(fails_at(margin, [&stock, &built, &own]));
            }
        }
        out.push(judge(stage.state, margins, Subject { stage, windows, horizon_runs, memo }, ranges)?);
    }
    Ok(out)
}

fn fails_at(margin: &Margin, [stock, built, own]: [&[Margin]; 3]) -> FailsAt {
    let fails_in = |margins: &[Margin]| margins.iter().any(|other| other.same_place(margin) && other.fails());
    if fails_in(stock) {
        FailsAt::Stock
    } else if fails_in(built) {
        FailsAt::Parts
    } else if fails_in(own) {
        FailsAt::Condition
    } else {
        FailsAt::Driving
    }
}
