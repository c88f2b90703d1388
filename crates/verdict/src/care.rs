//! The care plan: what to look at again, after which run, and why.

use crate::Error;
use crate::joint::{JointFriction, TightJoint};
use crate::load_path::Windows;
use crate::states::Loaded;
use toothsayer_mechanics::screw::Window;
use toothsayer_quantity::{Force, Torque};

/// One line of the care plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Care {
    /// When, in words.
    pub when: String,
    /// What, in words.
    pub what: String,
    /// Why, in words.
    pub why: String,
    /// Torque window, where a joint is tightened.
    pub window: Option<(Torque, Torque)>,
}

/// Longest interval that is told as such, runs.
const LONGEST_RUNS: u32 = 50;

/// The care plan of a build whose joints are tightened within their windows.
pub fn care(loaded: &Loaded, windows: &Windows) -> Result<Vec<Care>, Error> {
    let mut lines = vec![Care {
        when: "after the first run".into(),
        what: "every screw on plastic once more by hand, and the wheel nuts".into(),
        why: "embedding and creep take most of their clamp in the first run (common practice, no source)".into(),
        window: None,
    }];
    for joint in &loaded.build.joints {
        let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL)?;
        let Some(window) = windows.get(&joint.name) else { continue };
        let ends = window.is_open().then_some((window.low, window.high));
        let Some(needed) = tight.needed_clamp()? else { continue };
        let torque = aim(&tight, window, needed)?;
        let mut last = None;
        for runs in 0..=LONGEST_RUNS {
            if tight.clamp_after(torque, f64::from(runs))? < needed {
                break;
            }
            last = Some(runs);
        }
        lines.push(line(joint, last, ends, tight.into_plastic()?));
    }
    Ok(lines)
}

fn every(runs: u32) -> String {
    if runs == 1 { "after every run".into() } else { format!("every {runs} runs") }
}

/// The torque to aim at: the window's middle, or its upper end where the middle does not outlast the first run.
pub fn aim(tight: &TightJoint<'_>, window: &Window, needed: Force) -> Result<Torque, Error> {
    if !window.is_open() {
        return Ok(tight.torque(window));
    }
    let lasts = tight.clamp_after(window.middle(), 1.0)? >= needed;
    Ok(if lasts { window.middle() } else { window.high })
}

fn line(joint: &toothsayer_job::Joint, last: Option<u32>, window: Option<(Torque, Torque)>, plastic: bool) -> Care {
    let every_run = joint.carries == "motor";
    let (when, why) = match last {
        _ if every_run => (
            "after every run".to_owned(),
            "the two screws that hold the motor are found loose most often (common practice, no source)".to_owned(),
        ),
        None => (
            "after every run".to_owned(),
            "its window does not give the clamp that it needs: change the joint".to_owned(),
        ),
        Some(runs) if runs >= LONGEST_RUNS => {
            (format!("every {LONGEST_RUNS} runs"), "its clamp stays above what it needs".to_owned())
        }
        Some(runs) => (every(runs.max(1)), "then its clamp falls to what it needs".to_owned()),
    };
    let hand = if plastic { ", by hand" } else { "" };
    Care { when, what: format!("{}{hand}", joint.name), why, window }
}
