//! Every page's address, and who may ask for it: the router is made of this table alone, so that none is forgotten.

use crate::app::App;
use crate::counter::{ask, take_in};
use crate::door::guard::{guard, known_host, safe_headers};
use crate::door::{first_run, own_account, people, person, sign_in, tokens, way_in};
use crate::interface::problem::Problem;
use crate::interface::{description, findings, jobs, verdict as interface_verdict};
use crate::job::{
    alternatives, answering, bench, built, finding, hand_over, lead, lines, offers, papers, photo, photos, tried,
    verdict, work,
};
use crate::link::{answer, give, page as link};
use crate::live::changes;
use crate::operation::watch::watched;
use crate::operation::{health, metrics};
use crate::page::assets;
use crate::page::form_only::no_page_of_a_form;
use crate::page::trouble::{Trouble, plainly};
use crate::shop::{customer, find, help, orders, part, parts, settings, today, truck};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::extract::Request;
use axum::http::{StatusCode, Uri};
use axum::middleware::{Next, from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get, post};
use std::time::Duration;
use toothsayer_records::{Deed, LARGEST_PHOTO};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::csrf::CsrfLayer;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::timeout::TimeoutLayer;

/// Who may ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// Anybody who reaches the machine.
    Anybody,
    /// Somebody who is signed in and whose role may do this.
    May(Deed),
    /// A program with the token of somebody whose role may do this.
    Program(Deed),
}

/// How it is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verb {
    /// To look.
    Get,
    /// To change something.
    Post,
}

/// A row of the table.
pub struct Route {
    /// How it is asked for.
    pub verb: Verb,
    /// Its address, with what varies in braces.
    pub path: &'static str,
    /// Who may ask.
    pub access: Access,
    /// Bytes that may be sent with it.
    pub largest: usize,
    serve: fn() -> MethodRouter<App>,
}

const fn route(verb: Verb, path: &'static str, access: Access, serve: fn() -> MethodRouter<App>) -> Route {
    Route { verb, path, access, largest: LARGEST_FORM, serve }
}

/// A row whose form carries a photo.
const fn with_photo(path: &'static str, serve: fn() -> MethodRouter<App>) -> Route {
    Route { verb: Verb::Post, path, access: Access::May(Deed::Work), largest: LARGEST_PHOTO + LARGEST_FORM, serve }
}

use Access::{Anybody, May, Program};
use Verb::{Get, Post};

static ROUTES: &[Route] = &[
    route(Get, "/health", Anybody, || get(health::show)),
    route(Get, "/assets/{name}", Anybody, || get(assets::asset)),
    route(Get, "/first-run", Anybody, || get(first_run::show)),
    route(Post, "/first-run", Anybody, || post(first_run::make_owner)),
    route(Get, "/sign-in", Anybody, || get(sign_in::show)),
    route(Post, "/sign-in", Anybody, || post(sign_in::sign_in)),
    route(Get, "/come-in", Anybody, || get(way_in::come_in)),
    route(Post, "/sign-out", May(Deed::Look), || post(sign_in::sign_out)),
    route(Get, "/", May(Deed::Look), || get(today::show)),
    route(Get, "/changes", May(Deed::Look), || get(changes::changes)),
    route(Get, "/find", May(Deed::Look), || get(find::show)),
    route(Get, "/customers/{id}", May(Deed::Look), || get(customer::show)),
    route(Post, "/customers/{id}", May(Deed::Counter), || post(customer::keep)),
    route(Get, "/counter", May(Deed::Look), || get(ask::show)),
    route(Get, "/take-in", May(Deed::Counter), || get(take_in::show)),
    route(Post, "/take-in", May(Deed::Counter), || post(take_in::take_in)),
    route(Get, "/jobs/{number}", May(Deed::Look), || get(bench::show)),
    route(Post, "/jobs/{number}/findings", May(Deed::Work), || post(finding::keep)),
    route(Post, "/jobs/{number}/findings/back", May(Deed::Work), || post(finding::take_back)),
    route(Post, "/jobs/{number}/lead", May(Deed::Work), || post(lead::lead)),
    route(Get, "/jobs/{number}/build", May(Deed::Look), || get(built::show)),
    route(Post, "/jobs/{number}/build", May(Deed::Work), || post(built::keep)),
    route(Post, "/jobs/{number}/visit", May(Deed::Counter), || post(built::visit::keep)),
    route(Get, "/jobs/{number}/verdict", May(Deed::Look), || get(verdict::show)),
    route(Get, "/jobs/{number}/file", May(Deed::Look), || get(verdict::file)),
    route(Get, "/metrics", May(Deed::Own), || get(metrics::show)),
    route(Get, "/jobs/{number}/work", May(Deed::Look), || get(work::show)),
    route(Post, "/jobs/{number}/sign", May(Deed::Work), || post(work::sign::sign)),
    route(Post, "/jobs/{number}/clock/start", May(Deed::Work), || post(work::clock::start)),
    route(Post, "/jobs/{number}/clock/stop", May(Deed::Work), || post(work::clock::end)),
    route(Post, "/jobs/{number}/needs", May(Deed::Work), || post(work::needs::add)),
    route(Post, "/jobs/{number}/needs/choose", May(Deed::Work), || post(work::needs::choose_part)),
    route(Post, "/jobs/{number}/needs/lead", May(Deed::Work), || post(work::needs::lead)),
    route(Get, "/jobs/{number}/photos", May(Deed::Look), || get(photos::show)),
    with_photo("/jobs/{number}/photos", || post(photos::keep)),
    route(Get, "/photos", May(Deed::Look), || get(photos::unfiled)),
    with_photo("/photos", || post(photos::keep_unfiled)),
    route(Post, "/photos/{id}", May(Deed::Work), || post(photos::file)),
    route(Get, "/photos/{id}/{scale}", May(Deed::Look), || get(photo::show)),
    route(Post, "/photos/{id}/forget", May(Deed::Work), || post(photos::take_away)),
    route(Get, "/parts", May(Deed::Look), || get(parts::show)),
    route(Post, "/parts", May(Deed::Own), || post(parts::add)),
    route(Get, "/parts/orders", May(Deed::Look), || get(orders::show)),
    route(Post, "/parts/orders", May(Deed::Counter), || post(orders::order)),
    route(Post, "/parts/orders/came", May(Deed::Work), || post(orders::came)),
    route(Get, "/parts/orders.csv", May(Deed::Look), || get(orders::csv)),
    route(Get, "/parts/{id}", May(Deed::Look), || get(part::show)),
    route(Post, "/parts/{id}", May(Deed::Own), || post(part::keep)),
    route(Post, "/parts/{id}/shelf", May(Deed::Work), || post(part::move_pieces)),
    route(Get, "/help", May(Deed::Look), || get(help::show)),
    route(Get, "/trucks/{tag}", May(Deed::Look), || get(truck::show)),
    route(Post, "/trucks/{tag}", May(Deed::Work), || post(truck::keep)),
    route(Get, "/jobs/{number}/hold", May(Deed::Look), || get(tried::show)),
    route(Get, "/jobs/{number}/alternatives", May(Deed::Look), || get(alternatives::show)),
    route(Post, "/jobs/{number}/offers", May(Deed::Counter), || post(offers::offer)),
    route(Post, "/jobs/{number}/answer", May(Deed::Counter), || post(answering::keep)),
    route(Post, "/jobs/{number}/lines", May(Deed::Counter), || post(lines::add)),
    route(Post, "/jobs/{number}/lines/take-away", May(Deed::Counter), || post(lines::take_away)),
    route(Get, "/jobs/{number}/papers/{file}", May(Deed::Look), || get(papers::paper)),
    route(Get, "/jobs/{number}/care.ics", May(Deed::Look), || get(papers::calendar)),
    route(Get, "/jobs/{number}/hand-over", May(Deed::Look), || get(hand_over::show)),
    route(Post, "/jobs/{number}/links", May(Deed::Counter), || post(give::make)),
    route(Post, "/jobs/{number}/links/{id}/revoke", May(Deed::Counter), || post(give::revoke)),
    route(Get, "/link/{secret}", Anybody, || get(link::show)),
    route(Post, "/link/{secret}/answer", Anybody, || post(answer::keep)),
    route(Get, "/link/{secret}/care.ics", Anybody, || get(link::calendar)),
    route(Get, "/link/{secret}/hand-over.pdf", Anybody, || get(link::paper)),
    route(Get, "/link/{secret}/photos/{id}", Anybody, || get(link::photo)),
    route(Get, "/tokens", May(Deed::Own), || get(tokens::show)),
    route(Post, "/tokens", May(Deed::Own), || post(tokens::make)),
    route(Post, "/tokens/{id}/revoke", May(Deed::Own), || post(tokens::revoke)),
    route(Get, "/api/v1/openapi.json", Anybody, || get(description::show)),
    route(Get, "/api/v1/jobs", Program(Deed::Look), || get(jobs::list)),
    Route { largest: LARGEST_FILE, ..route(Post, "/api/v1/jobs", Program(Deed::Counter), || post(jobs::take_in)) },
    route(Get, "/api/v1/jobs/{number}", Program(Deed::Look), || get(jobs::one)),
    route(Get, "/api/v1/jobs/{number}/file", Program(Deed::Look), || get(jobs::file)),
    route(Get, "/api/v1/jobs/{number}/findings", Program(Deed::Look), || get(findings::list)),
    route(Post, "/api/v1/jobs/{number}/findings", Program(Deed::Work), || post(findings::keep)),
    route(Get, "/api/v1/jobs/{number}/verdict", Program(Deed::Look), || get(interface_verdict::show)),
    route(Get, "/api/v1/metrics", Program(Deed::Own), || get(metrics::collect)),
    route(Get, "/people", May(Deed::Own), || get(people::show)),
    route(Post, "/people", May(Deed::Own), || post(people::add)),
    route(Post, "/people/{id}", May(Deed::Own), || post(person::change)),
    route(Get, "/people/me", May(Deed::Look), || get(own_account::show)),
    route(Post, "/people/me", May(Deed::Look), || post(own_account::change)),
    route(Get, "/settings", May(Deed::Own), || get(settings::show)),
    route(Post, "/settings", May(Deed::Own), || post(settings::keep)),
];

/// Every row.
pub fn routes() -> &'static [Route] {
    ROUTES
}

/// Bytes of a job file with what goes with it.
const LARGEST_FILE: usize = 512 * 1024;
/// Bytes of a form at most: words and a few numbers.
const LARGEST_FORM: usize = 64 * 1024;
/// How long an answer may take: a verdict with ranges on a slow machine.
const LONGEST_ANSWER: Duration = Duration::from_secs(90);

/// The pages.
pub fn router(app: &App) -> Router {
    let mut router = Router::new();
    for row in routes() {
        let limited = (row.serve)().route_layer(RequestBodyLimitLayer::new(row.largest));
        let guarded = limited.route_layer(from_fn_with_state((app.clone(), row.access), guard));
        router = router.route(row.path, guarded);
    }
    router
        .fallback(nothing_there)
        .layer(from_fn(told_as_pages_are))
        .layer(DefaultBodyLimit::disable())
        .layer(CsrfLayer::new())
        .layer(from_fn_with_state(app.clone(), known_host))
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, LONGEST_ANSWER))
        .layer(CompressionLayer::new())
        .layer(CatchPanicLayer::new())
        .layer(from_fn(safe_headers))
        .layer(from_fn_with_state(app.clone(), watched))
        .with_state(app.clone())
}

/// What is told where no row of the table is: to programs as they are told everything.
async fn nothing_there(uri: Uri) -> Response {
    match uri.path().starts_with("/api/") {
        true => Problem::from(Trouble::NoPage).into_response(),
        false => Trouble::NoPage.into_response(),
    }
}

/// What was refused before any row saw it, for its size or for how it was asked, is told as everything else is.
async fn told_as_pages_are(request: Request, next: Next) -> Response {
    let path = request.uri().path().to_owned();
    let by_program = path.starts_with("/api/");
    let response = next.run(request).await;
    match (by_program, response.status()) {
        (true, StatusCode::PAYLOAD_TOO_LARGE) => Problem::too_large().into_response(),
        (false, StatusCode::METHOD_NOT_ALLOWED) => no_page_of_a_form(&path, &response),
        (false, _) => plainly(response).await,
        (true, _) => response,
    }
}
