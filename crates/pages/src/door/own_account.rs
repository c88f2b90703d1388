//! One's own account: the password, and the devices that are signed in.

use crate::app::App;
use crate::door::guard::Seat;
use crate::door::limiter::Counted;
use crate::door::password;
use crate::door::sign_in::let_in;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, input, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use toothsayer_records::{Moment, Person, Reach, Saved, sessions_of};

/// The form.
#[derive(Deserialize)]
pub(crate) struct Change {
    now: String,
    password: String,
    again: String,
}

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    form(&app, &seat, &[]).await
}

async fn form(app: &App, seat: &Seat, wrong: &[String]) -> Result<Response, Trouble> {
    let sessions = sessions_of(app.store(), seat.person.id).await?;
    let lines = sessions.iter().map(|session| {
        let here = if seat.session.as_ref() == Some(session) { " · this one" } else { "" };
        tag("li").say(&format!("{} · last seen {}{here}", session.device, seat.clock.when(session.seen))).into()
    });
    let now = input("password", "now").with("autocomplete", "current-password").flag("required", true);
    let fields = tag("form").with("method", "post").with("action", "/people/me").class("narrow-form").all([
        field("Password now", now, ""),
        password::fields("New password"),
        tag("p").class("small").say("Every other device is signed out then.").into(),
        tag("button").say("Change the password").into(),
    ]);
    let told = [
        tag("h1").say(&seat.person.name).into(),
        problems(wrong),
        tag("h2").say("Change your password").into(),
        Html::from(fields),
        tag("h2").say("Where you are signed in").into(),
        tag("ul").class("plain-list").all(lines).into(),
    ];
    Ok(page(&Frame::of("Your account", seat), tag("main").with("id", "main").all(told).into()))
}

/// Changes the password and ends every session but a new one on this device.
pub(crate) async fn change(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    headers: HeaderMap,
    Form(change): Form<Change>,
) -> Result<Response, Trouble> {
    let mut wrong = password::refusals(&change.password, &change.again);
    if wrong.is_empty() {
        wrong.extend(unknown(&app, &seat.person, change.now).await);
    }
    if !wrong.is_empty() {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&app, &seat, &wrong).await?).into_response());
    }
    let hash = password::hash(change.password).await?;
    let write = seat.write(&app).await?;
    let person: Person = write.get(seat.person.id).await?;
    // Whoever set it anew meanwhile, the owner perhaps, is not overwritten.
    let fresh = Person { password: Some(hash), version: seat.person.version, ..person };
    match write.save(fresh).await? {
        Saved::Saved(person) => {
            write.sign_out_everywhere(person.id).await?;
            write.commit().await?;
            let_in(&app, person.id, &headers, "/people/me").await
        }
        Saved::Clash { .. } => {
            drop(write);
            let wrong = ["Your account was changed meanwhile: load the page again.".to_owned()];
            Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&app, &seat, &wrong).await?).into_response())
        }
    }
}

/// Why the password that somebody says is theirs is not taken; guesses are counted as at the door.
async fn unknown(app: &App, person: &Person, now: String) -> Option<String> {
    let (moment, whose) = (Moment::now(), [Counted::Name(person.name.trim().to_lowercase())]);
    if app.limiter.refuses(&whose, moment) {
        return Some("Too many tries: wait ten minutes and try again.".into());
    }
    app.limiter.failed(&whose, moment);
    if password::fits(now, person.password.clone()).await {
        whose.iter().for_each(|one| app.limiter.got_in(one));
        return None;
    }
    Some("The password now does not fit.".into())
}
