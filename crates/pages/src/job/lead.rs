//! Leading a job on: the steps that its life cycle allows from where it stands.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::{bench, hand_over, work};
use crate::link::give;
use crate::page::html::{Html, Tag, tag};
use crate::page::shell::{field, hidden, input, live};
use crate::page::trouble::Trouble;
use crate::page::words::{sentence, stands, step_into};
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Error, Job, JobKind, JobState, Saved, job_by_number};

/// Letters of a reason at most.
const LONGEST_REASON: usize = 1000;

/// The form.
#[derive(Deserialize)]
pub(crate) struct Step {
    state: String,
    #[serde(default)]
    reason: String,
    version: i64,
    /// The page of the job that it was sent from, by the end of its address.
    #[serde(default)]
    at: String,
}

/// The steps that may follow.
pub(crate) fn steps(job: &Job) -> Html {
    steps_from(job, "")
}

/// The same on another page of the job, to come back to it.
pub(crate) fn steps_from(job: &Job, at: &str) -> Html {
    let next = job.state.next();
    if next.is_empty() {
        return Html::default();
    }
    let [on, no, back] = [Way::On, Way::No, Way::Back]
        .map(|way| Html::of(next.iter().filter(|to| Way::of(job.state, **to) == way).map(|to| button(job, *to))));
    let hint = "Needed for a no that is told here, for a step back, and where nothing is repaired.";
    let reason = field("Reason", input("text", "reason").with("autocomplete", "off"), hint);
    let form = tag("form").with("method", "post").with("action", &format!("/jobs/{}/lead", job.number)).all([
        hidden("version", &job.version.to_string()),
        hidden("at", at),
        reason,
        tag("div").class("actions").all([on, ask_again(job), no, back]).into(),
    ]);
    live("lead", tag("section"))
        .with("id", "lead")
        .hold(tag("h2").say("Lead the job on"))
        .hold(tag("p").say(stands(job.state)))
        .hold(form)
        .into()
}

/// Where a step leads.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// On in the job's life.
    On,
    /// To a no.
    No,
    /// To where it stood before.
    Back,
}

impl Way {
    fn of(from: JobState, to: JobState) -> Self {
        match to {
            JobState::Declined => Self::No,
            to if to < from => Self::Back,
            _ => Self::On,
        }
    }
}

/// The button of a step. A yes goes up to a price: it is not a step alone, and its form leads the job on.
fn button(job: &Job, to: JobState) -> Html {
    if to == JobState::Agreed && wants_yes(job) {
        return to_answer(job).class("button").into();
    }
    let button = tag("button").with("name", "state").with("value", to.word());
    let words = step_into(to);
    let button = match Way::of(job.state, to) {
        Way::On => button.say(words),
        Way::No => button.class("plain").say(words),
        Way::Back => button.class("plain").say(&format!("Back: {}", uncapitalised(words))),
    };
    button.into()
}

/// The way to the answer's form for what the customer agreed to and may have to be asked about again.
fn ask_again(job: &Job) -> Html {
    let agreed = [JobState::Agreed, JobState::WaitingForParts, JobState::OnTheBench].contains(&job.state);
    if agreed && wants_yes(job) { to_answer(job).class("button plain").into() } else { Html::default() }
}

fn wants_yes(job: &Job) -> bool {
    job.kind != JobKind::Warranty
}

fn to_answer(job: &Job) -> Tag {
    tag("a").with("href", &format!("/jobs/{}/alternatives#answer", job.number)).say("Note the customer's answer")
}

fn uncapitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// Leads a job on, as it stood on the page.
pub(crate) async fn lead(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(step): Form<Step>,
) -> Result<Response, Trouble> {
    let allowed = "a state of a job's life";
    let unknown = || Trouble::Form { field: "state", value: step.state.clone(), allowed };
    let state = JobState::of_word(&step.state).ok_or_else(unknown)?;
    if step.reason.chars().count() > LONGEST_REASON {
        let value = format!("{} letters", step.reason.chars().count());
        return Err(Trouble::Form { field: "reason", value, allowed: "up to 1000 letters" });
    }
    let write = seat.write(&app).await?;
    let job = Job { version: step.version, ..job_by_number(&write, number).await? };
    let wrong = match write.lead(&job, state, step.reason.trim()).await {
        Ok(Saved::Saved(_)) => {
            write.commit().await?;
            let end = match step.at.as_str() {
                "work" => "/work",
                "hand-over" => "/hand-over",
                _ => "",
            };
            return Ok(Redirect::to(&format!("/jobs/{number}{end}")).into_response());
        }
        Ok(Saved::Clash { .. }) => "Somebody else led this job on meanwhile: it now stands as told above.".to_owned(),
        Err(Error::Refused(refusal)) => format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint()),
        Err(other) => return Err(other.into()),
    };
    drop(write);
    let told = match step.at.as_str() {
        "work" => work::sheet(&app, &seat, number, &[wrong]).await?,
        "hand-over" => hand_over::sheet(&app, &seat, number, &give::Typed::default(), &[wrong]).await?,
        _ => bench::sheet(&app, &seat, number, &[wrong], None).await?,
    };
    Ok((StatusCode::CONFLICT, told).into_response())
}
