//! Giving a link out, with its square code; the links of a job, and revoking them.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::hand_over;
use crate::job::way::way;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, hidden, input, page};
use crate::page::stood::Stood;
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, Path, State};
use axum::http::header::HOST;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Id, Job, Moment, Reach, Saved, Token, WallClock, form_key, job_by_number};
use toothsayer_report::SquareCode;

/// Days for which a link goes where nobody says, and at most.
const USUAL_DAYS: i64 = 60;
const MOST_DAYS: i64 = 365;
/// Letters of a label at most.
const LONGEST_LABEL: usize = 80;
/// Names under which this machine alone is reached.
const ONLY_HERE: [&str; 3] = ["localhost", "127.0.0.1", "[::1]"];

/// The form for a new link, as it was typed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    key: String,
    label: String,
    days: String,
}

/// The links of a job, and the form for another one.
pub(crate) fn section(job: &Job, links: &[Token], typed: &Typed, clock: &WallClock) -> Html {
    let now = Moment::now();
    let lines = links.iter().map(|link| line(job, link, clock, now));
    let days = if typed.days.is_empty() { USUAL_DAYS.to_string() } else { typed.days.clone() };
    let key = if typed.key.is_empty() { form_key(now) } else { typed.key.clone() };
    let label = input("text", "label").with("value", &typed.label).with("autocomplete", "off");
    let form =
        tag("form").class("answer").with("method", "post").with("action", &format!("/jobs/{}/links", job.number));
    let form = form.all([
        hidden("key", &key),
        field("For whom", label.with("placeholder", "the customer's phone"), ""),
        field("Days", input("text", "days").with("value", &days).with("inputmode", "numeric"), ""),
        tag("button").say("Make a link").into(),
    ]);
    let told = "One page for the customer's phone: what happened, what was done, what to do next. Whoever has the link \
                sees this job and nothing else, until it ends or is revoked.";
    tag("section")
        .with("id", "links")
        .hold(tag("h2").say("Link for the customer"))
        .hold(tag("p").say(told))
        .hold(form)
        .hold(tag("ul").class("plain-list").all(lines))
        .into()
}

fn line(job: &Job, link: &Token, clock: &WallClock, now: Moment) -> Html {
    let label = if link.label.is_empty() { "A link" } else { &link.label };
    let told = match link.revoked {
        Some(at) => format!(" · revoked on {}", clock.day(at)),
        None if link.ends <= now => format!(" · ended on {}", clock.day(link.ends)),
        None => format!(" · goes until {}", clock.when(link.ends)),
    };
    let line = tag("li").class("link").hold(tag("span").hold(tag("strong").say(label)).say(&told));
    if link.revoked.is_some() || link.ends <= now {
        return line.into();
    }
    let revoke = tag("form")
        .with("method", "post")
        .with("action", &format!("/jobs/{}/links/{}/revoke", job.number, link.id))
        .hold(hidden("version", &link.version.to_string()))
        .hold(tag("button").class("plain").with("aria-label", &format!("Revoke {label}")).say("Revoke"));
    line.hold(revoke).into()
}

/// Makes a link. Its address is shown here alone, for only its hash is kept.
pub(crate) async fn make(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    headers: HeaderMap,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let job = job_by_number(app.store(), number).await?;
    let (days, wrong) = unfit(&typed);
    if !wrong.is_empty() {
        let told = hand_over::sheet(&app, &seat, number, &typed, &wrong).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
    }
    let write = seat.write(&app).await?;
    let content = format!("{number} {typed:?}");
    if write.first_time(&typed.key, content.as_bytes()).await?.is_some() {
        return Ok(Redirect::to(&format!("/jobs/{number}/hand-over#links")).into_response());
    }
    let (token, secret) = write.link(job.id, typed.label.trim(), days * 24 * 60).await?;
    write.was_done(&typed.key, content.as_bytes(), number.into()).await?;
    write.commit().await?;
    let address = address(&app, &headers, secret.reveal());
    Ok((StatusCode::CREATED, made(&seat, number, &token, &address)?).into_response())
}

fn unfit(typed: &Typed) -> (i64, Vec<String>) {
    let mut wrong = Vec::new();
    let letters = typed.label.trim().chars().count();
    if letters > LONGEST_LABEL {
        wrong.push(format!("The label has {letters} letters; up to {LONGEST_LABEL} are allowed."));
    }
    let days = typed.days.trim().parse().ok().filter(|days| (1..=MOST_DAYS).contains(days));
    if days.is_none() {
        wrong.push(format!("Days: “{}” is no whole number from 1 to {MOST_DAYS}.", typed.days.trim()));
    }
    (days.unwrap_or(0), wrong)
}

/// The address as the browser reached these pages: under a name that the guard let through.
fn address(app: &App, headers: &HeaderMap, secret: &str) -> String {
    let host = headers.get(HOST).and_then(|host| host.to_str().ok()).unwrap_or("localhost");
    let scheme = if app.setting.https { "https" } else { "http" };
    format!("{scheme}://{host}/link/{secret}")
}

fn made(seat: &Seat, number: i64, token: &Token, address: &str) -> Result<Response, Trouble> {
    let code = SquareCode { text: address, told: "The link as a square code" }.svg()?;
    let host = address.split('/').nth(2).unwrap_or("");
    let here =
        ONLY_HERE.iter().any(|name| host == *name || host.strip_prefix(name).is_some_and(|end| end.starts_with(':')));
    let warning = match here {
        true => tag("p").class("notice doubt").say(
            "This address is reached on this machine alone. Open these pages under the name that the shop's network \
             knows, and make the link there.",
        ),
        false => {
            tag("p").say("The customer's phone reads the code with its camera, where it reaches the shop's pages.")
        }
    };
    let told = [
        way(seat, number, "/hand-over"),
        tag("h1").say("A link for the customer").into(),
        tag("p")
            .say(&format!(
                "It goes until {}. It is shown now and never again, not even by the shop's own records.",
                seat.clock.when(token.ends)
            ))
            .into(),
        Html::from(tag("figure").class("code").hold(Html::written(code))),
        tag("p").class("address").hold(tag("a").with("href", address).say(address)).into(),
        warning.into(),
        tag("p").class("actions").hold(back(number)).into(),
    ];
    let title = format!("Link to job {number}");
    Ok(page(&Frame::of(&title, seat), tag("main").with("id", "main").all(told).into()))
}

fn back(number: i64) -> Html {
    tag("a")
        .class("button plain")
        .with("href", &format!("/jobs/{number}/hand-over#links"))
        .say("Back to the hand-over")
        .into()
}

/// Revokes a link.
pub(crate) async fn revoke(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path((number, id)): Path<(i64, String)>,
    Form(stood): Form<Stood>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let mut token: Token = write.get(Id::parse(&id)?).await?;
    if token.job != Some(job.id) {
        return Err(Trouble::NoPage);
    }
    // Somebody else can only have revoked it: then it is as it was wanted.
    if token.revoked.is_none() {
        token.version = stood.version;
        match write.revoke(&token).await? {
            Saved::Saved(_) => write.commit().await?,
            Saved::Clash { .. } => {
                let wrong = ["Somebody else changed this link meanwhile: look at it again.".to_owned()];
                drop(write);
                let told = hand_over::sheet(&app, &seat, number, &Typed::default(), &wrong).await?;
                return Ok((StatusCode::CONFLICT, told).into_response());
            }
        }
    }
    Ok(Redirect::to(&format!("/jobs/{number}/hand-over#links")).into_response())
}
