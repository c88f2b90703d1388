//! What a combination of cures costs and risks.

use super::tariff::Tariff;
use super::{Choice, Planner, Priced};
use crate::Error;
use std::collections::BTreeSet;
use toothsayer_evidence::{CauseId, CauseSet, Modes, Outlook};
use toothsayer_fault_book::{FaultBook, Step};

impl<'a> Planner<'a> {
    /// Price and chance of a comeback of every combination of the choices, what is always cured taken away first.
    pub(super) fn price_all(&self, choices: &[Choice<'a>]) -> Result<Vec<Priced>, Error> {
        let comebacks = self.outlook(&self.diagnosis.ahead, choices)?.failures(&self.diagnosis.belief);
        let prices = Tariff::new(self, choices).prices();
        Ok(prices.into_iter().zip(comebacks).map(|(price, comeback)| Priced { price, comeback }).collect())
    }

    /// How likely some sets of choices come back, were every blow at the low and at the high end.
    pub(super) fn comeback_ends(&self, choices: &[Choice<'a>], sets: &[usize]) -> Result<Vec<[f64; 2]>, Error> {
        let [low, high] = &self.diagnosis.ahead_ends;
        let at = |end| Ok::<_, Error>(self.outlook(end, choices)?.failures_of(&self.diagnosis.belief, sets));
        Ok(at(low)?.into_iter().zip(at(high)?).map(|(low, high)| [low, high]).collect())
    }

    /// The chances of modes once choices are made.
    pub(super) fn outlook(&self, modes: &Modes, choices: &[Choice<'a>]) -> Result<Outlook, Error> {
        let cures: Vec<CauseSet> = choices.iter().map(|choice| CauseSet::only(CauseId(choice.place))).collect();
        Ok(Outlook::new(&self.diagnosis.belief, modes, self.always_cured, &cures)?)
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
        once(book, steps.filter(|step| self.is_wanted(step) || cures.contains(step.id.as_str())).collect())
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
