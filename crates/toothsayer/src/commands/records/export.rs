//! `records export`: a job as a job file.

use crate::args::ExportArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use serde_json::json;
use std::path::Path;
use toothsayer_records::{Store, export, job_by_number};

/// The job file, on standard output or where it is asked for.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &ExportArgs) -> Result<String, Failure> {
    let view = store.view().await?;
    let job = job_by_number(&view, args.job).await?;
    let text = export(&view, &job).await?;
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

fn write(path: &Path, text: &str) -> Result<(), Failure> {
    let wrong = |error| Failure::could(format!("{} cannot be written: {error}", path.display()), "check the path");
    std::fs::write(path, text).map_err(wrong)
}
