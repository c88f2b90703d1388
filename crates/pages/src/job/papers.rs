//! The papers of a job as PDF, and its care plan as a calendar file.

use crate::app::App;
use crate::job::matter::Ground;
use crate::page::trouble::Trouble;
use crate::page::typed::decimal_comma;
use axum::extract::{Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use std::sync::Arc;
use toothsayer_records::{
    Job, JobState, Moment, Photo as Shot, PhotoMoment, Scale, WallClock, job_by_number, moves_of, photo_bytes,
    photos_of,
};
use toothsayer_report::{CareDates, Date, PaperKind, Photo, RunsPerWeek, care_calendar, write_paper};

/// Photos in a warranty pack at most: more than a maker looks at, and some megabytes.
const MOST_PHOTOS: usize = 24;
/// How often a driver runs where nobody says (estimate, no source): each weekend's two days.
pub(crate) const USUAL_RUNS_PER_WEEK: f64 = 2.0;

/// A paper.
pub(crate) async fn paper(
    State(app): State<App>,
    Path((number, file)): Path<(i64, String)>,
) -> Result<Response, Trouble> {
    let named = |kind: &PaperKind| file.strip_suffix(".pdf") == Some(kind.name());
    let kind = PaperKind::ALL.into_iter().find(named).ok_or(Trouble::NoPage)?;
    let job = job_by_number(app.store(), number).await?;
    let bytes = written(&app, &job, kind).await?;
    let name = format!("inline; filename=\"job-{number}-{}.pdf\"", kind.name());
    Ok(file_of("application/pdf", name, &bytes))
}

/// A paper's bytes.
pub(crate) async fn written(app: &App, job: &Job, kind: PaperKind) -> Result<Arc<Vec<u8>>, Trouble> {
    let mut ground = Ground::of(app, job).await?;
    let shots = if kind == PaperKind::WarrantyPack { photos_of(app.store(), job.id).await? } else { Vec::new() };
    let shots: Vec<&Shot> = shots.iter().take(MOST_PHOTOS).collect();
    for shot in shots {
        let bytes = photo_bytes(app.store(), shot, Scale::Large).await?;
        ground.cover.photos.push(Photo { told: shown(shot, &ground.clock), bytes });
    }
    let (own, key, with_photos) = (app.clone(), ground.key(kind.name()), !ground.cover.photos.is_empty());
    let tell = move |memo: &_| ground.tell(own.book(), memo, |matter| Ok(write_paper(kind, matter, None)?.bytes));
    // Photos would fill what is kept with megabytes that are asked for once.
    if with_photos { Ok(Arc::new(app.desk.once(tell).await?)) } else { app.desk.computed(&key, tell).await }
}

/// "Support bearing, before the work, taken 2026-11-25"
pub(crate) fn shown(shot: &Shot, clock: &WallClock) -> String {
    let what = if shot.shows.is_empty() { "the truck" } else { &shot.shows };
    let when = match shot.moment {
        Some(PhotoMoment::Before) => ", before the work",
        Some(PhotoMoment::After) => ", after the work",
        None => "",
    };
    format!("{}{when}, taken {}", crate::page::words::sentence(&what.replace('-', " ")), clock.day(shot.taken))
}

/// How the calendar is asked for.
#[derive(Clone, Deserialize)]
pub(crate) struct Rhythm {
    #[serde(default)]
    from: String,
    #[serde(default)]
    runs_per_week: String,
}

/// The care plan as a calendar file.
pub(crate) async fn calendar(
    State(app): State<App>,
    Path(number): Path<i64>,
    Query(rhythm): Query<Rhythm>,
) -> Result<Response, Trouble> {
    let job = job_by_number(app.store(), number).await?;
    calendar_of(&app, &job, &rhythm).await
}

/// A job's calendar by a rhythm.
pub(crate) async fn calendar_of(app: &App, job: &Job, rhythm: &Rhythm) -> Result<Response, Trouble> {
    let ground = Ground::of(app, job).await?;
    let (from, runs_per_week) = (from(app, job, rhythm, &ground.clock).await?, runs_per_week(rhythm)?);
    let (key, own) = (ground.key(&format!("calendar {from} {runs_per_week:?}")), app.clone());
    let make = move |memo: &_| {
        ground.tell(own.book(), memo, |matter| {
            let fields = &matter.verdict.job.built.fields;
            let dates = CareDates {
                items: matter.care,
                truck: fields.word("truck.name").unwrap_or("the truck"),
                from,
                runs_per_week,
                last_run: matter.verdict.job.shop.horizon_runs as u32,
                system: matter.system,
                caution: &|id| own.book().caution(id).map(str::to_owned),
            };
            Ok(care_calendar(&dates)?.to_file().into_bytes())
        })
    };
    let bytes = app.desk.computed(&key, make).await?;
    Ok(file_of("text/calendar; charset=utf-8", format!("attachment; filename=\"care-{}.ics\"", job.number), &bytes))
}

/// From which day on: the one that was asked for, else the day on which the truck was collected, else today.
async fn from(app: &App, job: &Job, rhythm: &Rhythm, clock: &WallClock) -> Result<Date, Trouble> {
    let text = rhythm.from.trim();
    if text.is_empty() {
        return Ok(clock.day(handed_over(app, job).await?.unwrap_or_else(Moment::now)));
    }
    let wrong = |_| Trouble::Form { field: "from", value: text.to_owned(), allowed: "a day such as 2026-12-01" };
    text.parse().map_err(wrong)
}

/// When the truck was collected.
pub(crate) async fn handed_over(app: &App, job: &Job) -> Result<Option<Moment>, Trouble> {
    let moves = moves_of(app.store(), job.id).await?;
    Ok(moves.iter().rev().find(|step| step.to_state == JobState::Collected).map(|step| step.at))
}

fn runs_per_week(rhythm: &Rhythm) -> Result<RunsPerWeek, Trouble> {
    let text = rhythm.runs_per_week.trim();
    let value = if text.is_empty() { Some(USUAL_RUNS_PER_WEEK) } else { decimal_comma(text).parse().ok() };
    let wrong = || Trouble::Form { field: "runs_per_week", value: text.to_owned(), allowed: "0.1 to 50 runs a week" };
    value.and_then(|runs| RunsPerWeek::new(runs).ok()).ok_or_else(wrong)
}

/// A file as an answer.
fn file_of(media: &'static str, name: String, bytes: &[u8]) -> Response {
    ([(CONTENT_TYPE, media.to_owned()), (CONTENT_DISPOSITION, name)], bytes.to_vec()).into_response()
}
