//! The shop's people: who may sign in, and as what. The owner adds them.

use crate::app::App;
use crate::door::first_run::account_problems;
use crate::door::guard::Seat;
use crate::door::password;
use crate::door::person::{Change, one};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::role;
use axum::extract::{Extension, Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Id, Person, Reach, Role, everybody};

/// The form.
#[derive(Deserialize)]
pub(crate) struct New {
    name: String,
    role: Role,
    password: String,
    again: String,
}

/// What the page is shown with: what somebody typed that was not kept, and why not.
#[derive(Default)]
pub(crate) struct Shown<'a> {
    /// Who was to be added.
    pub new: Option<&'a New>,
    /// Who was to be changed, and how.
    pub changed: Option<(Id<Person>, &'a Change)>,
    /// What is wrong.
    pub wrong: &'a [String],
}

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    form(&app, &seat, &Shown::default()).await
}

/// The roles, each by its word.
pub(crate) fn roles() -> [(String, String); 3] {
    [Role::Technician, Role::Counter, Role::Owner].map(|one| (role(one).to_owned(), role(one).to_owned()))
}

/// The page with what was typed.
pub(crate) async fn form(app: &App, seat: &Seat, shown: &Shown<'_>) -> Result<Response, Trouble> {
    let people = everybody(app.store()).await?;
    let of = |person: &Person| shown.changed.filter(|(id, _)| *id == person.id).map(|(_, change)| change);
    let lines = people.iter().map(|person| one(seat, person, of(person)));
    let name = shown.new.map_or("", |new| &new.name);
    let chosen = shown.new.map_or(Role::Technician, |new| new.role);
    let fields = tag("form").with("method", "post").with("action", "/people").class("narrow-form").all([
        field("Name", input("text", "name").with("value", name).with("autocomplete", "off").flag("required", true), ""),
        field(
            "Role",
            choice("role", &roles(), role(chosen)),
            "Technicians write findings and work; the counter also takes trucks in; the owner may do everything.",
        ),
        password::fields("First password"),
        tag("button").say("Add").into(),
    ]);
    let told = [
        tag("h1").say("People").into(),
        problems(shown.wrong),
        Html::from(tag("ul").class("plain-list").all(lines)),
        tag("h2").say("Add somebody").into(),
        fields.into(),
    ];
    Ok(page(&Frame::of("People", seat), tag("main").with("id", "main").all(told).into()))
}

/// Whether somebody else bears this name: people sign in by it.
pub(crate) async fn named_so(at: &impl Reach, name: &str, but: Option<Id<Person>>) -> toothsayer_records::Result<bool> {
    let same = |person: &Person| person.name.to_lowercase() == name.trim().to_lowercase() && Some(person.id) != but;
    Ok(everybody(at).await?.iter().any(same))
}

/// Adds somebody.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(new): Form<New>,
) -> Result<Response, Trouble> {
    let mut wrong = account_problems(&new.name, &new.password, &new.again);
    let name = new.name.trim();
    if named_so(app.store(), name, None).await? {
        wrong.push(format!("There is somebody of the name {name} already."));
    }
    if !wrong.is_empty() {
        let shown = Shown { new: Some(&new), wrong: &wrong, ..Shown::default() };
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&app, &seat, &shown).await?).into_response());
    }
    let hash = password::hash(new.password.clone()).await?;
    let write = seat.write(&app).await?;
    write.add(Person { password: Some(hash), ..Person::new(&write, name, new.role) }).await?;
    write.commit().await?;
    Ok(Redirect::to("/people").into_response())
}
