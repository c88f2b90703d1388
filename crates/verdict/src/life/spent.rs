//! What each case of the driver spends of the teeth's life.

use super::strikes::{CaseStrikes, Strike};
use super::survival::sets;
use crate::roots::Roots;
use toothsayer_mechanics::driveline::Case;

/// One case's part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spent {
    /// The case.
    pub case: Case,
    /// Times a run.
    pub per_run: f64,
    /// Largest tooth force of a usual event, N: the median of those drawn.
    pub usual_n: f64,
    /// Largest tooth force of the hardest event drawn, N.
    pub hardest_n: f64,
    /// Share of a run's damage, of pinion and spur; 0 where nothing tires.
    pub damage_share: [f64; 2],
    /// Chance that a run has one that breaks a tooth of either gear at once, over the scatter of strength.
    pub breaks_per_run: f64,
}

/// Every case's part: what breaks most comes first, then what tires most.
pub(super) fn spent(cases: &[CaseStrikes], roots: &Roots, seed: u32) -> Vec<Spent> {
    let whole = [0, 1].map(|gear| cases.iter().map(|case| case.damage_per_run(roots, gear, 1.0)).sum::<f64>());
    let strengths = sets(roots, seed);
    let part = |case: &CaseStrikes| {
        let share = |gear: usize| {
            if whole[gear] > 0.0 { case.damage_per_run(roots, gear, 1.0) / whole[gear] } else { 0.0 }
        };
        let broken = |strength: &[f64; 2]| {
            let breaks = |strike: &Strike| (0..2).any(|gear| strike.over_strength[gear] > strength[gear]);
            1.0 - (1.0 - case.share(&breaks)).powf(case.per_run)
        };
        let mut forces_n: Vec<f64> = case.strikes.iter().map(|strike| strike.force_n).collect();
        forces_n.sort_by(f64::total_cmp);
        Spent {
            case: case.case,
            per_run: case.per_run,
            usual_n: forces_n.get(forces_n.len() / 2).copied().unwrap_or_default(),
            hardest_n: forces_n.last().copied().unwrap_or_default(),
            damage_share: [share(0), share(1)],
            breaks_per_run: strengths.iter().map(broken).sum::<f64>() / strengths.len().max(1) as f64,
        }
    };
    let mut parts: Vec<Spent> = cases.iter().map(part).collect();
    let tires = |part: &Spent| part.damage_share[0].max(part.damage_share[1]);
    parts.sort_by(|a, b| b.breaks_per_run.total_cmp(&a.breaks_per_run).then_with(|| tires(b).total_cmp(&tires(a))));
    parts
}
