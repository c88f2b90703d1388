//! Tokens with which programs come in as somebody of the shop. The owner makes and revokes them.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, hidden, input, page, problems};
use crate::page::stood::Stood;
use crate::page::trouble::Trouble;
use crate::page::words::role;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Id, Moment, Person, Reach, Saved, Token, TokenKind, everybody, form_key, program_tokens};

/// Days for which a token goes where nobody says, and at most.
const USUAL_DAYS: i64 = 90;
const MOST_DAYS: i64 = 730;
/// Letters of a label.
const LABEL_LETTERS: [usize; 2] = [1, 80];

/// The form, as it was typed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    key: String,
    label: String,
    person: String,
    days: String,
}

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    sheet(&app, &seat, &Typed::default(), &[]).await
}

async fn sheet(app: &App, seat: &Seat, typed: &Typed, wrong: &[String]) -> Result<Response, Trouble> {
    let (tokens, people) = (program_tokens(app.store()).await?, everybody(app.store()).await?);
    let now = Moment::now();
    let told = match tokens.is_empty() {
        true => tag("p").say("No program has a token.").into(),
        false => {
            Html::from(tag("ul").class("plain-list").all(tokens.iter().map(|token| line(token, &people, seat, now))))
        }
    };
    let about = "A program that sends a token does what its person may do. What there is to ask is told at ";
    let link = tag("a").with("href", "/api/v1/openapi.json").say("/api/v1/openapi.json");
    let told = [
        Html::from(tag("h1").say("Programs")),
        tag("p").say(about).hold(link).say(" (OpenAPI).").into(),
        told,
        tag("h2").say("Make a token").into(),
        problems(wrong),
        form(&people, typed, now),
    ];
    Ok(page(&Frame::of("Programs", seat), tag("main").with("id", "main").all(told).into()))
}

fn form(people: &[Person], typed: &Typed, now: Moment) -> Html {
    let here = people.iter().filter(|person| person.active);
    let options: Vec<(String, String)> =
        here.map(|person| (person.id.to_string(), format!("{}, {}", person.name, role(person.role)))).collect();
    let days = if typed.days.is_empty() { USUAL_DAYS.to_string() } else { typed.days.clone() };
    let key = if typed.key.is_empty() { form_key(now) } else { typed.key.clone() };
    let label = input("text", "label").with("value", &typed.label).with("autocomplete", "off").flag("required", true);
    tag("form")
        .with("method", "post")
        .with("action", "/tokens")
        .class("narrow-form")
        .all([
            hidden("key", &key),
            field("What for", label, "The program, and where it runs."),
            field("As whom", choice("person", &options, &typed.person), "It may do what they may do."),
            field("Days", input("text", "days").with("value", &days).with("inputmode", "numeric"), ""),
            tag("button").say("Make a token").into(),
        ])
        .into()
}

fn line(token: &Token, people: &[Person], seat: &Seat, now: Moment) -> Html {
    let clock = &seat.clock;
    let who = people.iter().find(|person| Some(person.id) == token.person).map_or("", |person| person.name.as_str());
    let ends = match token.revoked {
        Some(at) => format!("revoked on {}", clock.day(at)),
        None if token.ends <= now => format!("ended on {}", clock.day(token.ends)),
        None => format!("goes until {}", clock.when(token.ends)),
    };
    let told = tag("span").hold(tag("strong").say(&token.label)).say(&format!(" · as {who} · {ends}"));
    let line = tag("li").class("link").hold(told);
    if token.revoked.is_some() || token.ends <= now {
        return line.into();
    }
    let revoke = tag("form")
        .with("method", "post")
        .with("action", &format!("/tokens/{}/revoke", token.id))
        .hold(hidden("version", &token.version.to_string()))
        .hold(tag("button").class("plain").with("aria-label", &format!("Revoke {}", token.label)).say("Revoke"));
    line.hold(revoke).into()
}

/// Makes a token. It is shown here alone, for only its hash is kept.
pub(crate) async fn make(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let people = everybody(app.store()).await?;
    let (asked, wrong) = unfit(&typed, &people);
    let Some((person, days)) = asked else {
        let told = sheet(&app, &seat, &typed, &wrong).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
    };
    let (write, content) = (seat.write(&app).await?, format!("{typed:?}"));
    if write.first_time(&typed.key, content.as_bytes()).await?.is_some() {
        return Ok(Redirect::to("/tokens").into_response());
    }
    let (token, secret) = write.program_token(person, typed.label.trim(), days * 24 * 60).await?;
    write.was_done(&typed.key, content.as_bytes(), days.into()).await?;
    write.commit().await?;
    let told = [
        Html::from(tag("h1").say("A token for a program")),
        tag("p")
            .say(&format!(
                "It goes until {}. It is shown now and never again: the shop keeps nothing that it could be read from.",
                seat.clock.when(token.ends)
            ))
            .into(),
        tag("p").class("address").hold(tag("code").say(secret.reveal())).into(),
        tag("p").say("The program sends it with every request: Authorization: Bearer, a space, the token.").into(),
        tag("p").class("actions").hold(tag("a").class("button plain").with("href", "/tokens").say("Back")).into(),
    ];
    let told = page(&Frame::of("A token", &seat), tag("main").with("id", "main").all(told).into());
    Ok((StatusCode::CREATED, told).into_response())
}

/// As whom and for how many days, or what is wrong.
fn unfit(typed: &Typed, people: &[Person]) -> (Option<(Id<Person>, i64)>, Vec<String>) {
    let mut wrong = Vec::new();
    let [least, most] = LABEL_LETTERS;
    let letters = typed.label.trim().chars().count();
    if letters < least || letters > most {
        wrong.push(format!("What for: {letters} letters; {least} to {most} are allowed."));
    }
    let person = people.iter().find(|person| person.active && person.id.to_string() == typed.person);
    if person.is_none() {
        wrong.push("As whom: choose somebody who works here.".to_owned());
    }
    let days = typed.days.trim().parse().ok().filter(|days| (1..=MOST_DAYS).contains(days));
    if days.is_none() {
        wrong.push(format!("Days: “{}” is no whole number from 1 to {MOST_DAYS}.", typed.days.trim()));
    }
    let asked = person.map(|person| person.id).zip(days).filter(|_| wrong.is_empty());
    (asked, wrong)
}

/// Revokes a token.
pub(crate) async fn revoke(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(stood): Form<Stood>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let mut token: Token = write.get(Id::parse(&id)?).await?;
    if token.kind != TokenKind::Program {
        return Err(Trouble::NoPage);
    }
    // Somebody else can only have revoked it: then it is as it was wanted.
    if token.revoked.is_none() {
        token.version = stood.version;
        match write.revoke(&token).await? {
            Saved::Saved(_) => write.commit().await?,
            Saved::Clash { .. } => {
                drop(write);
                let wrong = ["Somebody else changed this token meanwhile: look at it again.".to_owned()];
                let told = sheet(&app, &seat, &Typed::default(), &wrong).await?;
                return Ok((StatusCode::CONFLICT, told).into_response());
            }
        }
    }
    Ok(Redirect::to("/tokens").into_response())
}
