//! `restore`: a backup into SQLite or PostgreSQL, all of it or nothing.

use crate::args::RestoreArgs;
use crate::desk_records::{Counted, closed, made, waiting};
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use serde_json::json;
use std::fs::File;
use std::io::{BufRead, BufReader};
use toothsayer_records::{Store, restore, restore_in_place};

/// Reads the backup once, and keeps what it read only where its checksum fits.
pub fn run(desk: &Desk<'_>, args: &RestoreArgs) -> Result<String, Failure> {
    let unreadable =
        |error| Failure::could(format!("{} cannot be read: {error}", args.file.display()), "check the path");
    let file = File::open(&args.file).map_err(unreadable)?;
    let (rows, place) = waiting(async {
        let store = made(&args.kept).await?;
        let place = store.place().to_string();
        let done = fill(&store, &mut BufReader::new(file), args.replace).await.map(|rows| (rows, place));
        closed(store, done).await
    })?;
    if desk.global.json {
        return json::text(&json!({ "file": args.file, "place": place, "rows": rows }));
    }
    let mut paper = Paper::new();
    paper.paragraph(&format!("{place} holds what {} held: {rows} rows.", args.file.display()));
    Ok(paper.finish())
}

async fn fill(store: &Store, file: &mut (impl BufRead + Send), replace: bool) -> Result<u64, Failure> {
    // How many rows there are stands in the last line, which is not read before the others.
    let progress = Counted::unknown();
    let tell = |rows| progress.tell(rows);
    let filled = if replace { restore_in_place(store, file, tell).await } else { restore(store, file, tell).await };
    Ok(filled?)
}
