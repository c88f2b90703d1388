//! What went wrong, for programs: problem details (RFC 9457).

use crate::door::guard::Seat;
use crate::page::trouble::Trouble;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, HeaderValue, RETRY_AFTER, WWW_AUTHENTICATE};
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use toothsayer_records::Error;
use utoipa::ToSchema;

/// Problem details.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct Problem {
    /// Always "about:blank": the status says what kind of problem it is.
    #[serde(rename = "type")]
    kind: &'static str,
    /// The status in words.
    title: String,
    /// The status.
    #[schema(minimum = 400, maximum = 599)]
    status: u16,
    /// What went wrong.
    detail: String,
    /// The way out.
    hint: String,
    /// Everything that is wrong with what was sent.
    problems: Vec<String>,
}

impl Problem {
    /// Of a status.
    pub(crate) fn new(status: StatusCode, detail: &str, hint: &str) -> Self {
        let title = status.canonical_reason().unwrap_or("Problem").to_owned();
        let (detail, hint) = (detail.to_owned(), hint.to_owned());
        Self { kind: "about:blank", title, status: status.as_u16(), detail, hint, problems: Vec::new() }
    }

    /// What was sent cannot be kept, for these reasons.
    pub(crate) fn unfit(problems: Vec<String>) -> Self {
        let detail = problems.join(" ");
        Self {
            problems,
            ..Self::new(StatusCode::UNPROCESSABLE_ENTITY, &detail, "mend what is named and send it again")
        }
    }

    /// With another status.
    pub(crate) fn with(self, status: StatusCode) -> Self {
        let title = status.canonical_reason().unwrap_or("Problem").to_owned();
        Self { title, status: status.as_u16(), ..self }
    }

    /// More was sent than is taken.
    pub(crate) fn too_large() -> Self {
        Self::new(StatusCode::PAYLOAD_TOO_LARGE, "more was sent than is taken here", "send less at once")
    }

    /// Nobody's token came with it.
    pub(crate) fn no_token() -> Self {
        let hint = "send \"Authorization: Bearer\" with a token that the shop's owner made";
        Self::new(StatusCode::UNAUTHORIZED, "no token that goes came with the request", hint)
    }

    /// Too many wrong tokens came from there.
    pub(crate) fn too_often() -> Self {
        let told = "too many wrong tokens came from this address";
        Self::new(StatusCode::TOO_MANY_REQUESTS, told, "wait ten minutes and try again")
    }

    /// The token's person may not.
    pub(crate) fn not_yours(seat: &Seat) -> Self {
        let role = crate::page::words::role(seat.person.role);
        let told = format!("the token is of somebody whose role is {role}; this is for others to do");
        Self::new(StatusCode::FORBIDDEN, &told, "use a token of somebody who may")
    }
}

impl From<Trouble> for Problem {
    fn from(trouble: Trouble) -> Self {
        Self::new(trouble.status(), &trouble.to_string(), trouble.hint())
    }
}

impl From<Error> for Problem {
    fn from(error: Error) -> Self {
        Trouble::from(error).into()
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let body = serde_json::to_vec(&self).unwrap_or_default();
        let mut answer = (status, [(CONTENT_TYPE, "application/problem+json")], body).into_response();
        let (name, value) = match status {
            // RFC 6750, 3: a request without a token that goes is told how one is sent.
            StatusCode::UNAUTHORIZED => (WWW_AUTHENTICATE, "Bearer"),
            StatusCode::TOO_MANY_REQUESTS => (RETRY_AFTER, "600"),
            _ => return answer,
        };
        answer.headers_mut().insert(name, HeaderValue::from_static(value));
        answer
    }
}
