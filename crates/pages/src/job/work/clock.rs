//! The bench's clocks: started and stopped on a step, several at once, also on several jobs.

use super::plan::Step;
use super::{Work, anchor, refused};
use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::hidden;
use crate::page::trouble::Trouble;
use crate::page::words::sentence;
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Error, Id, Job, JobState, Reach, Saved, Stint, Write, clocks_of, job_by_number};

/// The form that starts a clock.
#[derive(Deserialize)]
pub(crate) struct Start {
    step: String,
    place: usize,
}

/// The form that stops one.
#[derive(Deserialize)]
pub(crate) struct Stop {
    clock: String,
    version: i64,
    #[serde(default)]
    place: usize,
}

/// The clocks of a step: those that run, and the reader's own to be started.
pub(super) fn of_step(work: &Work, step: &Step, place: usize) -> Html {
    let running: Vec<&Stint> =
        work.stints.iter().filter(|stint| stint.step == step.id && stint.ended.is_none()).collect();
    let mine = |stint: &Stint| stint.who == work.seat.person.id;
    let told = running.iter().map(|stint| {
        let (whose, stop_word) = match mine(stint) {
            true => ("Your".to_owned(), "Stop the clock"),
            false => (format!("{}'s", work.name_of(stint.who)), "Stop it"),
        };
        let told = tag("span").say(&format!("{whose} clock runs since {}", work.seat.clock.when(stint.began)));
        tag("div").class("row").hold(told).hold(stop_at(work.job.number, stint, stop_word, place)).into()
    });
    let told = Html::of(told);
    if running.iter().any(|stint| mine(stint)) || !work.job.open {
        return told;
    }
    let start = tag("form")
        .with("method", "post")
        .with("action", &format!("/jobs/{}/clock/start", work.job.number))
        .with("data-send", "stay");
    let start = start.all([
        hidden("step", &step.id),
        hidden("place", &place.to_string()),
        tag("button")
            .class("plain")
            .with("aria-label", &format!("Start the clock: {}", step.name))
            .say("Start the clock")
            .into(),
    ]);
    Html::of([told, start.into()])
}

/// A button that stops a clock of another job.
pub(super) fn stop(number: i64, stint: &Stint, words: &str) -> Html {
    stop_at(number, stint, words, 0)
}

fn stop_at(number: i64, stint: &Stint, words: &str, place: usize) -> Html {
    tag("form")
        .with("method", "post")
        .with("action", &format!("/jobs/{number}/clock/stop"))
        .with("data-send", "stay")
        .all([
            hidden("clock", &stint.id.to_string()),
            hidden("version", &stint.version.to_string()),
            hidden("place", &place.to_string()),
            tag("button").class("plain").say(words).into(),
        ])
        .into()
}

/// Starts the clock of whoever asks; agreed work is on the bench from then on.
pub(crate) async fn start(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(form): Form<Start>,
) -> Result<Response, Trouble> {
    let work = Work::read(&app, &seat, number).await?;
    let steps = work.steps();
    let Some(step) = steps.iter().find(|step| step.id == form.step) else {
        let wrong = format!("The work of this job has no step “{}” any more: look at the steps again.", form.step);
        return refused(&app, &seat, number, &[wrong]).await;
    };
    let write = seat.write(&app).await?;
    match begin(&write, &seat, number, step).await {
        Ok(()) => write.commit().await?,
        Err(Error::Refused(refusal)) => {
            drop(write);
            let wrong = format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint());
            return refused(&app, &seat, number, &[wrong]).await;
        }
        Err(other) => return Err(other.into()),
    }
    Ok(Redirect::to(&anchor(number, form.place)).into_response())
}

/// Agreed work is on the bench from its first clock or signature on.
pub(super) async fn to_the_bench(write: &Write, number: i64) -> Result<Job, Error> {
    let job = job_by_number(write, number).await?;
    if job.state == JobState::Agreed {
        // The job was read within this write: nobody else can have led it on.
        let _only_writer = write.lead(&job, JobState::OnTheBench, "").await?;
    }
    Ok(job)
}

async fn begin(write: &Write, seat: &Seat, number: i64, step: &Step) -> Result<(), Error> {
    let job = to_the_bench(write, number).await?;
    let runs = clocks_of(write, seat.person.id).await?.iter().any(|one| one.job == job.id && one.step == step.id);
    if !runs {
        write.start_clock(job.id, &step.id, step.minutes.round() as i64).await?;
    }
    Ok(())
}

/// Stops a clock, whoever's: one that was forgotten would keep the job on the bench.
pub(crate) async fn end(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(form): Form<Stop>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let job: Job = job_by_number(&write, number).await?;
    let stint: Stint = write.get(Id::parse(&form.clock)?).await?;
    if stint.job != job.id {
        return Err(Trouble::NoPage);
    }
    if stint.ended.is_none() {
        match write.stop_clock(&Stint { version: form.version, ..stint }).await? {
            Saved::Saved(_) => write.commit().await?,
            Saved::Clash { .. } => {
                drop(write);
                let wrong = "Somebody else changed this clock meanwhile: look at it again.".to_owned();
                return refused(&app, &seat, number, &[wrong]).await;
            }
        }
    }
    Ok(Redirect::to(&anchor(number, form.place)).into_response())
}

/// Lets a clock go on with the next step when one is signed for; none runs where none ran.
pub(super) async fn go_on(write: &Write, work: &Work, done: &Step, next: Option<&Step>) -> Result<(), Error> {
    let own = clocks_of(write, work.seat.person.id).await?;
    let Some(running) = own.iter().find(|one| one.job == work.job.id && one.step == done.id) else { return Ok(()) };
    // Read within this write: nobody else can have stopped it.
    let _only_writer = write.stop_clock(running).await?;
    let known = |step: &&Step| !own.iter().any(|one| one.job == work.job.id && one.step == step.id);
    if let Some(next) = next.filter(known) {
        write.start_clock(work.job.id, &next.id, next.minutes.round() as i64).await?;
    }
    Ok(())
}
