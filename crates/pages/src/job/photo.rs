//! A photo's file, in the size that is asked for.

use super::photos::read;
use crate::app::App;
use crate::page::trouble::Trouble;
use axum::extract::{Path, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use toothsayer_records::{Photo, Scale, photo_bytes};

/// The sizes by their words in addresses.
const SCALES: [(&str, Scale); 3] = [("small", Scale::Small), ("large", Scale::Large), ("original", Scale::Original)];

/// The file. Its pixels never change; only this browser may keep them, for as long as somebody looks at a job.
pub(crate) async fn show(
    State(app): State<App>,
    Path((id, scale)): Path<(String, String)>,
) -> Result<Response, Trouble> {
    let (_, scale) = SCALES.into_iter().find(|(word, _)| *word == scale).ok_or(Trouble::NoPage)?;
    let photo: Photo = read(app.store(), &id).await?;
    let bytes = photo_bytes(app.store(), &photo, scale).await?;
    let media = if scale == Scale::Original { photo.media.as_str() } else { "image/jpeg" };
    Ok(([(CONTENT_TYPE, media), (CACHE_CONTROL, "private, max-age=600")], bytes).into_response())
}
