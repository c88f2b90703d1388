//! Watches every request: counts it, tells of it, and gives its answer an id by which it is found again.

use crate::app::App;
use crate::operation::log::Line;
use crate::operation::metrics::Asked;
use crate::routes::routes;
use axum::extract::{MatchedPath, Request, State};
use axum::http::{HeaderName, HeaderValue, Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;
use toothsayer_records::Moment;

/// Where an answer carries its request's id.
static ID: HeaderName = HeaderName::from_static("x-request-id");
/// What stands for an address that is in no row.
const NO_ROW: &str = "none";

/// Gives out ids: when the program began, and a number.
pub(crate) struct Ids {
    began: i64,
    next: AtomicU64,
}

impl Default for Ids {
    fn default() -> Self {
        Self { began: Moment::now().to_ms(), next: AtomicU64::new(1) }
    }
}

impl Ids {
    fn next(&self) -> String {
        format!("{:x}-{:x}", self.began, self.next.fetch_add(1, Ordering::Relaxed))
    }
}

/// Watches a request from its head to the head of its answer.
pub(crate) async fn watched(State(app): State<App>, request: Request, next: Next) -> Response {
    let (at, began, id) = (Moment::now(), Instant::now(), app.ids.next());
    let (route, method) = (row(&request), method(request.method()));
    let mut response = next.run(request).await;
    let (status, seconds) = (response.status(), began.elapsed().as_secs_f64());
    app.metrics.answered(Asked { route, method, class: class(status) }, seconds);
    app.setting.log.tell(&Line { at, id: &id, method, route, status: status.as_u16(), seconds });
    if let Ok(value) = HeaderValue::from_str(&id) {
        response.headers_mut().insert(ID.clone(), value);
    }
    response
}

/// The path of the table's row that a request goes to, with what varies in braces.
fn row(request: &Request) -> &'static str {
    let path = request.extensions().get::<MatchedPath>().map_or(NO_ROW, MatchedPath::as_str);
    routes().iter().find(|route| route.path == path).map_or(NO_ROW, |route| route.path)
}

/// One of few words: a stranger's own method is not counted by its name.
fn method(method: &Method) -> &'static str {
    match *method {
        Method::GET => "GET",
        Method::HEAD => "HEAD",
        Method::POST => "POST",
        _ => "other",
    }
}

fn class(status: StatusCode) -> &'static str {
    match status.as_u16() {
        ..200 => "1xx",
        200..300 => "2xx",
        300..400 => "3xx",
        400..500 => "4xx",
        _ => "5xx",
    }
}
