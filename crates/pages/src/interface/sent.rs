//! What programs send: JSON, numbers in addresses, keys of requests; what is none of these is told as a problem.

use crate::interface::problem::Problem;
use axum::Json;
use axum::extract::{FromRequest, FromRequestParts, Path, Request};
use axum::http::request::Parts;
use axum::http::{HeaderMap, StatusCode};
use serde::de::DeserializeOwned;

/// The header with the key of a request that may be sent twice and counts once.
pub(crate) const KEY: &str = "idempotency-key";
/// Letters of such a key.
const KEY_LETTERS: [usize; 2] = [8, 100];

/// A body of JSON.
pub(crate) struct Sent<T>(pub T);

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Sent<T> {
    type Rejection = Problem;

    async fn from_request(request: Request, state: &S) -> Result<Self, Problem> {
        match Json::<T>::from_request(request, state).await {
            Ok(Json(sent)) => Ok(Self(sent)),
            Err(refused) => {
                let hint = "send application/json as the description at /api/v1/openapi.json says";
                Err(Problem::new(refused.status(), &refused.body_text(), hint))
            }
        }
    }
}

/// The number of a job in an address; what is no number is no job's.
pub(crate) struct Number(pub i64);

impl<S: Send + Sync> FromRequestParts<S> for Number {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let text = Path::<String>::from_request_parts(parts, state).await.map_or_else(|_| String::new(), |path| path.0);
        let told = format!("there is no job {text}");
        text.parse().map(Self).map_err(|_| Problem::new(StatusCode::NOT_FOUND, &told, "look for it in /api/v1/jobs"))
    }
}

/// The key of a request.
pub(crate) fn key(headers: &HeaderMap) -> Result<&str, Problem> {
    let [least, most] = KEY_LETTERS;
    let key = headers.get(KEY).and_then(|value| value.to_str().ok()).unwrap_or("");
    if (least..=most).contains(&key.len()) {
        return Ok(key);
    }
    let told = format!("the header Idempotency-Key has {} letters; {least} to {most} are needed", key.len());
    Err(Problem::new(
        StatusCode::UNPROCESSABLE_ENTITY,
        &told,
        "draw a new key for each job, and send it again with the same",
    ))
}
