//! What is shown at an address that only takes forms: a browser stands there after a form was refused, and may load it
//! again or keep it.

use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::routes::{Access, Route, Verb, routes};
use axum::http::StatusCode;
use axum::http::header::ALLOW;
use axum::response::{IntoResponse, Response};

/// Says so, with the way to the page that the address belongs to.
pub(crate) fn no_page_of_a_form(path: &str, refused: &Response) -> Response {
    let told = "This address takes what a form sends, and shows nothing by itself. Loading it sent nothing and changed \
                nothing. If a form was not kept before, fill it in again on its page.";
    let told = [
        Html::from(tag("h1").say("No page of its own")),
        tag("p").class("notice doubt").say(told).into(),
        tag("p").hold(tag("a").class("button").with("href", nearest(path)).say("To the page it belongs to")).into(),
    ];
    let body = tag("main").with("id", "main").all(told);
    let mut answer = (StatusCode::METHOD_NOT_ALLOWED, page(&Frame::plain("No page"), body.into())).into_response();
    if let Some(allowed) = refused.headers().get(ALLOW) {
        answer.headers_mut().insert(ALLOW, allowed.clone());
    }
    answer
}

/// The longest beginning of an address that can be looked at.
fn nearest(path: &str) -> &str {
    let ends = path.match_indices('/').map(|(end, _)| end).skip(1).chain([path.len()]);
    let beginnings = ends.map(|end| &path[..end]).filter(|beginning| routes().iter().any(|row| shows(row, beginning)));
    beginnings.last().unwrap_or("/")
}

/// Whether a row shows a page at an address.
fn shows(row: &Route, path: &str) -> bool {
    let fits = |(own, asked): (&str, &str)| own == asked || (own.starts_with('{') && !asked.is_empty());
    let same_length = row.path.matches('/').count() == path.matches('/').count();
    let for_people = row.verb == Verb::Get && !matches!(row.access, Access::Program(_));
    for_people && same_length && row.path.split('/').zip(path.split('/')).all(fits)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(path: &str, expected: &str) {
        assert_eq!(nearest(path), expected, "{path}");
    }

    #[test]
    fn the_nearest_page_is_the_longest_beginning_that_can_be_looked_at() {
        check("/jobs/1/lines/take-away", "/jobs/1");
        check("/jobs/1/links/5/revoke", "/jobs/1");
        check("/jobs/1/needs/choose", "/jobs/1");
        check("/link/secret/answer", "/link/secret");
        check("/parts/orders/came", "/parts/orders");
        check("/tokens/5/revoke", "/tokens");
        check("/people/5", "/people");
        check("/sign-out", "/");
        check("/", "/");
        check("//elsewhere.example/x", "/");
    }
}
