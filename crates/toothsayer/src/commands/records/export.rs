//! `records export`: a job as a job file, every table as CSV, or what is kept of a customer.

use super::told::{by_name, called};
use crate::args::ExportArgs;
use crate::desk_records::{Counted, private, unwritable};
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use serde_json::{Map, Value, json};
use std::io::{BufWriter, Write};
use std::path::Path;
use toothsayer_records::{Reach, Store, TABLES, View, data_of, export, job_by_number, rows_in, write_csv};

/// What is asked for, on standard output or where it is asked for.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &ExportArgs) -> Result<String, Failure> {
    let view = store.view().await?;
    match (&args.csv, &args.customer, args.job) {
        (Some(folder), _, _) => csv(desk, &view, folder).await,
        (_, Some(name), _) => customer(desk, &view, args, name).await,
        (_, _, Some(number)) => job(desk, &view, args, number).await,
        _ => Err(Failure::usage("nothing is named to be exported", "give a job, --csv FOLDER, or --customer NAME")),
    }
}

async fn job(desk: &Desk<'_>, at: &impl Reach, args: &ExportArgs, number: i64) -> Result<String, Failure> {
    let job = job_by_number(at, number).await?;
    let text = export(at, &job).await?;
    if let Some(path) = &args.output {
        write(path, &text)?;
    }
    if desk.global.json {
        return json::text(&json!({ "job": job.number, "file": text }));
    }
    Ok(match &args.output {
        Some(path) => format!("Job {} is written to {}.\n", job.number, path.display()),
        None => text,
    })
}

/// What is kept of a customer is JSON, with or without --json: any program reads it.
async fn customer(desk: &Desk<'_>, at: &impl Reach, args: &ExportArgs, name: &str) -> Result<String, Failure> {
    let customer = by_name(at, name).await?;
    let text = json::text(&data_of(at, customer.id).await?)?;
    let Some(path) = &args.output else { return Ok(text) };
    write(path, &text)?;
    if desk.global.json {
        return json::text(&json!({ "customer": customer.id, "file": path }));
    }
    Ok(format!("Everything that is kept of {} is written to {}.\n", called(&customer), path.display()))
}

/// A file for each table, in a folder that holds nothing yet.
async fn csv(desk: &Desk<'_>, view: &View, folder: &Path) -> Result<String, Failure> {
    std::fs::create_dir_all(folder).map_err(|error| unwritable(folder, &error))?;
    if std::fs::read_dir(folder).map_err(|error| unwritable(folder, &error))?.next().is_some() {
        let message = format!("{} holds something already", folder.display());
        return Err(Failure::could(message, "name a folder that is empty or not there yet"));
    }
    let progress = Counted::new(rows_in(view).await?);
    let (mut rows, mut done) = (Map::new(), 0);
    for table in &TABLES {
        let path = folder.join(format!("{}.csv", table.name));
        let mut out = BufWriter::new(private(&path)?);
        let written = write_csv(view, table, &mut out).await?;
        done += written;
        progress.tell(done);
        rows.insert(table.name.to_owned(), json!(written));
    }
    drop(progress);
    if desk.global.json {
        return json::text(&json!({ "folder": folder, "rows": Value::Object(rows) }));
    }
    let tables = TABLES.len();
    Ok(format!("{tables} tables with {done} rows are written to {}. They hold customers' names.\n", folder.display()))
}

fn write(path: &Path, text: &str) -> Result<(), Failure> {
    private(path)?.write_all(text.as_bytes()).map_err(|error| unwritable(path, &error))
}
