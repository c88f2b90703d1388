//! What would change the ranking: open checks, and where each answer would leave a cause.

use crate::Error;
use crate::diagnosis::{Diagnosis, shown};
use toothsayer_evidence::{CauseId, CauseSet, FindingId, Posterior};

/// Most causes at the head of the ranking whose order is compared.
pub const FIRST_CAUSES: usize = 3;
/// A cause that matters less than this stands at no head of a ranking (this project's choice).
const LEAST_CONCERN: f64 = 0.05;
/// Open checks whose ranking after each answer is worked out.
const MOST_TURNS: usize = 6;
/// A mean move of the probability below this is none that anybody would tell (this project's choice).
const LEAST_MOVE: f64 = 0.005;

/// Where an answer would leave a cause.
#[derive(Clone, Debug, PartialEq)]
pub struct After {
    /// P(cause present) then.
    pub present: f64,
    /// The causes that would then come first, as far as they matter.
    pub first: Vec<String>,
    /// Whether these are other ones, or in another order, than now.
    pub reorders: bool,
}

/// An open check that would move a cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The check.
    pub check: String,
    /// P(yes).
    pub yes: f64,
    /// After "yes"; none where that cannot be.
    pub after_yes: Option<After>,
    /// After "no"; none where that cannot be.
    pub after_no: Option<After>,
    /// Mean move of P(cause present), up or down, by the answer.
    pub moves: f64,
}

/// The open checks that would move a cause, the one that would move it most first.
pub(super) fn turns(diagnosis: &Diagnosis<'_>, place: usize) -> Result<Vec<Turn>, Error> {
    let now = diagnosis.belief.present(CauseId(place));
    let mean_move = |(yes, after_yes, after_no): &(f64, Option<_>, Option<_>)| {
        let off = |belief: &Option<toothsayer_evidence::Belief>| {
            belief.as_ref().map_or(0.0, |belief| (belief.present(CauseId(place)) - now).abs())
        };
        yes * off(after_yes) + (1.0 - yes) * off(after_no)
    };
    let mut rated: Vec<(f64, usize)> = diagnosis.answered.iter().map(mean_move).zip(0..).collect();
    rated.retain(|(moves, _)| *moves >= LEAST_MOVE);
    rated.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    rated.truncate(MOST_TURNS);
    let mut turns: Vec<Turn> =
        rated.into_iter().map(|(_, open)| turn(diagnosis, place, open)).collect::<Result<_, Error>>()?;
    turns.sort_by(|a, b| b.moves.total_cmp(&a.moves));
    Ok(turns)
}

fn turn(diagnosis: &Diagnosis<'_>, place: usize, open: usize) -> Result<Turn, Error> {
    let (yes, after_yes, after_no) = &diagnosis.answered[open];
    let finding = FindingId(diagnosis.open[open].place);
    let after =
        |possible: bool, answer: bool| possible.then(|| after(diagnosis, CauseId(place), finding, answer)).transpose();
    let (after_yes, after_no) = (after(after_yes.is_some(), true)?, after(after_no.is_some(), false)?);
    let now = diagnosis.belief.present(CauseId(place));
    let off = |after: &Option<After>| after.as_ref().map_or(0.0, |after| (after.present - now).abs());
    let moves = yes * off(&after_yes) + (1.0 - yes) * off(&after_no);
    Ok(Turn { check: diagnosis.open[open].id.clone(), yes: *yes, after_yes, after_no, moves })
}

fn first_now(diagnosis: &Diagnosis<'_>) -> Vec<String> {
    let concerns = diagnosis.causes.iter().map(|cause| diagnosis.concern(cause.mattered, cause.next_set));
    first(diagnosis, concerns.collect())
}

/// The head of the ranking by what causes are ranked by, in the book's order.
fn first(diagnosis: &Diagnosis<'_>, concerns: Vec<f64>) -> Vec<String> {
    let mut order: Vec<(f64, usize)> = concerns.into_iter().zip(0..).collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0));
    let head = order.into_iter().take_while(|(concern, _)| *concern >= LEAST_CONCERN).take(FIRST_CAUSES);
    head.map(|(_, place)| diagnosis.book.causes()[place].id.clone()).collect()
}

/// Where one more answer would leave a cause, by an inference of its own, the build as it is.
fn after(diagnosis: &Diagnosis<'_>, cause: CauseId, finding: FindingId, answer: bool) -> Result<After, Error> {
    let evidence = diagnosis.evidence.clone().with(finding, answer);
    let posterior = Posterior::new(&diagnosis.network, evidence)?;
    let by_answer = if answer { shown(diagnosis.book, &diagnosis.book.findings()[finding.0]) } else { CauseSet::EMPTY };
    let belief = posterior.belief().with_present(diagnosis.seen.union(by_answer));
    let concern = |(place, mattered): (usize, f64)| {
        let next_set = belief.present(CauseId(place)) * diagnosis.ahead.alone(CauseId(place));
        diagnosis.concern(mattered, next_set)
    };
    let first = first(diagnosis, posterior.mattered().into_iter().enumerate().map(concern).collect());
    let reorders = first != first_now(diagnosis);
    Ok(After { present: belief.present(cause), first, reorders })
}
