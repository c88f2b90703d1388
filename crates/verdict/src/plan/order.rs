//! Bench order: the work by stages with the fewest changes of tools, each part off when it must be, and back on.

use super::{PlanStep, Planner};
use std::collections::BTreeSet;
use toothsayer_fault_book::{Removal, Step};

/// Steps of a stage whose every order is tried; more stay in the book's order.
const MOST_IN_STAGE: usize = 10;

impl Planner<'_> {
    /// The work in the book's order; a part comes off before the first step that needs it off and goes back after the last.
    pub(super) fn bench_order(&self, steps: &[&Step]) -> Vec<PlanStep> {
        let book = self.diagnosis.book;
        let sorted = fewest_changes(steps);
        let steps = &sorted[..];
        let off_for = |steps: &[&Step]| -> Vec<&Removal> {
            book.removals_for(steps.iter().flat_map(|step| step.needs.iter().map(String::as_str)))
        };
        let mut off: Vec<&Removal> = Vec::new();
        let mut order: Vec<PlanStep> = Vec::new();
        for place in 0..=steps.len() {
            let needed: BTreeSet<&str> = off_for(&steps[place..]).iter().map(|part| part.id.as_str()).collect();
            let (stays, back): (Vec<_>, Vec<_>) = off.into_iter().partition(|part| needed.contains(part.id.as_str()));
            order.extend(back.iter().rev().map(|part| self.put_back(part)));
            off = stays;
            let Some(step) = steps.get(place) else { break };
            for part in off_for(std::slice::from_ref(step)) {
                if !off.iter().any(|known| known.id == part.id) {
                    order.push(self.taken_off(part));
                    off.push(part);
                }
            }
            order.push(self.work(step));
        }
        order
    }

    fn cautions(&self, ids: &[String]) -> Vec<String> {
        ids.iter().filter_map(|id| self.diagnosis.book.caution(id)).map(str::to_owned).collect()
    }

    fn taken_off(&self, part: &Removal) -> PlanStep {
        PlanStep {
            id: format!("off {}", part.id),
            name: format!("Take off: {}", part.name),
            what: String::new(),
            minutes: part.off_minutes,
            tools: part.tools.clone(),
            cautions: self.cautions(&part.cautions),
            tightens: None,
            figure: None,
        }
    }

    fn put_back(&self, part: &Removal) -> PlanStep {
        PlanStep {
            id: format!("on {}", part.id),
            name: format!("Put back: {}", part.name),
            minutes: part.on_minutes,
            cautions: self.cautions(&part.cautions_back),
            tightens: part.tightens.clone(),
            figure: part.figure,
            ..self.taken_off(part)
        }
    }

    fn work(&self, step: &Step) -> PlanStep {
        PlanStep {
            id: step.id.clone(),
            name: step.name.clone(),
            what: step.what.clone(),
            minutes: step.minutes,
            tools: step.tools.clone(),
            cautions: self.cautions(&step.cautions),
            tightens: step.tightens.clone(),
            figure: step.figure,
        }
    }
}

/// The steps with those of each stage in the order that changes tools least often; of equal ones the book's.
fn fewest_changes<'a>(steps: &[&'a Step]) -> Vec<&'a Step> {
    let mut sorted: Vec<&Step> = Vec::with_capacity(steps.len());
    for stage in steps.chunk_by(|a, b| a.stage.is_some() && a.stage == b.stage) {
        let before = sorted.last().copied();
        sorted.extend(if stage.len() <= MOST_IN_STAGE { best_order(stage, before) } else { stage.to_vec() });
    }
    sorted
}

/// Tools to be fetched for `step` after `before`.
fn fetched(before: Option<&Step>, step: &Step) -> usize {
    step.tools.iter().filter(|tool| before.is_none_or(|before| !before.tools.contains(tool))).count()
}

/// Least fetching over every order of `stage`, set by set (Held and Karp 1962).
fn best_order<'a>(stage: &[&'a Step], before: Option<&Step>) -> Vec<&'a Step> {
    let count = stage.len();
    let mut best: Vec<Vec<Option<(usize, usize)>>> = vec![vec![None; count]; 1 << count];
    for set in 1..1_usize << count {
        for last in (0..count).filter(|last| set >> last & 1 == 1) {
            let rest = set & !(1 << last);
            let options = (0..count).filter(|place| rest >> place & 1 == 1).filter_map(|place| {
                let (cost, _) = best[rest][place]?;
                Some((cost + fetched(Some(stage[place]), stage[last]), place))
            });
            let first = (rest == 0).then(|| (fetched(before, stage[last]), last));
            best[set][last] = options.chain(first).min_by_key(|(cost, place)| (*cost, std::cmp::Reverse(*place)));
        }
    }
    let mut set = (1 << count) - 1;
    let ends = (0..count).filter_map(|last| Some((best[set][last]?.0, std::cmp::Reverse(last))));
    let mut next = ends.min().map(|(_, std::cmp::Reverse(last))| last);
    let mut order = Vec::with_capacity(count);
    while let Some(last) = next.filter(|last| set >> last & 1 == 1) {
        order.push(stage[last]);
        next = best[set][last].map(|(_, previous)| previous);
        set &= !(1 << last);
    }
    order.reverse();
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use toothsayer_fault_book::FaultBook;

    #[test]
    fn a_tool_is_taken_up_once_in_a_stage() {
        let book = FaultBook::built_in();
        let steps: Vec<&Step> = ["fit-usual-wheels", "lower-brake", "check-tyres", "soften-throttle"]
            .iter()
            .filter_map(|id| book.step(id))
            .collect();
        let sorted = fewest_changes(&steps);
        let ids: Vec<&str> = sorted.iter().map(|step| step.id.as_str()).collect();
        assert_eq!(ids, ["fit-usual-wheels", "check-tyres", "lower-brake", "soften-throttle"]);
    }

    #[test]
    fn steps_of_no_stage_keep_the_books_order() {
        let book = FaultBook::built_in();
        let steps: Vec<&Step> = book.steps().iter().filter(|step| step.stage.is_none()).collect();
        assert_eq!(fewest_changes(&steps).len(), steps.len());
        assert!(fewest_changes(&steps).iter().zip(&steps).all(|(a, b)| a.id == b.id));
    }
}
