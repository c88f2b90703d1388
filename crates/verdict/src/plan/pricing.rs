//! What a combination of cures costs and risks.

use super::choices::is_wanted;
use super::{Choice, Planner, Priced};
use crate::Error;
use std::collections::BTreeSet;
use toothsayer_evidence::{Belief, CauseId, CauseSet};
use toothsayer_fault_book::{FaultBook, Step};
use toothsayer_quantity::Money;

impl<'a> Planner<'a> {
    pub(super) fn price_all(&self, choices: &[Choice<'a>], belief: &Belief) -> Result<Vec<Priced>, Error> {
        let comebacks = self.comebacks(choices, belief)?;
        let priced = |(set, comeback): (usize, f64)| Priced { price: self.price(set, choices), comeback };
        Ok(comebacks.into_iter().enumerate().map(priced).collect())
    }

    /// Chance of a comeback for every combination of the choices, what is always cured taken away first.
    pub(super) fn comebacks(&self, choices: &[Choice<'a>], belief: &Belief) -> Result<Vec<f64>, Error> {
        let cures: Vec<CauseSet> = choices.iter().map(|choice| CauseSet::only(CauseId(choice.place))).collect();
        Ok(belief.failures(&self.diagnosis.ahead, self.always_cured, &cures)?)
    }

    pub(super) fn steps(&self, set: usize, choices: &[Choice<'a>]) -> Vec<&'a Step> {
        let book = self.diagnosis.book;
        let cures: BTreeSet<&str> = choices
            .iter()
            .enumerate()
            .filter(|(bit, _)| set >> bit & 1 == 1)
            .flat_map(|(_, choice)| choice.cause.cured_by.iter().map(String::as_str))
            .collect();
        let steps = book.steps().iter();
        once(book, steps.filter(|step| is_wanted(step, book, self.job) || cures.contains(step.id.as_str())).collect())
    }

    pub(super) fn price(&self, set: usize, choices: &[Choice<'a>]) -> Money {
        let steps = self.steps(set, choices);
        let labour = self.job.shop.labour_rate.for_minutes(self.minutes(&steps));
        let parts = steps.iter().flat_map(|step| &step.parts).filter_map(|name| self.part(name).price);
        Money { minor: labour.minor + parts.map(|price| price.minor).sum::<i64>(), ..labour }
    }

    pub(super) fn minutes(&self, steps: &[&Step]) -> f64 {
        let needs = steps.iter().flat_map(|step| step.needs.iter().map(String::as_str));
        let off = self.diagnosis.book.removals_for(needs);
        let moving: f64 = off.iter().map(|removal| removal.off_minutes + removal.on_minutes).sum();
        moving + steps.iter().map(|step| step.minutes).sum::<f64>()
    }
}

/// The steps without those that only tighten a joint which putting a part back tightens anyway.
fn once<'a>(book: &'a FaultBook, steps: Vec<&'a Step>) -> Vec<&'a Step> {
    let others = |left_out: &Step| {
        let needs = steps.iter().filter(|step| step.id != left_out.id);
        book.removals_for(needs.flat_map(|step| step.needs.iter().map(String::as_str)))
    };
    let again =
        |step: &Step| step.tightens.is_some() && others(step).iter().any(|removal| removal.tightens == step.tightens);
    steps.iter().copied().filter(|step| !again(step)).collect()
}
