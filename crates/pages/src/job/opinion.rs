//! What the bench sheet tells of a job: the gear bay, the causes, what to look at next and why.

use crate::job::drawing::{Drawn, drawn};
use crate::page::trouble::Trouble;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::BayScene;
use toothsayer_job::{Job, State};
use toothsayer_quantity::System;
use toothsayer_verdict::{CauseVerdict, Memo, Verdict};

/// Causes that are told.
const SHOWN_CAUSES: usize = 8;
/// Causes that are named beside a check.
const TOLD_OF: usize = 3;
/// A cause below this is not told.
const UNLIKELY: f64 = 0.01;

/// A cause as it stands.
pub(crate) struct Cause {
    /// In plain words.
    pub plain: String,
    /// The chance that the list is sorted by.
    pub weight: f64,
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
    /// The causes, the weightiest first.
    pub causes: Vec<Cause>,
    /// What their chances are chances of.
    pub weighed: &'static str,
    /// Open checks, the most useful first.
    pub next: Vec<Next>,
    /// Whether looking can end.
    pub enough: bool,
    /// What does not fit together in what was told and found.
    pub warnings: Vec<String>,
}

/// Weighs a job.
pub(crate) fn weigh(text: &str, book: &FaultBook, system: System, memo: &Memo) -> Result<Opinion, Trouble> {
    let job = Job::parse(text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    let next = verdict.next_checks().into_iter().map(|(check, worth)| {
        let minutes = crate::page::words::minutes(check.minutes);
        let about = tells_of(&verdict, &check.id);
        let about = if about.is_empty() { String::new() } else { format!(" · tells of: {}", about.join(", ")) };
        // What looking is expected to save at the repair.
        let saves = if worth.minor > 0 { format!(" · saves {worth} on average") } else { String::new() };
        Next { check: check.id.clone(), reason: format!("{minutes}{about}{saves}") }
    });
    Ok(Opinion {
        bay: bay(&verdict, system, memo).map_err(|trouble| trouble.to_string()),
        causes: causes(&job, &verdict),
        next: next.collect(),
        enough: verdict.enough_is_known(),
        weighed: match job.strip_happened() {
            true => "The chance that the teeth would have held without it, on what is known so far.",
            false => "The chance that it takes the teeth if it stays, on what is known so far.",
        },
        warnings: job.warnings.iter().map(|warning| plain(warning, book)).collect(),
    })
}

/// A warning with the checks' questions in the place of their names.
fn plain(warning: &str, book: &FaultBook) -> String {
    let named = |text: String, check: &toothsayer_fault_book::Finding| {
        text.replace(&format!("finding \"{}\"", check.id), &format!("check “{}”", check.question))
    };
    format!("{}.", crate::page::words::sentence(&book.findings().iter().fold(warning.to_owned(), named)))
}

/// The likeliest causes that a check tells something of.
fn tells_of(verdict: &Verdict<'_>, check: &str) -> Vec<String> {
    let book = verdict.diagnosis.book;
    let Some(finding) = book.finding(check) else { return Vec::new() };
    let likely = verdict.diagnosis.ranked().into_iter().filter(|cause| cause.present > UNLIKELY);
    let entries = likely.filter_map(|cause| book.cause(&cause.id));
    let linked = entries.filter(|cause| {
        cause.findings.contains_key(check) || cause.modes.keys().any(|mode| finding.modes.contains_key(mode))
    });
    linked.take(TOLD_OF).map(|cause| cause.name.clone()).collect()
}

fn bay(verdict: &Verdict<'_>, system: System, memo: &Memo) -> Result<Drawn, Trouble> {
    let stage = verdict.stage(State::Found)?;
    let margins = verdict.margins(None, memo)?;
    let scene = BayScene { stage, margins: margins.iter().find(|margins| margins.state == stage.state) };
    drawn(&scene, system)
}

fn causes(job: &Job, verdict: &Verdict<'_>) -> Vec<Cause> {
    let chance = crate::page::words::chance;
    let strip = job.strip_happened();
    let weight = |cause: &CauseVerdict| if strip { cause.mattered } else { cause.next_set };
    let told = |cause: &CauseVerdict| {
        let next = if strip {
            format!(" · {} that it takes the next set if it stays", chance(cause.next_set))
        } else {
            String::new()
        };
        format!("{} that it is there{next}", chance(cause.present))
    };
    let plain = |id: &str| verdict.diagnosis.book.cause(id).map_or(id.to_owned(), |entry| entry.plain.clone());
    let likely = verdict.diagnosis.ranked().into_iter().filter(|cause| cause.present > UNLIKELY).take(SHOWN_CAUSES);
    likely.map(|cause| Cause { plain: plain(&cause.id), weight: weight(cause), told: told(cause) }).collect()
}
