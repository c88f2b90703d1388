//! A combination's least margin: from all of its margins, or quickly from what its hardest blow and its runs decide.

use crate::Error;
use crate::bearings;
use crate::joint::TightJoint;
use crate::load_path::LoadPath;
use crate::margin::{Limit, Margin};
use crate::peaks::CasePeaks;
use toothsayer_mechanics::gear::Member;

/// Limits that no combination of the space moves: they tell nothing of it.
const UNMOVED: [Limit; 4] = [Limit::Overlap, Limit::Gap, Limit::Pitch, Limit::Strip];

/// The least margin, and the least of those that the combinations move.
#[derive(Clone, Debug)]
pub(super) struct Score {
    pub(super) least: Margin,
    pub(super) moved: Margin,
    /// The least of those of a single blow.
    pub(super) blow: f64,
}

impl Score {
    pub(super) fn least(&self) -> f64 {
        value(&self.least)
    }

    pub(super) fn moved(&self) -> f64 {
        value(&self.moved)
    }
}

fn value(margin: &Margin) -> f64 {
    margin.margin.unwrap_or(f64::INFINITY)
}

/// The score of some margins; none where nothing counts.
pub(super) fn scored(margins: &[Margin]) -> Option<Score> {
    let counted = || margins.iter().filter(|margin| margin.counts() && margin.margin.is_some());
    let least = counted().min_by(|a, b| value(a).total_cmp(&value(b)))?;
    let moving = counted().filter(|margin| !UNMOVED.contains(&margin.limit));
    let moved = moving.min_by(|a, b| value(a).total_cmp(&value(b))).unwrap_or(least);
    let blow = counted().filter(|margin| margin.case != "any").map(value).fold(f64::INFINITY, f64::min);
    Some(Score { least: least.clone(), moved: moved.clone(), blow })
}

/// Every counted margin that can be the least one, the motor's heat aside: each of those that fall with the tooth force
/// under the hardest blow alone.
pub(super) fn quick(path: &LoadPath<'_>) -> Result<Vec<Margin>, Error> {
    let hardest = path.peaks.iter().max_by(|a, b| a.hardest().force_n.total_cmp(&b.hardest().force_n));
    let hardest: Vec<CasePeaks> = hardest.cloned().into_iter().collect();
    let LoadPath { build, bay, windows, horizon_runs, friction, strength, .. } = *path;
    let under = LoadPath { build, bay, peaks: &hardest, windows, horizon_runs, friction, strength };
    let mut out = Vec::with_capacity(24);
    for (member, name) in [(Member::Pinion, "pinion"), (Member::Spur, "spur")] {
        let bears_pa = path.root_strength_pa(member)?;
        for (case, force_n) in under.each() {
            out.push(Margin::new(name, Limit::Root, case, path.root_stress_pa(member, force_n)?, bears_pa));
        }
        out.push(path.endurance(member, name, horizon_runs)?);
    }
    under.mesh(&mut out)?;
    under.stack(&mut out);
    under.shaft(&mut out)?;
    under.set_screw(&mut out)?;
    bearings::margins(&under, &mut out)?;
    for joint in &build.joints {
        path.joint(&TightJoint::new(joint, build, path.peaks, friction)?, &mut out)?;
    }
    Ok(out)
}
