//! Signing in and out.

use crate::app::App;
use crate::door::cookie;
use crate::door::guard::Seat;
use crate::door::limiter::Counted;
use crate::door::password;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{ConnectInfo, Extension, Form, Query, State};
use axum::http::header::{RETRY_AFTER, SET_COOKIE, USER_AGENT};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use std::net::SocketAddr;
use toothsayer_records::{Acting, Id, Moment, Person, everybody};

/// Minutes for which a session goes on after somebody was last seen: a day at the bench.
pub(crate) const MINUTES: i64 = 12 * 60;
/// Letters of a device's name that are kept.
const DEVICE: usize = 120;

/// Where to go on.
#[derive(Deserialize)]
pub(crate) struct Wanted {
    #[serde(default)]
    to: String,
}

/// The form.
#[derive(Deserialize)]
pub(crate) struct Tried {
    name: String,
    password: String,
    #[serde(default)]
    to: String,
}

/// The page; on the first run that of the owner's account.
pub(crate) async fn show(State(app): State<App>, Query(wanted): Query<Wanted>) -> Result<Response, Trouble> {
    if app.first_run_is_due().await? {
        return Ok(Redirect::to("/first-run").into_response());
    }
    if app.ways_in.are_given() {
        return Ok(by_the_printed_address());
    }
    Ok(form("", &wanted.to, &[]))
}

fn form(name: &str, to: &str, wrong: &[String]) -> Response {
    let fields = tag("form").with("method", "post").with("action", "/sign-in").class("narrow-form").all([
        hidden("to", to),
        field(
            "Name",
            input("text", "name").with("value", name).with("autocomplete", "username").flag("required", true),
            "",
        ),
        field(
            "Password",
            input("password", "password").with("autocomplete", "current-password").flag("required", true),
            "",
        ),
        tag("button").say("Sign in").into(),
    ]);
    let told = [tag("h1").say("Sign in").into(), problems(wrong), Html::from(fields)];
    page(&Frame::plain("Sign in"), tag("main").with("id", "main").class("door").all(told).into())
}

/// Where nobody has a password, because the shop is there to be tried out.
fn by_the_printed_address() -> Response {
    let told = [
        Html::from(tag("h1").say("Come in")),
        tag("p")
            .say(
                "This shop is there to be tried out. Open one of the addresses that were printed where it was started.",
            )
            .into(),
    ];
    page(&Frame::plain("Come in"), tag("main").with("id", "main").class("door").all(told).into())
}

/// Signs somebody in, unless their name or address failed too often.
pub(crate) async fn sign_in(
    State(app): State<App>,
    peer: Option<Extension<ConnectInfo<SocketAddr>>>,
    headers: HeaderMap,
    Form(tried): Form<Tried>,
) -> Result<Response, Trouble> {
    let now = Moment::now();
    let name = Counted::Name(tried.name.trim().to_lowercase().chars().take(DEVICE).collect());
    let whose = [name, address(peer)];
    if app.limiter.refuses(&whose, now) {
        let told = form(&tried.name, &tried.to, &["Too many tries: wait ten minutes and try again.".into()]);
        return Ok((StatusCode::TOO_MANY_REQUESTS, [(RETRY_AFTER, "600")], told).into_response());
    }
    app.limiter.failed(&whose, now);
    let person = of_name(&app, &tried.name).await?;
    let hash = person.as_ref().and_then(|person| person.password.clone());
    match (password::fits(tried.password, hash).await, person) {
        (true, Some(person)) => {
            whose.iter().for_each(|one| app.limiter.got_in(one));
            let_in(&app, person.id, &headers, &inside(&tried.to)).await
        }
        _ => {
            let told = form(&tried.name, &tried.to, &["Name and password do not fit together.".into()]);
            Ok((StatusCode::UNAUTHORIZED, told).into_response())
        }
    }
}

/// Whose failures are counted by address.
pub(crate) fn address(peer: Option<Extension<ConnectInfo<SocketAddr>>>) -> Counted {
    Counted::Address(ip(peer))
}

/// Where a request comes from; empty where it comes over no network.
pub(crate) fn ip(peer: Option<Extension<ConnectInfo<SocketAddr>>>) -> String {
    peer.map_or_else(String::new, |Extension(ConnectInfo(address))| address.ip().to_string())
}

/// Somebody who works here and has a password.
async fn of_name(app: &App, name: &str) -> Result<Option<Person>, Trouble> {
    let same = |person: &Person| person.active && person.name.to_lowercase() == name.trim().to_lowercase();
    Ok(everybody(app.store()).await?.into_iter().find(|person| same(person) && person.password.is_some()))
}

/// Begins a session and goes on.
pub(crate) async fn let_in(app: &App, who: Id<Person>, headers: &HeaderMap, to: &str) -> Result<Response, Trouble> {
    let agent = headers.get(USER_AGENT).and_then(|agent| agent.to_str().ok()).unwrap_or("unknown");
    let device: String = agent.chars().take(DEVICE).collect();
    let write = app.store().begin(Acting { who: Some(who), at: Moment::now() }).await?;
    let secret = write.sign_in(who, &device, MINUTES).await?;
    write.commit().await?;
    let cookie = cookie::kept(secret.reveal(), MINUTES, app.setting.https);
    Ok(([(SET_COOKIE, cookie)], Redirect::to(to)).into_response())
}

/// A path of these pages: never an address elsewhere.
pub(crate) fn inside(to: &str) -> String {
    let own =
        to.starts_with('/') && !to.starts_with("//") && to.bytes().all(|byte| byte.is_ascii_graphic() && byte != b'\\');
    if own { to.to_owned() } else { "/".to_owned() }
}

/// Ends the session.
pub(crate) async fn sign_out(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    if let Some(session) = &seat.session {
        let write = seat.write(&app).await?;
        write.sign_out(session).await?;
        write.commit().await?;
    }
    Ok(([(SET_COOKIE, cookie::forgotten())], Redirect::to("/sign-in")).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(to: &str, expected: &str) {
        assert_eq!(inside(to), expected, "{to}");
    }

    #[test]
    fn nobody_is_sent_elsewhere_after_signing_in() {
        check("/jobs/3?a=b", "/jobs/3?a=b");
        for to in ["", "https://example.org", "//example.org", "/\\example.org", "/a\r\nSet-Cookie: b", "javascript:x"]
        {
            check(to, "/");
        }
    }
}
