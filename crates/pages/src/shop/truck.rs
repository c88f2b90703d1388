//! A truck: its jobs, and its builds with what differs from one to the next.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::typed::misfit;
use crate::page::words::sentence;
use crate::shop::today::cards;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{
    Build, Customer, Deed, Difference, Error, Reach, Saved, Truck, WallClock, builds_of, compare, jobs_of, truck_by_tag,
};

/// Letters of a name and of a note at most.
const LONGEST_NAME: usize = 120;
const LONGEST_NOTE: usize = 4000;

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(tag_read): Path<String>,
) -> Result<Response, Trouble> {
    let truck = by_tag(app.store(), &tag_read).await?;
    sheet(&app, &seat, &truck, &truck, &[]).await
}

/// The page, with a name and a note as they were typed.
async fn sheet(app: &App, seat: &Seat, truck: &Truck, typed: &Truck, wrong: &[String]) -> Result<Response, Trouble> {
    let store = app.store();
    let customer: Customer = store.get(truck.customer).await?;
    let (jobs, builds) = (jobs_of(store, truck.id).await?, builds_of(store, truck.id).await?);
    let cards = cards(app, &seat.clock, &jobs).await?;
    let again = tag("a").class("button").with("href", &format!("/take-in?truck={}", truck.tag)).say("Take it in again");
    let whose = tag("a").class("button plain").with("href", &format!("/customers/{}", customer.id)).say(&customer.name);
    let links = if seat.may(Deed::Counter) { Html::of([again.into(), whose.into()]) } else { whose.into() };
    let label = jobs.first().map(|job| label(job.number));
    let told = [
        tag("p").class("kicker").say(&format!("Tag {}", truck.tag)).into(),
        tag("h1").say(&truck.name).into(),
        tag("p").say(&truck.note).into(),
        Html::from(tag("p").class("actions").hold(links).hold(label.unwrap_or_default())),
        problems(wrong),
        correct(truck, typed, !wrong.is_empty()),
        tag("h2").say("Jobs").into(),
        tag("ul").class("cards").all(cards).into(),
        tag("h2").say("Builds, the newest first").into(),
        history(&builds, &seat.clock)?,
    ];
    Ok(page(&Frame::of(&truck.name, seat), tag("main").with("id", "main").all(told).into()))
}

/// The form that puts the name or the note right.
fn correct(truck: &Truck, typed: &Truck, is_open: bool) -> Html {
    let name = input("text", "name").with("value", &typed.name).with("autocomplete", "off").flag("required", true);
    let note = tag("textarea").with("name", "note").with("rows", "2").say(&typed.note);
    let form =
        tag("form").class("narrow-form").with("method", "post").with("action", &format!("/trucks/{}", truck.tag));
    let form = form.all([
        hidden("version", &typed.version.to_string()),
        field("What it is called", name, ""),
        field("Note of the shop", note, "Never shown to the customer."),
        tag("button").say("Keep it").into(),
    ]);
    let summary = tag("summary").hold(tag("h3").say("Correct name and note"));
    tag("details").class("check").flag("open", is_open).hold(summary).hold(form).into()
}

/// A truck's name and note, as they were typed.
#[derive(Deserialize)]
pub(crate) struct Typed {
    version: i64,
    name: String,
    #[serde(default)]
    note: String,
}

/// Keeps them, if nobody else changed them meanwhile.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(tag_read): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let now = by_tag(&write, &tag_read).await?;
    let (name, note) = (typed.name.trim().to_owned(), typed.note.trim().to_owned());
    let fields = [("The name", &name, [1, LONGEST_NAME]), ("The note", &note, [0, LONGEST_NOTE])];
    let mut wrong: Vec<String> = fields.into_iter().filter_map(|(what, text, fits)| misfit(what, text, fits)).collect();
    let changed = Truck { version: typed.version, name, note, ..now.clone() };
    if wrong.is_empty() {
        match write.save(changed.clone()).await? {
            Saved::Saved(_) => {
                write.commit().await?;
                return Ok(Redirect::to(&format!("/trucks/{}", now.tag)).into_response());
            }
            Saved::Clash { .. } => wrong.push(OTHER.to_owned()),
        }
    }
    drop(write);
    // What is typed is kept over what now stands the next time.
    let typed = Truck { version: now.version, ..changed };
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, &now, &typed, &wrong).await?).into_response())
}

/// What is said to the loser of a race.
const OTHER: &str = "Somebody else changed this truck meanwhile: look, then keep it again.";

async fn by_tag(at: &impl Reach, tag: &str) -> Result<Truck, Trouble> {
    truck_by_tag(at, tag).await.map_err(|error| match error {
        Error::Value { .. } => Trouble::NoPage,
        other => other.into(),
    })
}

/// The label with the tag of the newest job.
fn label(number: i64) -> Html {
    tag("a")
        .class("button plain")
        .with("href", &format!("/jobs/{number}/papers/label.pdf"))
        .say("Label to print")
        .into()
}

/// Each build with what it changed.
fn history(builds: &[Build], clock: &WallClock) -> Result<Html, Trouble> {
    let mut lines = Vec::new();
    for (place, build) in builds.iter().enumerate() {
        let before = place.checked_sub(1).and_then(|place| builds.get(place));
        lines.push(one(build, before, clock)?);
    }
    lines.reverse();
    Ok(tag("ul").class("plain-list").all(lines).into())
}

fn one(build: &Build, before: Option<&Build>, clock: &WallClock) -> Result<Html, Trouble> {
    let differs = match before {
        None => tag("p").say("As it came first.").into(),
        Some(before) => differences(&compare(before, build)?),
    };
    let head = tag("h3").say(&format!("Build {} · {}", build.number, clock.day(build.made)));
    let reason = tag("p").class("small").say(&sentence(&build.reason));
    Ok(tag("li").class("check").hold(head).hold(reason).hold(differs).into())
}

fn differences(differs: &[Difference]) -> Html {
    const HEADS: [&str; 3] = ["What", "Was", "Is"];
    if differs.is_empty() {
        return tag("p").say("Nothing that is written down differs.").into();
    }
    let heads = HEADS.map(|head| tag("th").with("scope", "col").say(head).into());
    let row = |one: &Difference| {
        let told = |value: &Option<String>| {
            value.as_ref().map_or("not said".to_owned(), |text| text.trim_matches('"').to_owned())
        };
        let cells = [one.key.replace('.', " · ").replace('_', " "), told(&one.was), told(&one.is)];
        let cells =
            HEADS.iter().zip(cells).map(|(head, text)| Html::from(tag("td").with("data-head", head).say(&text)));
        tag("tr").all(cells.collect::<Vec<_>>()).into()
    };
    let head = tag("thead").hold(tag("tr").all(heads));
    let table = tag("table").hold(head).hold(tag("tbody").all(differs.iter().map(row)));
    tag("div").class("scrolls").hold(table).into()
}
