//! What is drawn of each visit before anything is written: when, what was wrong, what was seen, agreed and done.

use crate::calendar::DAYS;
use crate::nature::Nature;
use crate::stages::Stage;
use std::collections::BTreeMap;
use toothsayer_evidence::{Drawn, Network};
use toothsayer_fault_book::{FaultBook, Step};

/// How many jobs the shop has had.
pub const JOBS: usize = 120;
/// Trucks that come to it; some come often.
pub(crate) const TRUCKS: usize = 52;
/// Share of the visits at which the teeth went; the others are looked over.
const STRIPPED: f64 = 0.8;
/// Chance that a check of the book was made.
const LOOKED: f64 = 0.35;
/// Share of the customers that agree, and of those the ones who have the causes cured too.
const AGREES: f64 = 0.88;
/// Of those who agree.
const CURES: f64 = 0.65;
/// Longest time until a truck comes back, working days.
const COMES_BACK_WITHIN: i64 = 60;
/// How many of the last visits are still under way.
const UNDER_WAY: usize = 7;

/// How a visit ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The customer wanted nothing done.
    Declined,
    /// New gears, and the causes stay.
    GearsOnly,
    /// New gears, and what was wrong is cured.
    Cured,
    /// Looked over, nothing to do.
    LookedOver,
}

/// One visit of one truck.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Which truck.
    pub truck: usize,
    /// The visit that it comes back from, by its place in the list.
    pub comeback_of: Option<usize>,
    /// The working day.
    pub day: i64,
    /// What the customer comes with, in the book's word.
    pub complaint: &'static str,
    /// Which causes are there, by their place in the network. Nobody at the bench knows.
    pub causes: Vec<bool>,
    /// The checks that were made, by their place in the network, with what they showed.
    pub seen: Vec<(usize, bool)>,
    /// How it ends.
    pub end: End,
    /// How far it is: stages that are done, all of them where it is over.
    pub stages: usize,
    /// Actual over planned minutes.
    pub pace: f64,
}

/// Every visit of two years, by day.
pub fn visits(nature: &Nature, seed: u64) -> Vec<Visit> {
    let mut dice = fastrand::Rng::with_seed(seed);
    let mut due: BTreeMap<(i64, usize), (usize, Option<usize>)> = BTreeMap::new();
    for place in 0..JOBS {
        due.insert((dice.i64(0..DAYS - 5), place), (dice.usize(0..TRUCKS), None));
    }
    let mut done: Vec<Visit> = Vec::new();
    while let Some(((day, _), (truck, comeback_of))) = due.pop_first() {
        let visit =
            drawn(nature, &mut dice, Came { truck, comeback_of, day, before: comeback_of.and_then(|at| done.get(at)) });
        if let Some(day) = comes_back(nature, &visit, &mut dice) {
            due.insert((day, JOBS + done.len()), (truck, Some(done.len())));
        }
        done.push(visit);
    }
    cut(done)
}

/// The first of them, with the last ones still under way. A visit points at an earlier one alone, so none is left behind.
fn cut(mut visits: Vec<Visit>) -> Vec<Visit> {
    visits.truncate(JOBS);
    let first = visits.len().saturating_sub(UNDER_WAY);
    for (stages, visit) in visits[first..].iter_mut().enumerate() {
        let last = Stage::of(visit.end).len() - 2;
        visit.stages = (UNDER_WAY - 1 - stages).min(last);
    }
    visits
}

/// Who came.
struct Came<'a> {
    truck: usize,
    comeback_of: Option<usize>,
    day: i64,
    before: Option<&'a Visit>,
}

fn drawn(nature: &Nature, dice: &mut fastrand::Rng, came: Came<'_>) -> Visit {
    let stripped = came.before.is_some() || dice.f64() < STRIPPED;
    // What was left in the truck is still there.
    let left = came.before.filter(|before| before.end == End::GearsOnly).map_or(&[][..], |before| &before.causes);
    let case = case(&nature.network, stripped.then_some(left), dice);
    let seen = case.answers.iter().enumerate().filter(|_| dice.f64() < LOOKED).map(|(place, answer)| (place, *answer));
    let seen = seen.collect();
    let agrees = dice.f64() < AGREES;
    let cures = dice.f64() < CURES || came.before.is_some();
    Visit {
        truck: came.truck,
        comeback_of: came.comeback_of,
        day: came.day,
        complaint: match (stripped, came.before) {
            (true, Some(_)) => "stripped-again",
            (true, None) => "stripped",
            _ => "check",
        },
        causes: case.causes,
        seen,
        end: match (stripped, agrees, cures) {
            (false, _, _) => End::LookedOver,
            (true, false, _) => End::Declined,
            (true, true, false) => End::GearsOnly,
            (true, true, true) => End::Cured,
        },
        stages: usize::MAX,
        pace: (0.25 * (dice.f64() + dice.f64() + dice.f64() - 1.5) * 2.0_f64).exp(),
    }
}

/// A case whose teeth went, with what was left in the truck; any case where none is told of.
fn case(network: &Network, stripped: Option<&[bool]>, dice: &mut fastrand::Rng) -> Drawn {
    let mut numbers = || dice.f64();
    let failed = stripped.and_then(|left| Drawn::failed(network, left, &mut numbers));
    failed.unwrap_or_else(|| Drawn::any(network, &mut numbers))
}

/// The day on which the truck is back, drawn from the chance that some mode happens again with what was left in it.
fn comes_back(nature: &Nature, visit: &Visit, dice: &mut fastrand::Rng) -> Option<i64> {
    let left = match visit.end {
        End::GearsOnly => visit.causes.clone(),
        End::Cured => vec![false; visit.causes.len()],
        End::Declined | End::LookedOver => return None,
    };
    let again = dice.f64() < nature.ahead.chance_of_some(&left);
    let day = visit.day + 10 + dice.i64(0..COMES_BACK_WITHIN - 10);
    again.then_some(day).filter(|day| *day < DAYS - 5)
}

/// The book's steps of a visit's work: new gears, and what cures the causes where they are cured.
pub(crate) fn steps<'a>(book: &'a FaultBook, network: &Network, visit: &Visit, cured: bool) -> Vec<&'a Step> {
    let always = book.complaint(visit.complaint).map(|complaint| complaint.steps.as_slice()).unwrap_or_default();
    let there = network.causes().iter().zip(&visit.causes).filter(|(_, there)| cured && **there);
    let cures = there.filter_map(|(cause, _)| book.cause(&cause.name)?.cured_by.first());
    let mut steps: Vec<&Step> = always.iter().chain(cures).filter_map(|id| book.step(id)).collect();
    steps.sort_by(|a, b| a.order.total_cmp(&b.order).then_with(|| a.id.cmp(&b.id)));
    steps.dedup_by(|a, b| a.id == b.id);
    steps
}
