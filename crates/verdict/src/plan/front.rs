//! Which combinations stand out, and what a check is worth.

use super::{Choice, FrontPoint, Planner, Priced};
use crate::Error;
use toothsayer_evidence::{Belief, CauseId, CauseSet, Outlook};
use toothsayer_job::Job;
use toothsayer_quantity::Money;

/// Cures beyond this many are left out when the worth of a check is computed.
const MOST_CHOICES_OF_WORTH: usize = 6;
/// Chances of a comeback closer than this count as equal.
const SAME_CHANCE: f64 = 0.002;

impl<'a> Planner<'a> {
    pub(super) fn front(&self, choices: &[Choice<'a>], priced: &[Priced]) -> Vec<FrontPoint> {
        let mut order: Vec<usize> = (0..priced.len()).collect();
        order.sort_by(|a, b| {
            let (a, b) = (&priced[*a], &priced[*b]);
            a.price.minor.cmp(&b.price.minor).then(a.comeback.total_cmp(&b.comeback))
        });
        let mut least = f64::MAX;
        let mut front = Vec::new();
        for set in order {
            if priced[set].comeback < least - SAME_CHANCE {
                least = priced[set].comeback;
                let (price, comeback) = (priced[set].price, priced[set].comeback);
                front.push(FrontPoint { price, comeback, cures: self.cures(set, choices) });
            }
        }
        front
    }

    /// Expected drop in the cost of the best alternative, less the labour of looking, for each open check.
    pub(super) fn worths(&self, choices: &[Choice<'a>], now: &Priced) -> Result<Vec<Money>, Error> {
        let few = &choices[..choices.len().min(MOST_CHOICES_OF_WORTH)];
        let prices: Vec<Money> = (0..1 << few.len()).map(|set| self.price(set, few)).collect();
        let comeback_minor = self.job.shop.comeback_cost.minor as f64;
        let cures: Vec<CauseSet> = few.iter().map(|choice| CauseSet::only(CauseId(choice.place))).collect();
        let diagnosis = self.diagnosis;
        let outlook = Outlook::new(&diagnosis.belief, &diagnosis.ahead, self.always_cured, &cures)?;
        let least = |belief: &Belief| -> f64 {
            let cost = |(price, chance): (&Money, f64)| price.minor as f64 + chance * comeback_minor;
            prices.iter().zip(outlook.failures(belief)).map(cost).fold(f64::MAX, f64::min)
        };
        let blind = least(&self.diagnosis.belief).min(now.price.minor as f64 + now.comeback * comeback_minor);
        let mut worths = Vec::with_capacity(self.diagnosis.open.len());
        for (check, (yes, after_yes, after_no)) in self.diagnosis.open.iter().zip(&self.diagnosis.answered) {
            let after = |belief: &Option<Belief>| belief.as_ref().map_or(blind, &least);
            let informed = yes * after(after_yes) + (1.0 - yes) * after(after_no);
            let labour = self.job.shop.labour_rate.for_minutes(check.minutes);
            let minor = (blind - informed).round() as i64 - labour.minor;
            worths.push(Money { minor, ..labour });
        }
        Ok(worths)
    }
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
