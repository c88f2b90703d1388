//! `records list`: the open jobs, or all of them.

use super::told::{Owned, called, labelled, state};
use crate::args::ListArgs;
use crate::desk_records;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table};
use serde_json::{Value, json};
use toothsayer_records::{Moment, Store, WallClock, latest_jobs, today};

/// Jobs, a line for each.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &ListArgs) -> Result<String, Failure> {
    let view = store.view().await?;
    let jobs =
        if args.all { latest_jobs(&view, args.below, args.most).await? } else { today(&view, args.most).await? };
    let progress = desk_records::Counted::new(jobs.len() as u64);
    let mut rows = Vec::new();
    for job in jobs {
        rows.push(Owned::of(&view, job).await?);
        progress.tell(rows.len() as u64);
    }
    if desk.global.json {
        let jobs: Vec<Value> = rows.iter().map(Owned::json).collect();
        return json::text(&json!({ "jobs": jobs }));
    }
    let mut paper = Paper::new();
    write(&rows, args, &WallClock::of_shop(&view).await?, &mut paper);
    Ok(paper.finish())
}

fn write(rows: &[Owned], args: &ListArgs, clock: &WallClock, paper: &mut Paper) {
    if rows.is_empty() {
        return paper.paragraph(if args.all { "There is no such job." } else { "No job is open." });
    }
    let mut table = Table::new(&["Job>", "Truck", "Customer", "Stands", "Promised", "Came with"]);
    let now = Moment::now();
    for Owned { job, truck, customer } in rows {
        let late = job.due.is_some_and(|due| job.open && due < now);
        let due = job.due.map_or("–".to_owned(), |due| clock.day(due).to_string());
        table.row(vec![
            Cell::plain(job.number.to_string()),
            Cell::plain(labelled(truck)),
            Cell::plain(called(customer)),
            Cell::plain(state(job)),
            Cell::plain(if late { format!("{due}, late") } else { due }),
            Cell::plain(job.complaint.replace('-', " ")),
        ]);
    }
    paper.table(&table);
    if rows.len() as u64 == u64::from(args.most) {
        paper.blank();
        let more = rows.last().filter(|_| args.all).map(|last| format!("--below {}", last.job.number));
        paper.paragraph(&format!("There may be more: {}.", more.unwrap_or_else(|| "--most".to_owned())));
    }
}
