//! What is to be ordered, by supplier, with a file for them; and what is on its way.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, hidden, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::sentence;
use axum::extract::{Extension, Form, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{
    Deed, Error, Id, Job, Need, NeedState, OrderLine, Part, Reach, Saved, Short, Write, needs_for, needs_ordered,
    order_csv, order_list,
};

/// The form that says that a part was ordered.
#[derive(Deserialize)]
pub(crate) struct Ordered {
    part: String,
    quantity: i64,
}

/// The form that says that what was ordered came.
#[derive(Deserialize)]
pub(crate) struct Came {
    need: String,
    version: i64,
}

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    sheet(&app, &seat, &[]).await
}

async fn sheet(app: &App, seat: &Seat, wrong: &[String]) -> Result<Response, Trouble> {
    let lines = order_list(app.store()).await?;
    let download = tag("a").class("button plain").with("href", "/parts/orders.csv").say("The list as a table (CSV)");
    let groups = lines.chunk_by(|a, b| a.supplier == b.supplier).map(|own| supplier(seat, own));
    let nothing = if lines.is_empty() { "Nothing is to be ordered." } else { "" };
    let told = [
        tag("h1").say("To be ordered").into(),
        problems(wrong),
        tag("p").say("What jobs need and the shelf should keep, less what lies there and what is on its way.").into(),
        Html::from(tag("p").class("actions").hold(download)),
        tag("p").say(nothing).into(),
        Html::of(groups),
        on_their_way(app).await?,
        tag("p").hold(tag("a").with("href", "/parts").say("All parts")).into(),
    ];
    Ok(page(&Frame::of("To be ordered", seat), tag("main").with("id", "main").all(told).into()))
}

fn supplier(seat: &Seat, lines: &[OrderLine]) -> Html {
    let name = lines.first().map_or("", |line| &line.supplier);
    let name = if name.is_empty() { "No supplier is said" } else { name };
    let rows = lines.iter().map(|line| {
        let jobs = match &line.jobs[..] {
            [] => "for the shelf".to_owned(),
            jobs => format!("for job {}", jobs.iter().map(i64::to_string).collect::<Vec<_>>().join(", ")),
        };
        let number = &line.part.order_number;
        let number = if number.is_empty() { String::new() } else { format!(" · order number {number}") };
        let days = line.part.lead_days.map_or(String::new(), |days| format!(" · {}", usually(days)));
        let told = [
            tag("strong").say(&format!("{} × {}", line.quantity, line.part.name)).into(),
            tag("span").class("small").say(&format!(" {}{number}{days} · {jobs}", cost(line))).into(),
            tag("p").class("small").say(&why(&line.why)).into(),
            ordered(seat, line),
        ];
        tag("li").class("check").all(told).into()
    });
    tag("section").hold(tag("h2").say(name)).hold(tag("ul").class("plain-list").all(rows)).into()
}

/// "usually comes 4 days after ordering"
fn usually(days: i64) -> String {
    match days {
        0 => "usually comes on the day of ordering".to_owned(),
        1 => "usually comes 1 day after ordering".to_owned(),
        days => format!("usually comes {days} days after ordering"),
    }
}

/// "Why 3: jobs need 1, the shelf should keep 2; none is free there."
fn why(short: &Short) -> String {
    let Short { needed, keep, free, coming } = *short;
    let counted = |pieces: i64, told: String| Some(told).filter(|_| pieces > 0);
    let wanted =
        [counted(needed, format!("jobs need {needed}")), counted(keep, format!("the shelf should keep {keep}"))];
    let there = if free > 0 { format!("{free} free there") } else { "none is free there".to_owned() };
    let there = [Some(there), counted(coming, format!("{coming} on the way"))];
    let [wanted, there] = [&wanted, &there].map(|told| told.iter().flatten().cloned().collect::<Vec<_>>().join(", "));
    format!("Why {}: {wanted}; {there}.", short.pieces())
}

fn cost(line: &OrderLine) -> String {
    let currency = Currency::parse(&line.part.currency).unwrap_or(Currency::EUR);
    Money { minor: line.part.cost.saturating_mul(line.quantity), currency }.to_string()
}

fn ordered(seat: &Seat, line: &OrderLine) -> Html {
    if !seat.may(Deed::Counter) {
        return Html::default();
    }
    let form = tag("form").with("method", "post").with("action", "/parts/orders").all([
        hidden("part", &line.part.id.to_string()),
        hidden("quantity", &line.quantity.to_string()),
        tag("button")
            .class("plain")
            .with("aria-label", &format!("{} was ordered", line.part.name))
            .say("It was ordered")
            .into(),
    ]);
    form.into()
}

async fn on_their_way(app: &App) -> Result<Html, Trouble> {
    let needs = needs_ordered(app.store()).await?;
    let parts = app.store().several(&needs.iter().filter_map(|need| need.part).collect::<Vec<_>>()).await?;
    let jobs: Vec<Job> = app.store().several(&needs.iter().filter_map(|need| need.job).collect::<Vec<_>>()).await?;
    let mut lines: Vec<(&Part, &Need)> = parts.iter().zip(&needs).collect();
    lines.sort_by_key(|(part, _)| &part.name);
    let lines: Vec<Html> = lines.into_iter().map(|(part, need)| coming(part, need, &jobs)).collect();
    let told = if lines.is_empty() { "Nothing is on its way." } else { "" };
    let told = [
        tag("h2").say("On their way").into(),
        Html::from(tag("p").say(told)),
        tag("ul").class("plain-list").all(lines).into(),
    ];
    Ok(tag("section").with("id", "coming").all(told).into())
}

fn coming(part: &Part, need: &Need, jobs: &[Job]) -> Html {
    let whose = match jobs.iter().find(|job| need.job == Some(job.id)) {
        Some(job) => {
            let link = tag("a").with("href", &format!("/jobs/{}/work#parts", job.number));
            link.say(&format!("for job {}", job.number)).into()
        }
        None => Html::from(tag("span").say("for the shelf")),
    };
    let form = tag("form").with("method", "post").with("action", "/parts/orders/came").all([
        hidden("need", &need.id.to_string()),
        hidden("version", &need.version.to_string()),
        tag("button").class("plain").with("aria-label", &format!("{} came", part.name)).say("It came").into(),
    ]);
    let told = tag("strong").say(&format!("{} × {} ", need.quantity, part.name));
    tag("li").class("check").hold(told).hold(whose).hold(form).into()
}

/// The list as a file.
pub(crate) async fn csv(State(app): State<App>) -> Result<Response, Trouble> {
    let text = order_csv(&order_list(app.store()).await?);
    let headers =
        [(CONTENT_TYPE, "text/csv; charset=utf-8"), (CONTENT_DISPOSITION, "attachment; filename=\"orders.csv\"")];
    Ok((headers, text).into_response())
}

/// Notes that a part was ordered: for the jobs that want it, the rest for the shelf.
pub(crate) async fn order(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(form): Form<Ordered>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let part: Part = write.get(Id::parse(&form.part)?).await?;
    let line = order_list(&write).await?.into_iter().find(|line| line.part.id == part.id);
    if line.as_ref().map(|line| line.quantity) != Some(form.quantity) {
        drop(write);
        let now = line.map_or(0, |line| line.quantity);
        let wrong =
            format!("The list moved meanwhile: of {} {now} are now to be ordered. Nothing was noted.", part.name);
        return refused(&app, &seat, wrong).await;
    }
    note_order(&write, &part, form.quantity).await?;
    write.commit().await?;
    Ok(Redirect::to("/parts/orders").into_response())
}

/// What is read here is led on in the same write: nobody else can have changed it.
async fn note_order(write: &Write, part: &Part, quantity: i64) -> Result<(), Error> {
    let mut left = quantity;
    for need in needs_for(write, part.id).await?.into_iter().filter(|need| need.state == NeedState::Wanted) {
        if need.quantity <= left {
            left -= need.quantity;
            let _only_writer = write.lead_need(&need, NeedState::Ordered).await?;
        }
    }
    if left > 0 {
        let need = write.add(Need::for_shelf(write, part, left)).await?;
        let _only_writer = write.lead_need(&need, NeedState::Ordered).await?;
    }
    Ok(())
}

/// Notes that what was ordered came.
pub(crate) async fn came(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(form): Form<Came>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let need: Need = write.get(Id::parse(&form.need)?).await?;
    let wrong = match write.lead_need(&Need { version: form.version, ..need }, NeedState::Arrived).await {
        Ok(Saved::Saved(_)) => {
            write.commit().await?;
            return Ok(Redirect::to("/parts/orders#coming").into_response());
        }
        Ok(Saved::Clash { theirs, .. }) => {
            let state = crate::page::words::need_state(theirs.state).to_lowercase();
            format!("Somebody else changed “{}” meanwhile: it is now {state}.", theirs.text)
        }
        Err(Error::Part(refusal)) => format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint()),
        Err(other) => return Err(other.into()),
    };
    drop(write);
    refused(&app, &seat, wrong).await
}

async fn refused(app: &App, seat: &Seat, wrong: String) -> Result<Response, Trouble> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(app, seat, &[wrong]).await?).into_response())
}
