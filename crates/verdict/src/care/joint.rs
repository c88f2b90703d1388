//! A joint in the care plan: how long its clamp lasts, and when it is tightened again.

use super::{CareAsk, CareItem, CareTask, Due, LONGEST_RUNS};
use crate::Error;
use crate::joint::{JointFriction, TightJoint};
use toothsayer_job::Joint;
use toothsayer_mechanics::screw::{TorqueVerdict, Window};
use toothsayer_quantity::{Force, Torque};

/// Share of the clamp lost in the first run from which the joint is tightened again after it (this project's choice).
const SETTLES: f64 = 0.1;

/// A joint with its clamp over the runs.
#[derive(Clone, Debug, PartialEq)]
pub struct JointCare {
    /// Its name.
    pub name: String,
    /// Whether it carries the motor: its screws are tried after every run, as they are found loose most often (common
    /// practice, no source).
    pub holds_motor: bool,
    /// Whether its screws are driven into plastic: by hand, without locker.
    pub plastic: bool,
    /// Whether the repair leaves it as loose as it was found.
    pub left_loose: bool,
    /// The torque it is set to: as the truck has it where that lies in the window and outlasts the first run, else what
    /// is aimed at.
    pub torque: Torque,
    /// Whether that is the window's upper end: less would not outlast the first run.
    pub upper_end: bool,
    /// The torque that the work was measured to have left, where that is another one: it is not enough, or too much.
    pub left_at: Option<Torque>,
    /// The window; none where no torque both clamps enough and spares the weakest part.
    pub window: Option<[Torque; 2]>,
    /// Clamp that each screw must keep.
    pub needed: Force,
    /// Clamp of one screw as tightened.
    pub fresh: Force,
    /// Clamp of one screw after 1, 2, 5, 20 and 50 runs, untouched.
    pub over_runs: Vec<(f64, Force)>,
    /// The last run after which enough clamp is left, untouched, up to [`LONGEST_RUNS`]; none where it is not enough as
    /// tightened.
    pub lasts: Option<u32>,
    /// The same in runs after the next tightening.
    pub lasts_again: Option<u32>,
}

impl JointCare {
    /// Whether it keeps what it needs for as long as anybody counts.
    pub fn lasts_long(&self) -> bool {
        self.lasts == Some(LONGEST_RUNS)
    }

    /// Clamp after the first run as a share of the clamp as tightened.
    pub fn kept_by_first_run(&self) -> f64 {
        let after = self.over_runs.first().map_or(Force::ZERO, |(_, clamp)| *clamp);
        if self.fresh > Force::ZERO { after / self.fresh } else { 0.0 }
    }
}

/// The line of a joint whose needed clamp is known; none for the others.
pub(super) fn item(joint: &Joint, ask: &CareAsk<'_>) -> Result<Option<CareItem>, Error> {
    let loaded = ask.loaded;
    let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL)?;
    let Some((window, needed)) = ask.windows.get(&joint.name).zip(tight.needed_clamp()?) else { return Ok(None) };
    let torque = set_to(&tight, window, needed)?;
    let mut care = JointCare {
        name: joint.name.clone(),
        holds_motor: joint.carries == "motor",
        plastic: tight.into_plastic()?,
        left_loose: joint.free,
        torque,
        left_at: Some(tight.torque(window)).filter(|own| ask.done && *own != torque),
        upper_end: window.is_open() && torque == window.high,
        window: window.is_open().then_some([window.low, window.high]),
        needed,
        fresh: tight.preload(torque)?,
        over_runs: tight.clamp_over_runs(torque)?,
        lasts: last_above(needed, |runs| tight.clamp_after(torque, runs))?,
        lasts_again: None,
    };
    let first = first(&care);
    care.lasts_again = last_above(needed, |runs| tight.clamp_after_again(torque, f64::from(first), runs))?;
    let due = due(&care, first);
    Ok(Some(CareItem { due, task: CareTask::Joint(care) }))
}

/// The torque that the work leaves.
fn set_to(tight: &TightJoint<'_>, window: &Window, needed: Force) -> Result<Torque, Error> {
    let own = tight.torque(window);
    let lasts = window.judge(own) == TorqueVerdict::Within && tight.clamp_after(own, 1.0)? >= needed;
    if lasts { Ok(own) } else { aim(tight, window, needed) }
}

/// The torque to aim at: the window's middle, or its upper end where the middle does not outlast the first run.
pub fn aim(tight: &TightJoint<'_>, window: &Window, needed: Force) -> Result<Torque, Error> {
    if !window.is_open() {
        return Ok(tight.torque(window));
    }
    let lasts = tight.clamp_after(window.middle(), 1.0)? >= needed;
    Ok(if lasts { window.middle() } else { window.high })
}

/// The last of whole runs, up to the longest interval, after which the clamp is still the needed one.
fn last_above(needed: Force, clamp: impl Fn(f64) -> Result<Force, Error>) -> Result<Option<u32>, Error> {
    let mut last = None;
    for run in 0..=LONGEST_RUNS {
        if clamp(f64::from(run))? < needed {
            break;
        }
        last = Some(run);
    }
    Ok(last)
}

/// The first tightening: after the first run where it settles, else before its clamp falls short.
fn first(care: &JointCare) -> u32 {
    if care.kept_by_first_run() <= 1.0 - SETTLES { 1 } else { care.lasts.unwrap_or(0).max(1) }
}

/// Every run for the motor's screws and for what nothing holds, else as often as the clamp asks for.
fn due(care: &JointCare, first: u32) -> Due {
    if care.holds_motor || care.left_loose || care.window.is_none() {
        return Due::first_and_every(1);
    }
    // What lasts from the first tightening and what lasts from the next: the shorter one spaces them.
    let again = care.lasts_again.unwrap_or(0).max(1);
    let every = if first == 1 { again } else { again.min(first) };
    Due { first, every: Some(every) }
}
