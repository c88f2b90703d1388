//! Somebody of the shop as the owner sees them: their name and role, their password, whether they still work here.

use crate::app::App;
use crate::door::first_run::name_problem;
use crate::door::guard::Seat;
use crate::door::password;
use crate::door::people::{Shown, form, named_so, roles};
use crate::page::html::{Html, Tag, tag};
use crate::page::shell::{choice, field, hidden, input};
use crate::page::trouble::Trouble;
use crate::page::words::role;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Error, Id, Person, Reach, Role, Saved, Write};

/// What is to become of somebody.
#[derive(Default, Deserialize)]
pub(crate) struct Change {
    version: i64,
    to: Become,
    #[serde(default)]
    name: String,
    #[serde(default)]
    role: Option<Role>,
    #[serde(default)]
    password: String,
    #[serde(default)]
    again: String,
}

#[derive(Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Become {
    /// Of another name or role.
    #[default]
    Named,
    Gone,
    Here,
    WithPassword,
}

/// Somebody, with what the owner may change of them and what was typed of it.
pub(crate) fn one(seat: &Seat, person: &Person, typed: Option<&Change>) -> Html {
    let gone = if person.active { "" } else { ", no longer here" };
    let told = format!(" · {}{gone}", role(person.role));
    let head = tag("p").hold(tag("strong").say(&person.name)).say(&told);
    let more = if person.id == seat.person.id { own_password() } else { others(person) };
    let open = typed.is_some();
    let change = tag("details").flag("open", open).hold(tag("summary").say("Change"));
    tag("li").class("check").hold(head).hold(change.hold(named(person, typed)).hold(more)).into()
}

fn post(person: &Person, to: &str) -> Tag {
    let form =
        tag("form").with("method", "post").with("action", &format!("/people/{}", person.id)).class("narrow-form");
    form.hold(hidden("version", &person.version.to_string())).hold(hidden("to", to))
}

/// The form for name and role.
fn named(person: &Person, typed: Option<&Change>) -> Html {
    let name = typed.filter(|typed| typed.to == Become::Named).map_or(&person.name, |typed| &typed.name);
    let chosen = typed.and_then(|typed| typed.role).unwrap_or(person.role);
    let name = input("text", "name").with("value", name).with("autocomplete", "off").flag("required", true);
    post(person, "named")
        .hold(field("Name", name, "They sign in with it."))
        .hold(field("Role", choice("role", &roles(), role(chosen)), ""))
        .hold(tag("button").class("plain").say("Keep name and role"))
        .into()
}

fn own_password() -> Html {
    tag("p").hold(tag("a").with("href", "/people/me").say("Your account and password")).into()
}

/// What only somebody else can change.
fn others(person: &Person) -> Html {
    let password = post(person, "with-password")
        .hold(password::fields("New password for them"))
        .hold(tag("p").class("small").say("Every device of theirs is signed out then."))
        .hold(tag("button").class("plain").say("Set the password"));
    let here = if person.active {
        goes(person)
    } else {
        post(person, "here").hold(tag("button").class("plain").say("Works here again")).into()
    };
    Html::of([password.into(), here])
}

/// Asked once more: it signs somebody out at once.
fn goes(person: &Person) -> Html {
    let told = format!(
        "Every device of {} is signed out, and they cannot sign in any more. What they did stays theirs; they can be let in \
         again.",
        person.name
    );
    let sure = "Yes, sign them out";
    let button = tag("button").with("aria-label", &format!("{sure}: {}", person.name)).say(sure);
    let form = post(person, "gone").hold(tag("p").say(&told)).hold(button);
    tag("details").hold(tag("summary").say("No longer works here")).hold(form).into()
}

/// Changes somebody.
pub(crate) async fn change(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(mut change): Form<Change>,
) -> Result<Response, Trouble> {
    let id = Id::parse(&id).map_err(|_| Trouble::NoPage)?;
    let wrong = match change.to {
        Become::Named => name_problem(&change.name).into_iter().collect(),
        Become::WithPassword => password::refusals(&change.password, &change.again),
        Become::Gone | Become::Here => Vec::new(),
    };
    if !wrong.is_empty() {
        return refused(&app, &seat, id, &change, wrong).await;
    }
    let hash = match change.to {
        Become::WithPassword => Some(password::hash(std::mem::take(&mut change.password)).await?),
        _ => None,
    };
    let write = seat.write(&app).await?;
    match put(&write, id, &change, hash).await? {
        Some(wrong) => {
            drop(write);
            refused(&app, &seat, id, &change, vec![wrong]).await
        }
        None => {
            write.commit().await?;
            Ok(Redirect::to("/people").into_response())
        }
    }
}

/// Writes it, or says why it cannot be. Whoever is gone, or has another password, is signed out everywhere.
async fn put(write: &Write, id: Id<Person>, change: &Change, hash: Option<String>) -> Result<Option<String>, Trouble> {
    let now: Person = write.get(id).await?;
    let mut changed = Person { version: change.version, ..now };
    match change.to {
        Become::Named if named_so(write, &change.name, Some(id)).await? => {
            return Ok(Some(format!("There is somebody of the name {} already.", change.name.trim())));
        }
        Become::Named => {
            changed.name = change.name.trim().to_owned();
            changed.role = change.role.unwrap_or(changed.role);
        }
        Become::Gone => changed.active = false,
        Become::Here => changed.active = true,
        Become::WithPassword => changed.password = hash,
    }
    match write.save(changed).await {
        Ok(Saved::Saved(_)) if change.to == Become::Named => Ok(None),
        Ok(Saved::Saved(person)) => {
            write.sign_out_everywhere(person.id).await?;
            Ok(None)
        }
        Ok(Saved::Clash { .. }) => Ok(Some("Somebody else changed this account meanwhile: look at it again.".into())),
        Err(Error::Constraint { .. }) => Ok(Some("The shop keeps at least one owner.".into())),
        Err(other) => Err(other.into()),
    }
}

async fn refused(
    app: &App,
    seat: &Seat,
    id: Id<Person>,
    change: &Change,
    wrong: Vec<String>,
) -> Result<Response, Trouble> {
    let shown = Shown { changed: Some((id, change)), wrong: &wrong, ..Shown::default() };
    Ok((StatusCode::UNPROCESSABLE_ENTITY, form(app, seat, &shown).await?).into_response())
}
