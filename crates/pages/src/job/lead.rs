//! Leading a job on: the steps that its life cycle allows from where it stands.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::{bench, work};
use crate::page::html::{Html, tag};
use crate::page::shell::{field, hidden, input, live};
use crate::page::trouble::Trouble;
use crate::page::words::{sentence, step_into, waits_for};
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Error, Job, JobState, Saved, job_by_number};

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
    let buttons = next.iter().map(|state| {
        tag("button").class("plain").with("name", "state").with("value", state.word()).say(step_into(*state)).into()
    });
    let reason =
        field("Reason", input("text", "reason").with("autocomplete", "off"), "Needed for a no, and for a step back.");
    let form = tag("form").with("method", "post").with("action", &format!("/jobs/{}/lead", job.number)).all([
        hidden("version", &job.version.to_string()),
        hidden("at", at),
        reason,
        tag("div").class("actions").all(buttons).into(),
    ]);
    let told = format!("It waits for: {}.", waits_for(job.state).to_lowercase());
    live("lead", tag("section"))
        .with("id", "lead")
        .hold(tag("h2").say("Lead the job on"))
        .hold(tag("p").say(&told))
        .hold(form)
        .into()
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
        _ => bench::sheet(&app, &seat, number, &[wrong], None).await?,
    };
    Ok((StatusCode::CONFLICT, told).into_response())
}
