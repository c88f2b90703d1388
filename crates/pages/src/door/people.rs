//! The shop's people: who may sign in, and as what. The owner adds them.

use crate::app::App;
use crate::door::first_run::account_problems;
use crate::door::guard::Seat;
use crate::door::password;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, input, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Person, Role, everybody};

/// The form.
#[derive(Deserialize)]
pub(crate) struct New {
    name: String,
    role: Role,
    password: String,
    again: String,
}

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    form(&app, &seat, "", &[]).await
}

async fn form(app: &App, seat: &Seat, name: &str, wrong: &[String]) -> Result<Response, Trouble> {
    let people = everybody(app.store()).await?;
    let lines = people.iter().map(|person| {
        let gone = if person.active { "" } else { ", no longer here" };
        let told = format!(" · {}{gone}", crate::page::words::role(person.role));
        tag("li").hold(tag("strong").say(&person.name)).say(&told).into()
    });
    let roles = [Role::Technician, Role::Counter, Role::Owner].map(|role| {
        let word = crate::page::words::role(role).to_owned();
        (word.clone(), word)
    });
    let new = |name: &str| input("password", name).with("autocomplete", "new-password").flag("required", true);
    let fields = tag("form").with("method", "post").with("action", "/people").class("narrow-form").all([
        field("Name", input("text", "name").with("value", name).with("autocomplete", "off").flag("required", true), ""),
        field(
            "Role",
            choice("role", &roles, "technician"),
            "Technicians write findings and work; the counter also takes trucks in; the owner may do everything.",
        ),
        field("First password", new("password"), ""),
        field("The same again", new("again"), ""),
        tag("button").say("Add").into(),
    ]);
    let told = [
        tag("h1").say("People").into(),
        Html::from(tag("ul").class("plain-list").all(lines)),
        tag("h2").say("Add somebody").into(),
        problems(wrong),
        fields.into(),
    ];
    Ok(page(&Frame::of("People", seat), tag("main").with("id", "main").all(told).into()))
}

/// Adds somebody.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(new): Form<New>,
) -> Result<Response, Trouble> {
    let mut wrong = account_problems(&new.name, &new.password, &new.again);
    let name = new.name.trim();
    let same = |person: &Person| person.name.to_lowercase() == name.to_lowercase();
    if everybody(app.store()).await?.iter().any(same) {
        wrong.push(format!("There is somebody of the name {name} already."));
    }
    if !wrong.is_empty() {
        let told = form(&app, &seat, &new.name, &wrong).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
    }
    let hash = password::hash(new.password).await?;
    let write = seat.write(&app).await?;
    write.add(Person { password: Some(hash), ..Person::new(&write, name, new.role) }).await?;
    write.commit().await?;
    Ok(Redirect::to("/people").into_response())
}
