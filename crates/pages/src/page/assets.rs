//! What pages need beside their HTML: the style sheet and the script modules, each with its content's hash in its name, so
//! that browsers keep it for good.

use crate::page::trouble::Trouble;
use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};
use std::sync::LazyLock;

/// Style sheets in their order, after those of the verdict page and the drawings.
const STYLES: [&str; 4] = [
    include_str!("../../assets/bench.css"),
    include_str!("../../assets/decide.css"),
    include_str!("../../assets/work.css"),
    include_str!("../../assets/link.css"),
];
/// Script modules, one a subject; every page works without them.
const SCRIPTS: [(&str, &str); 4] = [
    ("live", include_str!("../../assets/live.js")),
    ("sending", include_str!("../../assets/sending.js")),
    ("hold", include_str!("../../assets/hold.js")),
    ("photos", include_str!("../../assets/photos.js")),
];

/// An asset.
struct Asset {
    address: String,
    media: &'static str,
    text: String,
}

/// The style sheet first, then the scripts.
static ASSETS: LazyLock<Vec<Asset>> = LazyLock::new(|| {
    let style = format!("{}\n{}", toothsayer_report::page_rules(), STYLES.join("\n"));
    let mut all = vec![Asset::new("bench", "css", "text/css; charset=utf-8", style)];
    let script = |(name, text): &(&str, &str)| Asset::new(name, "js", "text/javascript; charset=utf-8", (*text).into());
    all.extend(SCRIPTS.iter().map(script));
    all
});

impl Asset {
    fn new(name: &str, end: &str, media: &'static str, text: String) -> Self {
        let hash = Sha256::digest(text.as_bytes());
        let hash: String = hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
        Self { address: format!("/assets/{name}-{hash}.{end}"), media, text }
    }
}

/// The style sheet's address.
pub(crate) fn style_address() -> &'static str {
    ASSETS.first().map_or("", |style| &style.address)
}

/// The scripts' addresses.
pub(crate) fn script_addresses() -> impl Iterator<Item = &'static str> {
    ASSETS.iter().skip(1).map(|script| script.address.as_str())
}

/// An asset by its name.
pub(crate) async fn asset(Path(name): Path<String>) -> Result<Response, Trouble> {
    let known = |asset: &&Asset| asset.address.strip_prefix("/assets/") == Some(name.as_str());
    let asset = ASSETS.iter().find(known).ok_or(Trouble::NoPage)?;
    let headers = [(CONTENT_TYPE, asset.media), (CACHE_CONTROL, "public, max-age=31536000, immutable")];
    Ok((headers, asset.text.as_str()).into_response())
}
