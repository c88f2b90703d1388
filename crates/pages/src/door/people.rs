//! The shop's people: who may sign in, and as what. The owner adds them.

use crate::app::App;
use crate::door::first_run::account_problems;
use crate::door::guard::Seat;
use crate::door::password;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Error, Id, Person, Reach, Role, Saved, everybody};

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
    let lines = people.iter().map(|person| one(seat, person));
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

/// Somebody, with what the owner may change of them.
fn one(seat: &Seat, person: &Person) -> Html {
    let gone = if person.active { "" } else { ", no longer here" };
    let told = format!(" · {}{gone}", crate::page::words::role(person.role));
    let named = tag("p").hold(tag("strong").say(&person.name)).say(&told);
    if person.id == seat.person.id {
        let own = tag("p").hold(tag("a").with("href", "/people/me").say("Your account and password"));
        return tag("li").class("check").hold(named).hold(own).into();
    }
    let form = || {
        let form = tag("form").with("method", "post").with("action", &format!("/people/{}", person.id));
        form.class("answer").hold(hidden("version", &person.version.to_string()))
    };
    let (to, words) = if person.active { ("gone", "No longer works here") } else { ("here", "Works here again") };
    let button = tag("button").class("plain").with("name", "to").with("value", to).say(words);
    let new = input("password", "password").with("autocomplete", "new-password").flag("required", true);
    let password = form()
        .hold(field("New password for them", new, "Every device of theirs is signed out."))
        .hold(tag("button").class("plain").with("name", "to").with("value", "with-password").say("Set the password"));
    let more = tag("details").hold(tag("summary").say("Change")).hold(form().hold(button)).hold(password);
    tag("li").class("check").hold(named).hold(more).into()
}

/// What is to become of somebody.
#[derive(Deserialize)]
pub(crate) struct Change {
    version: i64,
    to: Become,
    #[serde(default)]
    password: String,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Become {
    Gone,
    Here,
    WithPassword,
}

/// Lets somebody in no longer, or again, or with another password; their sessions end.
pub(crate) async fn change(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(change): Form<Change>,
) -> Result<Response, Trouble> {
    let hash = match change.to {
        Become::WithPassword => match password::refusal(&change.password) {
            Some(wrong) => return refused(&app, &seat, wrong).await,
            None => Some(password::hash(change.password).await?),
        },
        _ => None,
    };
    let write = seat.write(&app).await?;
    let now: Person = write.get(Id::parse(&id).map_err(|_| Trouble::NoPage)?).await?;
    let active = match change.to {
        Become::Gone => false,
        Become::Here => true,
        Become::WithPassword => now.active,
    };
    let changed = Person { active, password: hash.or(now.password.clone()), version: change.version, ..now };
    match write.save(changed).await {
        Ok(Saved::Saved(person)) => {
            write.sign_out_everywhere(person.id).await?;
            write.commit().await?;
            Ok(Redirect::to("/people").into_response())
        }
        Ok(Saved::Clash { .. }) => {
            drop(write);
            refused(&app, &seat, "Somebody else changed this account meanwhile: look at it again.".into()).await
        }
        Err(Error::Constraint { .. }) => {
            drop(write);
            refused(&app, &seat, "The shop keeps at least one owner.".into()).await
        }
        Err(other) => Err(other.into()),
    }
}

async fn refused(app: &App, seat: &Seat, wrong: String) -> Result<Response, Trouble> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, form(app, seat, "", &[wrong]).await?).into_response())
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
