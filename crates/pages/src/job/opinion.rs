//! What the bench sheet tells of a job: the gear bay, the causes, what to look at next and why.

use crate::job::drawing::{Drawn, drawn};
use crate::page::trouble::Trouble;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::BayScene;
use toothsayer_job::{Job, State};
use toothsayer_quantity::System;
use toothsayer_verdict::{Memo, Verdict};

/// Causes that are told.
const SHOWN_CAUSES: usize = 8;
/// A cause below this is not told.
const UNLIKELY: f64 = 0.01;

/// A cause as it stands.
pub(crate) struct Cause {
    /// In plain words.
    pub plain: String,
    /// The chance that it is there.
    pub present: f64,
    /// What else is told of it.
    pub told: String,
}

/// A check that is still open.
pub(crate) struct Next {
    /// The check's id.
    pub check: String,
    /// Why it comes next.
    pub reason: String,
}

/// What is told.
pub(crate) struct Opinion {
    /// The gear bay, or why there is none.
    pub bay: Result<Drawn, String>,
    /// The causes, the likeliest to matter first.
    pub causes: Vec<Cause>,
    /// Open checks, the most useful first.
    pub next: Vec<Next>,
    /// Whether looking can end.
    pub enough: bool,
}

/// Weighs a job.
pub(crate) fn weigh(text: &str, book: &FaultBook, system: System, memo: &Memo) -> Result<Opinion, Trouble> {
    let job = Job::parse(text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    let next = verdict.next_checks().into_iter().map(|(check, worth)| {
        let mut reason = format!("{} · tells {:.2} bits", crate::page::words::minutes(check.minutes), check.bits);
        if worth.minor > 0 {
            reason.push_str(&format!(" · worth {worth}"));
        }
        Next { check: check.id.clone(), reason }
    });
    Ok(Opinion {
        bay: bay(&verdict, system, memo).map_err(|trouble| trouble.to_string()),
        causes: causes(&job, &verdict),
        next: next.collect(),
        enough: verdict.enough_is_known(),
    })
}

fn bay(verdict: &Verdict<'_>, system: System, memo: &Memo) -> Result<Drawn, Trouble> {
    let stage = verdict.stage(State::Found)?;
    let margins = verdict.margins(None, memo)?;
    let scene = BayScene { stage, margins: margins.iter().find(|margins| margins.state == stage.state) };
    drawn(&scene, system)
}

fn causes(job: &Job, verdict: &Verdict<'_>) -> Vec<Cause> {
    let told = |cause: &toothsayer_verdict::CauseVerdict| {
        let chance = crate::page::words::chance;
        let mattered = match job.strip_happened() {
            true => format!("{} that it mattered · ", chance(cause.mattered)),
            false => String::new(),
        };
        format!("{mattered}{} that it takes the next set if it stays", chance(cause.next_set))
    };
    let ranked = verdict.diagnosis.ranked();
    let likely = ranked.into_iter().filter(|cause| cause.present > UNLIKELY).take(SHOWN_CAUSES);
    let plain = |id: &str| verdict.diagnosis.book.cause(id).map_or(id.to_owned(), |entry| entry.plain.clone());
    likely.map(|cause| Cause { plain: plain(&cause.id), present: cause.present, told: told(cause) }).collect()
}
