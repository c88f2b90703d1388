//! `backup`: the whole shop in one file, consistent while others work, read back before it counts.

use crate::args::BackupArgs;
use crate::desk_records::{Counted, beside, closed, existing, private, unwritable, waiting};
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use serde_json::json;
use std::fs::{File, rename};
use std::io::{BufReader, BufWriter, Write};
use std::path::Path;
use toothsayer_records::{Store, View, check_archive, rows_in, write_archive};

/// Writes the backup beside its place, reads it back, and puts it there.
pub fn run(desk: &Desk<'_>, args: &BackupArgs) -> Result<String, Failure> {
    let path = args.file.as_path();
    if path.exists() && !args.replace {
        let hint = "give another name, or --replace to write over it";
        return Err(Failure::could(format!("{} is there already", path.display()), hint));
    }
    let (rows, place) = waiting(async {
        let store = existing(&args.kept).await?;
        let place = store.place().to_string();
        let done = backup(&store, path).await.map(|rows| (rows, place));
        closed(store, done).await
    })?;
    let bytes = std::fs::metadata(path).map_err(|error| unwritable(path, &error))?.len();
    if desk.global.json {
        return json::text(
            &json!({ "file": path, "place": place, "rows": rows, "size_byte": bytes, "verified": true }),
        );
    }
    let mut paper = Paper::new();
    paper.paragraph(&format!(
        "{place} is written to {}: {rows} rows, {bytes} bytes, read back whole. It holds customers' names: keep it as \
         you keep your other papers, and keep one outside the shop.",
        path.display()
    ));
    Ok(paper.finish())
}

async fn backup(store: &Store, path: &Path) -> Result<u64, Failure> {
    let part = beside(path);
    let view = store.view().await?;
    let done = write(&view, &part).await.and_then(|rows| verified(&part, rows));
    match done {
        Ok(rows) => rename(&part, path).map(|()| rows).map_err(|error| unwritable(path, &error)),
        Err(failure) => {
            // What is half written helps nobody; where it cannot even be taken away, the first failure says more.
            let _ = std::fs::remove_file(&part);
            Err(failure)
        }
    }
}

async fn write(view: &View, part: &Path) -> Result<u64, Failure> {
    let mut out = BufWriter::new(private(part)?);
    let progress = Counted::new(rows_in(view).await?);
    let rows = write_archive(view, &mut out, |rows| progress.tell(rows)).await?;
    out.flush().and_then(|()| out.get_ref().sync_all()).map_err(|error| unwritable(part, &error))?;
    Ok(rows)
}

/// Reads the file from the disk as a restore would.
fn verified(part: &Path, written: u64) -> Result<u64, Failure> {
    let file = File::open(part).map_err(|error| unwritable(part, &error))?;
    let progress = Counted::new(written);
    let read = check_archive(&mut BufReader::new(file), |rows| progress.tell(rows))?;
    if read == written {
        return Ok(read);
    }
    Err(Failure::could(
        format!("{written} rows were written and {read} read back"),
        "is the disk well? try another one",
    ))
}
