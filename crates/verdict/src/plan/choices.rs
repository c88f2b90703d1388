//! What may be cured, and which steps every plan has.

use super::{Choice, Planner};
use toothsayer_evidence::CauseId;
use toothsayer_fault_book::{FaultBook, Step};
use toothsayer_job::Job;

/// Causes less likely than this are not offered to be cured.
const LEAST_PRESENT: f64 = 0.02;
/// From here on a cause counts as certain, and as taking the next set by itself (no source).
const SURE: f64 = 0.8;
const STRIPS: f64 = 0.5;
/// Most cures whose every combination is priced.
const MOST_CHOICES: usize = 16;

impl<'a> Planner<'a> {
    /// Causes worth a cure of their own, the most dangerous first.
    pub(super) fn choices(&self) -> Vec<Choice<'a>> {
        let book = self.diagnosis.book;
        let places = book.causes().iter().enumerate();
        let mut choices: Vec<Choice<'a>> = places
            .filter(|(place, _)| !self.always_cured.contains(CauseId(*place)))
            .filter(|(place, _)| self.diagnosis.causes[*place].present >= LEAST_PRESENT)
            .map(|(place, cause)| Choice { place, cause })
            .collect();
        let urgency = |choice: &Choice<'_>| {
            let seen = if self.is_seen(choice) { 1.0 } else { 0.0 };
            seen + self.diagnosis.causes[choice.place].next_set
        };
        choices.sort_by(|a, b| urgency(b).total_cmp(&urgency(a)));
        choices.truncate(MOST_CHOICES);
        choices
    }

    /// Whether every plan of this job has the step.
    pub(super) fn is_wanted(&self, step: &Step) -> bool {
        is_wanted(step, self.diagnosis.book, self.job)
    }

    pub(super) fn is_seen(&self, choice: &Choice<'a>) -> bool {
        self.diagnosis.seen.contains(CauseId(choice.place))
    }

    /// The choices that no sound repair leaves out: what was found broken is replaced, and what would surely take the
    /// next set is cured.
    pub(super) fn needed(&self, choices: &[Choice<'a>]) -> usize {
        let is_needed = |choice: &Choice<'a>| self.is_seen(choice) || self.surely_strips(choice);
        choices.iter().enumerate().filter(|(_, choice)| is_needed(choice)).map(|(bit, _)| 1 << bit).sum()
    }

    /// A cause that is as good as certain and more likely than not takes the next set by itself; what only a driver can
    /// change is advice, and no repair stands or falls with it.
    fn surely_strips(&self, choice: &Choice<'a>) -> bool {
        let verdict = &self.diagnosis.causes[choice.place];
        let of_driver = |input: &str| input.starts_with("driver.");
        let advice = choice.cause.absent.iter().filter_map(|change| change.input()).any(of_driver);
        !advice && verdict.present >= SURE && verdict.next_set >= STRIPS * verdict.present
    }
}

/// Whether every plan of this job has the step: the book's always, its complaint's, and a new truck's.
pub(super) fn is_wanted(step: &Step, book: &FaultBook, job: &Job) -> bool {
    let plans = book.plans();
    let new = !job.strip_happened() && job.runs_since_gears == 0.0;
    let complaint = book.complaint(&job.complaint).into_iter().flat_map(|complaint| &complaint.steps);
    let new_truck = plans.new_truck.iter().filter(|_| new);
    plans.always.iter().chain(complaint).chain(new_truck).any(|id| *id == step.id)
}
