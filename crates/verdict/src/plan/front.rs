//! Which combinations stand out, and what a check is worth.

use super::{Choice, Planner, Priced};
use crate::Error;
use crate::diagnosis::{OpenCheck, Told};
use rayon::prelude::*;
use toothsayer_evidence::Belief;
use toothsayer_job::Job;
use toothsayer_quantity::Money;

/// A repair that comes back more likely than not is not sound to sell.
const EVEN_ODDS: f64 = 0.5;
/// Chances of a comeback closer than this count as equal.
const SAME_CHANCE: f64 = 0.002;

/// Combinations that no other beats in price and chance, cheapest first.
pub(super) fn front(priced: &[Priced]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..priced.len()).collect();
    order.sort_by(|a, b| {
        let (a, b) = (&priced[*a], &priced[*b]);
        a.price.minor.cmp(&b.price.minor).then(a.comeback.total_cmp(&b.comeback))
    });
    let mut least = f64::MAX;
    order.retain(|set| {
        let better = priced[*set].comeback < least - SAME_CHANCE;
        least = if better { priced[*set].comeback } else { least };
        better
    });
    order
}

impl<'a> Planner<'a> {
    /// Expected drop in the cost of the best of some combinations, less the labour of looking, for each open check.
    pub(super) fn worths(&self, choices: &[Choice<'a>], priced: &[Priced], of: &[usize]) -> Result<Vec<Money>, Error> {
        let comeback_minor = self.job.shop.comeback_cost.minor as f64;
        let diagnosis = self.diagnosis;
        let outlook = self.outlook(&diagnosis.ahead, choices)?;
        let least = |belief: &Belief| -> f64 {
            let cost = |(set, chance): (&usize, f64)| priced[*set].price.minor as f64 + chance * comeback_minor;
            of.iter().zip(outlook.failures_of(belief, of)).map(cost).fold(f64::MAX, f64::min)
        };
        let blind = least(&diagnosis.belief);
        let worth = |(check, (yes, after_yes, after_no)): (&OpenCheck, &Told)| {
            let after = |belief: &Option<Belief>| belief.as_ref().map_or(blind, &least);
            let informed = yes * after(after_yes) + (1.0 - yes) * after(after_no);
            let labour = self.job.shop.labour_rate.for_minutes(check.minutes);
            Money { minor: (blind - informed).round() as i64 - labour.minor, ..labour }
        };
        Ok(diagnosis.open.par_iter().zip(&diagnosis.answered).map(worth).collect())
    }
}

/// Least price among the sets that hold `needed` and come back less likely than not; of none such, among all that hold it.
pub(super) fn smallest_sound(priced: &[Priced], needed: usize) -> usize {
    let holding = || priced.iter().enumerate().filter(|(set, _)| set & needed == needed);
    let cheapest = |most: f64| {
        let sets = holding().filter(|(_, priced)| priced.comeback < most);
        sets.min_by(|(_, a), (_, b)| a.price.minor.cmp(&b.price.minor).then(a.comeback.total_cmp(&b.comeback)))
    };
    cheapest(EVEN_ODDS).or_else(|| cheapest(f64::INFINITY)).map_or(needed, |(set, _)| set)
}

/// Least expected total cost among the sets that hold `needed`: price and the comeback's chance times its cost.
pub(super) fn best(priced: &[Priced], needed: usize, job: &Job) -> usize {
    let cost = |priced: &Priced| priced.price.minor as f64 + priced.comeback * job.shop.comeback_cost.minor as f64;
    let sets = priced.iter().enumerate().filter(|(set, _)| set & needed == needed);
    sets.min_by(|a, b| cost(a.1).total_cmp(&cost(b.1))).map_or(needed, |(set, _)| set)
}

/// Least chance of a comeback among the sets that hold `needed`; of equal ones the cheapest.
pub(super) fn sturdiest(priced: &[Priced], needed: usize) -> usize {
    let sets = || priced.iter().enumerate().filter(|(set, _)| set & needed == needed);
    let least = sets().map(|(_, priced)| priced.comeback).fold(f64::MAX, f64::min);
    let equal = sets().filter(|(_, priced)| priced.comeback <= least + SAME_CHANCE);
    equal.min_by_key(|(_, priced)| priced.price.minor).map_or(needed, |(set, _)| set)
}
