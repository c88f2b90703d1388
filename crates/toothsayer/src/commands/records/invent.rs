//! `records invent`: empty records filled with a shop that does not exist, to try everything on.

use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use serde_json::json;
use toothsayer_invented_shop::{Nature, SEED, fill};
use toothsayer_records::Store;

/// Fills the records: all of it or nothing.
pub async fn run(desk: &Desk<'_>, store: &Store) -> Result<String, Failure> {
    let nature = Nature::of(&desk.book)?;
    let jobs = fill(store, &desk.book, &nature, SEED).await?;
    let place = store.place().to_string();
    if desk.global.json {
        return json::text(&json!({ "place": place, "jobs": jobs, "invented": true }));
    }
    let mut paper = Paper::new();
    paper.paragraph(&format!(
        "{place} holds two years of a shop that does not exist: {jobs} jobs. Everybody and everything in it is invented; \
         it tells nothing of real trucks. `toothsayer records list` shows what is open."
    ));
    Ok(paper.finish())
}
