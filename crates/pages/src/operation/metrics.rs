//! What the pages do, in numbers: requests by row and result, how long they take, verdicts, sessions, connections.

use crate::app::App;
use crate::interface::problem::Problem;
use crate::operation::exposition::{Exposition, MEDIA};
use crate::page::trouble::Trouble;
use axum::extract::State;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use toothsayer_records::{Moment, everybody, sessions_of};

/// Ends of the histogram's buckets, s: from a static page to a verdict with ranges.
const BUCKETS_S: [f64; 11] = [0.005, 0.01, 0.02, 0.04, 0.06, 0.1, 0.3, 1.0, 3.0, 10.0, 30.0];

/// Which requests are counted together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Asked {
    /// The row of the table.
    pub route: &'static str,
    /// How it was asked.
    pub method: &'static str,
    /// The hundreds of the answer's status.
    pub class: &'static str,
}

/// Times of one row.
#[derive(Clone, Copy, Debug, Default)]
struct Times {
    /// Requests up to each bucket's end, and above the last below all others.
    in_bucket: [u64; BUCKETS_S.len()],
    count: u64,
    sum_s: f64,
}

impl Times {
    fn add(&mut self, seconds: f64) {
        if let Some(bucket) = BUCKETS_S.iter().position(|end| seconds <= *end) {
            self.in_bucket[bucket] += 1;
        }
        self.count += 1;
        self.sum_s += seconds;
    }
}

/// The requests that were answered.
#[derive(Debug, Default)]
struct Requests {
    count: BTreeMap<Asked, u64>,
    times: BTreeMap<&'static str, Times>,
}

/// All that is counted since the program began.
pub(crate) struct Metrics {
    began: Moment,
    requests: Mutex<Requests>,
    connections: AtomicU64,
}

impl Default for Metrics {
    fn default() -> Self {
        Self { began: Moment::now(), requests: Mutex::default(), connections: AtomicU64::new(0) }
    }
}

impl Metrics {
    /// Counts a request that is answered.
    pub(crate) fn answered(&self, asked: Asked, seconds: f64) {
        if let Ok(mut requests) = self.requests.lock() {
            *requests.count.entry(asked).or_default() += 1;
            requests.times.entry(asked.route).or_default().add(seconds);
        }
    }

    /// Somebody has connected.
    pub(crate) fn connected(&self) {
        self.connections.fetch_add(1, Ordering::Relaxed);
    }

    /// They are gone.
    pub(crate) fn gone(&self) {
        self.connections.fetch_sub(1, Ordering::Relaxed);
    }

    fn requests(&self, text: &mut Exposition) {
        let Ok(requests) = self.requests.lock() else { return };
        text.family("toothsayer_requests", "counter", "Requests by row of the table, method and class of the answer.");
        for (Asked { route, method, class }, count) in &requests.count {
            let labels = [("route", *route), ("method", *method), ("status", *class)];
            text.sample("toothsayer_requests_total", &labels, count);
        }
        text.family("toothsayer_request_seconds", "histogram", "How long an answer takes to begin, in seconds.");
        for (route, times) in &requests.times {
            histogram(text, route, times);
        }
    }
}

fn histogram(text: &mut Exposition, route: &str, times: &Times) {
    let mut below = 0;
    for (end, count) in BUCKETS_S.iter().zip(times.in_bucket) {
        below += count;
        text.sample("toothsayer_request_seconds_bucket", &[("route", route), ("le", &format!("{end:?}"))], below);
    }
    text.sample("toothsayer_request_seconds_bucket", &[("route", route), ("le", "+Inf")], times.count);
    text.sample("toothsayer_request_seconds_sum", &[("route", route)], times.sum_s);
    text.sample("toothsayer_request_seconds_count", &[("route", route)], times.count);
}

/// Sessions that go now.
async fn sessions(app: &App) -> Result<usize, Trouble> {
    let (now, mut open) = (Moment::now(), 0);
    for person in everybody(app.store()).await? {
        open += sessions_of(app.store(), person.id).await?.iter().filter(|session| session.ends > now).count();
    }
    Ok(open)
}

/// All numbers, for the owner.
pub(crate) async fn show(State(app): State<App>) -> Result<Response, Trouble> {
    Ok(([(CONTENT_TYPE, MEDIA)], numbers(&app).await?).into_response())
}

/// All numbers, for a program that collects them with a token of the owner's.
#[utoipa::path(get, path = "/api/v1/metrics", tag = "jobs", security(("token" = [])), responses(
    (status = 200, description = "Numbers as OpenMetrics text.", body = String, content_type = "application/openmetrics-text"),
))]
pub(crate) async fn collect(State(app): State<App>) -> Result<Response, Problem> {
    Ok(show(State(app)).await?)
}

async fn numbers(app: &App) -> Result<String, Trouble> {
    let mut text = Exposition::default();
    app.metrics.requests(&mut text);
    let [computed, known] = app.desk.counts();
    text.family("toothsayer_verdicts", "counter", "Bench sheets and verdicts that were computed, or known already.");
    text.sample("toothsayer_verdicts_total", &[("from", "computed")], computed);
    text.sample("toothsayer_verdicts_total", &[("from", "known")], known);
    text.family("toothsayer_sessions", "gauge", "Sessions of people who are signed in.");
    text.sample("toothsayer_sessions", &[], sessions(app).await?);
    text.family("toothsayer_connections", "gauge", "Connections that are open.");
    text.sample("toothsayer_connections", &[], app.metrics.connections.load(Ordering::Relaxed));
    text.family("toothsayer_start_time_seconds", "gauge", "When the program began, in seconds since 1970.");
    text.sample("toothsayer_start_time_seconds", &[], app.metrics.began.to_ms() as f64 / 1e3);
    text.family("toothsayer_build", "info", "Which program this is.");
    text.sample("toothsayer_build_info", &[("version", env!("CARGO_PKG_VERSION"))], 1);
    Ok(text.finish())
}
