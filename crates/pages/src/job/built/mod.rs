//! The truck as it is built: what was told of it, what is assumed, and the form that puts a measured value in its place.

mod rows;
mod typed;
pub(crate) mod visit;

use crate::app::App;
use crate::counter::take_in::told;
use crate::door::guard::Seat;
use crate::job::way::way;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, helped, hidden, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use rows::Rows;
use serde::Deserialize;
use toothsayer_job::{Draft, Job as JobFile, Layer};
use toothsayer_records::{Deed, Error, Job, Reach, Saved, Truck, Write, export, job_by_number, told_file};
use typed::{Typed, laid_in};
use visit::Visit;

/// The states that values are told of: the word in an address, the name, and what belongs there.
const LAYERS: [(&str, &str, Layer, &str); 4] = [
    (
        "",
        "As built",
        Layer::Built,
        "The truck in good order, with its owner's parts and settings. What is left empty is assumed, as told below each field.",
    ),
    (
        "sold",
        "As sold",
        Layer::Stock,
        "The maker's values, only where the owner changed something. Then the verdict tells which change took how much.",
    ),
    (
        "found",
        "As found",
        Layer::Found,
        "What was measured when it came and no check of the bench sheet asks. What is left empty is as built.",
    ),
    (
        "after",
        "After the work",
        Layer::After,
        "What was measured when the work was done. Then the hand-over tells how it left, as measured and not as planned.",
    ),
];

/// Which state is looked at.
#[derive(Deserialize)]
pub(crate) struct Wish {
    #[serde(default)]
    of: String,
}

/// A row of the states by its word; the truck as built where there is none of that word.
fn layer(word: &str) -> (&'static str, &'static str, Layer, &'static str) {
    LAYERS.into_iter().find(|(own, ..)| *own == word).unwrap_or(LAYERS[0])
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Query(wish): Query<Wish>,
) -> Result<Response, Trouble> {
    sheet(&app, &seat, number, &wish.of, &Entered::default()).await
}

/// What was typed and could not be kept.
#[derive(Default)]
pub(super) struct Entered {
    values: Option<Typed>,
    visit: Option<Visit>,
    wrong: Vec<String>,
}

async fn sheet(app: &App, seat: &Seat, number: i64, of: &str, entered: &Entered) -> Result<Response, Trouble> {
    let store = app.store();
    let job = job_by_number(store, number).await?;
    let truck: Truck = store.get(job.truck).await?;
    let file = JobFile::parse(&export(store, &job).await?, app.book())?;
    let draft = Draft::parse(&told_file(store, &job).await?).map_err(unread)?;
    let (word, _, layer, about) = layer(of);
    let rows = Rows { draft: &draft, file: &file, layer, system: app.system().await?, typed: entered.values.as_ref() };
    let form = tag("form").with("method", "post").with("action", &format!("/jobs/{number}/build")).all([
        hidden("version", &job.version.to_string()),
        hidden("of", word),
        rows.html(),
    ]);
    let visit = match layer {
        Layer::Built if seat.may(Deed::Counter) => visit::section(app, seat, &job, &draft, entered.visit.as_ref()),
        _ => Html::default(),
    };
    let main = [
        way(seat, number, "/build"),
        head(&job, &truck),
        problems(&entered.wrong),
        visit,
        tag("h2").with("id", "values").say("The truck").into(),
        states(number, word),
        Html::from(tag("p").say(about)),
        tag("p").class("small").say("Each with its unit: 36 mm, 10.4 kg, 1.42 in, 2 N*m. A spread as 22.3 mm ± 0.15 mm, or 0.8 m (0.2 m to 2 m).").into(),
        form.into(),
    ];
    let title = format!("Build of job {number}");
    Ok(page(&Frame::of(&title, seat), tag("main").with("id", "main").all(main).into()))
}

fn head(job: &Job, truck: &Truck) -> Html {
    let help = helped("put-right", "How to put something right").class("button plain");
    let history = tag("a").class("button plain").with("href", &format!("/trucks/{}", truck.tag)).say("How it changed");
    tag("header")
        .hold(tag("p").class("kicker").say("How the truck is built"))
        .hold(tag("h1").say(&format!("Build · {} · {}", job.number, truck.name)))
        .hold(tag("p").class("actions").hold(history).hold(help))
        .into()
}

/// The way to the other states.
fn states(number: i64, here: &str) -> Html {
    let link = |(word, name, ..): (&str, &str, Layer, &str)| {
        let link = tag("a").with("href", &format!("/jobs/{number}/build?of={word}#values")).say(name);
        if word == here { link.with("aria-current", "page").into() } else { link.into() }
    };
    tag("nav").class("way").with("aria-label", "States of the truck").all(LAYERS.map(link)).into()
}

fn unread(why: String) -> Trouble {
    Error::Content { what: "the job file".into(), why }.into()
}

/// Keeps the values that differ from what stands.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, Trouble> {
    let typed = Typed::of(pairs);
    let (word, ..) = layer(typed.word("of"));
    let write = seat.write(&app).await?;
    let wrong = put(&app, &write, number, &typed).await?;
    if wrong.is_empty() {
        write.commit().await?;
        return Ok(Redirect::to(&format!("/jobs/{number}/build?of={word}#values")).into_response());
    }
    drop(write);
    refused(&app, &seat, number, word, Entered { values: Some(typed), wrong, ..Entered::default() }).await
}

/// Puts them into the job's file, or says what is wrong with them.
async fn put(app: &App, write: &Write, number: i64, typed: &Typed) -> Result<Vec<String>, Trouble> {
    let (_, name, layer, _) = layer(typed.word("of"));
    let job = job_by_number(write, number).await?;
    if typed.word("version") != job.version.to_string() {
        return Ok(vec![OTHER.to_owned()]);
    }
    let mut draft = Draft::parse(&told_file(write, &job).await?).map_err(unread)?;
    let file = JobFile::parse(&export(write, &job).await?, app.book())?;
    laid_in(typed, layer, &file, &mut draft);
    corrected(app, write, job, &draft, &format!("{} at the bench, job {number}", name.to_lowercase())).await
}

/// Keeps a job with its changed file, or says what is wrong with it.
pub(super) async fn corrected(
    app: &App,
    write: &Write,
    job: Job,
    draft: &Draft,
    reason: &str,
) -> Result<Vec<String>, Trouble> {
    let text = draft.to_string();
    // Read here first, so that every problem is told by itself.
    if let Err(error) = JobFile::parse(&text, app.book()) {
        return Ok(told(error));
    }
    match write.correct(job, &text, app.book(), reason).await {
        Ok(Saved::Saved(_)) => Ok(Vec::new()),
        Ok(Saved::Clash { .. }) => Ok(vec![OTHER.to_owned()]),
        Err(Error::Content { why, .. }) => Ok(vec![crate::page::words::sentence(&why)]),
        Err(other) => Err(other.into()),
    }
}

/// What is said to the loser of a race.
const OTHER: &str =
    "Somebody else changed this job meanwhile. What you typed is still here: look at it, then keep it again.";

async fn refused(app: &App, seat: &Seat, number: i64, of: &str, entered: Entered) -> Result<Response, Trouble> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(app, seat, number, of, &entered).await?).into_response())
}
