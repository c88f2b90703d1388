//! What pages need beside their HTML: one style sheet, its content's hash in its name, so that browsers keep it for good.

use crate::trouble::Trouble;
use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};
use std::sync::LazyLock;

/// The style sheet's text and address: the verdict page's rules, the drawings', and those of forms and lists.
static STYLE: LazyLock<(String, String)> = LazyLock::new(|| {
    let own = include_str!("../assets/bench.css");
    let text = format!("{}\n{own}", toothsayer_report::page_rules());
    let hash = Sha256::digest(text.as_bytes());
    let name: String = hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    (text, format!("/assets/bench-{name}.css"))
});

/// The style sheet's address.
pub(crate) fn style_address() -> &'static str {
    &STYLE.1
}

/// An asset by its name.
pub(crate) async fn asset(Path(name): Path<String>) -> Result<Response, Trouble> {
    let (text, address) = &*STYLE;
    if address.strip_prefix("/assets/") != Some(name.as_str()) {
        return Err(Trouble::NoPage);
    }
    let headers = [(CONTENT_TYPE, "text/css; charset=utf-8"), (CACHE_CONTROL, "public, max-age=31536000, immutable")];
    Ok((headers, text.as_str()).into_response())
}
