//! Minutes until the true causes are known: checks in the order that the program gives, and in the bench's.

use super::truth::Truth;
use rayon::prelude::*;
use std::fmt::Write;
use toothsayer_evidence::{CauseId, State};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::{Diagnosis, Memo, OpenCheck, Verdict};

/// A cause counts as found from this probability on.
const FOUND: f64 = 0.8;
/// A cause that is looked for takes the next set by itself with this chance at least.
const DANGEROUS: f64 = 0.3;

/// Which check comes next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    /// By worth a minute.
    Next,
    /// As the book lists them along the bench.
    Bench,
}

/// Mean minutes of looking until every dangerous cause of a truck was found, or until every check was made.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Minutes {
    /// Trucks.
    pub trucks: u32,
    /// In the order that the program gives.
    pub next: f64,
    /// In the bench's order.
    pub bench: f64,
}

type Failed = Box<dyn std::error::Error + Send + Sync>;

/// Trucks drawn from the network of a job of which only the complaint is known.
pub(super) fn minutes(unopened: &str, trucks: u32, seed: u64) -> Result<Minutes, Failed> {
    let book = FaultBook::built_in();
    let memo = Memo::default();
    let job = Job::parse(unopened, book).map_err(|error| format!("{error:?}"))?;
    let diagnosis = Diagnosis::new(&job, book, &memo)?;
    let mut dice = fastrand::Rng::with_seed(seed);
    let mut truths: Vec<Truth> = Vec::new();
    while truths.len() < trucks as usize {
        let truth = Truth::stripped(&diagnosis.network, &mut dice);
        if !dangerous(&diagnosis, &truth).is_empty() {
            truths.push(truth);
        }
    }
    let both = |truth: &Truth| -> Result<[f64; 2], Failed> {
        let wanted = dangerous(&diagnosis, truth);
        let session = |order| Session { unopened, truth, wanted: &wanted, memo: &memo }.minutes(order);
        Ok([session(Order::Next)?, session(Order::Bench)?])
    };
    let spent: Vec<[f64; 2]> = truths.par_iter().map(both).collect::<Result<_, _>>()?;
    let mean = |order: usize| spent.iter().map(|both| both[order]).sum::<f64>() / f64::from(trucks.max(1));
    Ok(Minutes { trucks, next: mean(0), bench: mean(1) })
}

/// The undecided causes of a truck that are dangerous by themselves.
fn dangerous(diagnosis: &Diagnosis<'_>, truth: &Truth) -> Vec<CauseId> {
    let causes = diagnosis.network.causes().iter().enumerate();
    let undecided = causes.filter(|(_, cause)| matches!(cause.state, State::Prior(_))).map(|(place, _)| CauseId(place));
    undecided.filter(|cause| truth.causes[cause.0] && diagnosis.ahead.alone(*cause) >= DANGEROUS).collect()
}

struct Session<'a> {
    unopened: &'a str,
    truth: &'a Truth,
    wanted: &'a [CauseId],
    memo: &'a Memo,
}

impl Session<'_> {
    fn minutes(&self, order: Order) -> Result<f64, Failed> {
        let book = FaultBook::built_in();
        let mut text = self.unopened.to_owned();
        let mut minutes = 0.0;
        loop {
            let job = Job::parse(&text, book).map_err(|error| format!("{error:?}"))?;
            let verdict = Verdict::new(&job, book, self.memo)?;
            let found = |cause: &CauseId| verdict.diagnosis.belief.present(*cause) >= FOUND;
            let Some(check) = next(&verdict, order).filter(|_| !self.wanted.iter().all(found)) else {
                return Ok(minutes);
            };
            minutes += check.minutes;
            let answer = if self.truth.answers[check.place] { "yes" } else { "no" };
            write!(text, "\n[[findings]]\ncheck = \"{}\"\nanswer = \"{answer}\"\n", check.id)?;
        }
    }
}

fn next<'a>(verdict: &'a Verdict<'_>, order: Order) -> Option<&'a OpenCheck> {
    match order {
        Order::Next => verdict.next_checks().into_iter().next().map(|(check, _)| check),
        Order::Bench => verdict.diagnosis.open.iter().min_by_key(|check| check.place),
    }
}
