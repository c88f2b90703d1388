//! What was told when the truck came in, to be put right: why it is here, in whose words, until when it is promised.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::built::{Entered, corrected, refused, unread};
use crate::page::amount::{amount_field, read, shown};
use crate::page::html::{Html, tag};
use crate::page::shell::{choice, field, hidden, input};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_inputs::{Input, find};
use toothsayer_job::{Draft, Layer, Place};
use toothsayer_quantity::Currency;
use toothsayer_records::{Job, JobKind, Moment, WallClock, job_by_number, told_file};

/// Letters of what was said at most.
const LONGEST_TEXT: usize = 4000;

/// Why a truck is here, with its words.
pub(crate) const KINDS: [(JobKind, &str, &str); 4] = [
    (JobKind::Repair, "repair", "A repair: the customer pays"),
    (JobKind::Warranty, "warranty", "Warranty: the shop or the maker pays"),
    (JobKind::Check, "check", "A check before or between runs"),
    (JobKind::Change, "change", "A change that the customer wants"),
];

/// The form as it was typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Visit {
    version: i64,
    kind: String,
    complaint: String,
    runs: String,
    said: String,
    due: String,
    looking_fee: String,
}

impl Visit {
    fn of(job: &Job, draft: &Draft, clock: &WallClock) -> Self {
        let kind = KINDS.iter().find(|(kind, ..)| *kind == job.kind).map_or("", |(_, word, _)| word);
        let runs = find("job.runs_since_gears").and_then(|input| draft.typed(place(input))).unwrap_or_default();
        Self {
            version: job.version,
            kind: kind.to_owned(),
            complaint: job.complaint.clone(),
            runs,
            said: job.said.clone(),
            due: job.due.map_or(String::new(), |due| clock.day(due).to_string()),
            looking_fee: shown(job.looking_fee, currency(job)),
        }
    }

    /// The job as the form tells it, or what is wrong.
    fn laid_on(&self, job: Job, clock: &WallClock) -> Result<Job, Vec<String>> {
        let mut wrong = Vec::new();
        let kind = KINDS.iter().find(|(_, word, _)| *word == self.kind).map(|(kind, ..)| *kind);
        if kind.is_none() {
            wrong.push("Say why the truck is here.".to_owned());
        }
        let letters = self.said.trim().chars().count();
        if letters > LONGEST_TEXT {
            wrong.push(format!("What the customer said has {letters} letters; up to {LONGEST_TEXT} are allowed."));
        }
        let due = promised(&self.due, clock).unwrap_or_else(|told| {
            wrong.push(told);
            None
        });
        let looking_fee = read("The looking fee", &self.looking_fee, currency(&job)).unwrap_or_else(|told| {
            wrong.push(told);
            0
        });
        match kind.filter(|_| wrong.is_empty()) {
            Some(kind) => {
                Ok(Job { kind, looking_fee, said: self.said.trim().to_owned(), due, version: self.version, ..job })
            }
            None => Err(wrong),
        }
    }
}

fn currency(job: &Job) -> Currency {
    Currency::parse(&job.currency).unwrap_or(Currency::EUR)
}

/// The end of the day that was typed, or what is wrong with it.
pub(crate) fn promised(typed: &str, clock: &WallClock) -> Result<Option<Moment>, String> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let day = typed.parse().ok().and_then(|day| clock.end_of(day).ok());
    day.map(Some).ok_or_else(|| format!("Promised for: “{typed}” is no day such as 2026-12-01."))
}

/// The field for it, the same wherever a day is promised.
pub(crate) fn promised_field(typed: &str) -> Html {
    field(
        "Promised for",
        input("date", "due").with("value", typed),
        "Today's list tells what is late. Empty: not promised.",
    )
}

fn place(input: &'static Input) -> Place<'static> {
    Place { layer: Layer::Built, joint: None, input }
}

/// The form, folded while nothing is wrong with it.
pub(super) fn section(app: &App, seat: &Seat, job: &Job, draft: &Draft, typed: Option<&Visit>) -> Html {
    let now = Visit::of(job, draft, &seat.clock);
    let visit = typed.unwrap_or(&now);
    let complaints = app.book().complaints().iter().map(|one| (one.id.clone(), format!("{}: {}", one.name, one.plain)));
    let kinds = KINDS.map(|(_, word, words)| (word.to_owned(), words.to_owned()));
    let said = tag("textarea").with("name", "said").with("rows", "3").say(&visit.said);
    let runs = input("text", "runs").with("value", &visit.runs).with("inputmode", "numeric");
    let form = tag("form").with("method", "post").with("action", &format!("/jobs/{}/visit", job.number)).all([
        hidden("version", &visit.version.to_string()),
        field("Why it is here", choice("kind", &kinds, &visit.kind), ""),
        field("Complaint", choice("complaint", &complaints.collect::<Vec<_>>(), &visit.complaint), ""),
        field("In the customer's words", said, ""),
        field("Runs since new gears", runs, "As far as they know."),
        promised_field(&visit.due),
        amount_field(
            "Looking fee",
            "looking_fee",
            &visit.looking_fee,
            "What looking costs where nothing is repaired; 0 for a job that was taken in by mistake.",
        ),
        tag("button").say("Keep it").into(),
    ]);
    let summary = tag("summary").hold(tag("h3").say("What the customer came with"));
    tag("details").class("check").with("id", "visit").flag("open", typed.is_some()).hold(summary).hold(form).into()
}

/// Keeps it.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(visit): Form<Visit>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let mut draft = Draft::parse(&told_file(&write, &job).await?).map_err(unread)?;
    let values = [("job.complaint", &visit.complaint), ("job.runs_since_gears", &visit.runs)];
    for (key, typed) in values {
        if let Some(input) = find(key) {
            draft.set(place(input), typed);
        }
    }
    let wrong = match visit.laid_on(job, &seat.clock) {
        Err(wrong) => wrong,
        Ok(job) => corrected(&app, &write, job, &draft, "").await?,
    };
    if wrong.is_empty() {
        write.commit().await?;
        return Ok(Redirect::to(&format!("/jobs/{number}/build")).into_response());
    }
    drop(write);
    refused(&app, &seat, number, "", Entered { visit: Some(visit), wrong, ..Entered::default() }).await
}
