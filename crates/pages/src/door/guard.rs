//! Who may: the request's host, the session behind its cookie, and what that person may do.

use crate::app::App;
use crate::door::cookie;
use crate::door::limiter::Counted;
use crate::door::sign_in::{MINUTES, ip};
use crate::interface::problem::Problem;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use crate::routes::Access;
use axum::extract::{ConnectInfo, Extension, Request, State};
use axum::http::header::{self, HOST, HeaderName};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use std::net::SocketAddr;
use toothsayer_records::{
    Acting, Deed, Moment, Person, Reach, Result, Session, TokenKind, WallClock, Write, session_of, token_of,
};

/// Minutes after which it is noted again that somebody is still here.
const NOTED_AFTER: i64 = 10;

/// Who sits before the page.
#[derive(Clone, Debug)]
pub(crate) struct Seat {
    /// Who.
    pub person: Person,
    /// Their session; none where a program comes in with their token.
    pub session: Option<Session>,
    /// The shop's clock, which they read times by.
    pub clock: WallClock,
}

impl Seat {
    /// Begins a write of this person, now.
    pub(crate) async fn write(&self, app: &App) -> Result<Write> {
        app.store().begin(Acting { who: Some(self.person.id), at: Moment::now() }).await
    }

    /// Whether they may do it.
    pub(crate) fn may(&self, deed: Deed) -> bool {
        self.person.role.may(deed)
    }
}

/// Lets a request through to its route, or not.
pub(crate) async fn guard(State((app, access)): State<(App, Access)>, mut request: Request, next: Next) -> Response {
    let deed = match access {
        Access::Anybody => return next.run(request).await,
        Access::Program(deed) => return program(app, deed, request, next).await,
        Access::May(deed) => deed,
    };
    match seat(&app, request.headers()).await {
        Err(trouble) => trouble.into_response(),
        Ok(None) => to_sign_in(request.method(), request.uri()),
        Ok(Some(seat)) if !seat.may(deed) => refused(&seat),
        Ok(Some(seat)) => {
            request.extensions_mut().insert(seat);
            next.run(request).await
        }
    }
}

/// Lets a program through that comes with a token; a session's cookie is nothing here, so that no other site's page can use it.
async fn program(app: App, deed: Deed, mut request: Request, next: Next) -> Response {
    let peer = request.extensions().get::<ConnectInfo<SocketAddr>>().cloned().map(Extension);
    match seat_of_token(&app, request.headers(), &[Counted::Secret(ip(peer))]).await {
        Err(problem) => problem.into_response(),
        Ok(seat) if !seat.may(deed) => Problem::not_yours(&seat).into_response(),
        Ok(seat) => {
            request.extensions_mut().insert(seat);
            next.run(request).await
        }
    }
}

/// As whom a program comes in.
async fn seat_of_token(app: &App, headers: &HeaderMap, whose: &[Counted]) -> std::result::Result<Seat, Problem> {
    let now = Moment::now();
    if app.limiter.refuses(whose, now) {
        return Err(Problem::too_often());
    }
    let told = headers.get(header::AUTHORIZATION).and_then(|value| value.to_str().ok());
    let secret = told.and_then(|text| text.split_once(' ')).filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer"));
    let Some((_, secret)) = secret else { return Err(Problem::no_token()) };
    let token = token_of(app.store(), secret.trim(), now).await?;
    match token.filter(|token| token.kind == TokenKind::Program).and_then(|token| token.person) {
        Some(person) => {
            let clock = WallClock::of_shop(app.store()).await?;
            Ok(Seat { person: app.store().get(person).await?, session: None, clock })
        }
        None => {
            app.limiter.failed(whose, now);
            Err(Problem::no_token())
        }
    }
}

/// Who a request is from.
async fn seat(app: &App, headers: &HeaderMap) -> std::result::Result<Option<Seat>, Trouble> {
    let Some(secret) = cookie::secret(headers) else { return Ok(None) };
    let now = Moment::now();
    let Some((session, person)) = session_of(app.store(), secret, now).await? else { return Ok(None) };
    if session.seen.after_minutes(NOTED_AFTER) < now {
        let write = app.write().await?;
        write.was_seen(&session, MINUTES).await?;
        write.commit().await?;
    }
    let clock = WallClock::of_shop(app.store()).await?;
    Ok(Some(Seat { person, session: Some(session), clock }))
}

/// A page that was asked for is come back to; a form that was sent is not sent again.
fn to_sign_in(method: &Method, uri: &Uri) -> Response {
    let wanted = uri.path_and_query().map_or("/", |path| path.as_str());
    let encoded: String = wanted.bytes().map(encoded).collect();
    match (method == Method::GET, wanted) {
        (true, "/") | (false, _) => Redirect::to("/sign-in").into_response(),
        _ => Redirect::to(&format!("/sign-in?to={encoded}")).into_response(),
    }
}

/// Percent-encoding of all but unreserved letters (RFC 3986, 2.3).
fn encoded(byte: u8) -> String {
    match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => char::from(byte).to_string(),
        other => format!("%{other:02X}"),
    }
}

fn refused(seat: &Seat) -> Response {
    let role = crate::page::words::role(seat.person.role);
    let told = [
        Html::from(tag("h1").say("Not yours to do")),
        tag("p").say(&format!("You are signed in as {}, {role}; this is for others to do.", seat.person.name)).into(),
        tag("p").hold(tag("a").class("button").with("href", "/").say("Today's list")).into(),
    ];
    let body = tag("main").with("id", "main").all(told);
    (StatusCode::FORBIDDEN, page(&Frame::of("Not yours to do", seat), body.into())).into_response()
}

/// Answers only under names that are the shop's.
pub(crate) async fn known_host(State(app): State<App>, request: Request, next: Next) -> Response {
    let told = request.headers().get(HOST).and_then(|host| host.to_str().ok());
    let host = told.or(request.uri().authority().map(|authority| authority.as_str())).unwrap_or("");
    match app.setting.hosts.allow(host) {
        true => next.run(request).await,
        false => {
            let told = "these pages do not answer under this name; the owner adds it with --host\n";
            (StatusCode::MISDIRECTED_REQUEST, told).into_response()
        }
    }
}

/// What every answer is sent with.
const HEADERS: [(&str, &str); 6] = [
    (
        "content-security-policy",
        "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self' data: blob:; \
         form-action 'self'; frame-ancestors 'none'; base-uri 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("x-frame-options", "DENY"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];

/// Sends what every answer is sent with; pages are kept nowhere, as they show customers.
pub(crate) async fn safe_headers(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        // A page may ask for less than the rest: the customer's lets its address go nowhere.
        headers.entry(HeaderName::from_static(name)).or_insert(HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}
