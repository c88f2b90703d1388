//! `fault-book`: what is known of causes, checks and work; one entry in plain words; a shop's own book checked.

mod content;
mod explain;
mod graph;

use crate::args::FaultBookArgs;
use crate::failure::Failure;
use crate::input::{Desk, read_book};
use crate::json;
use crate::paper::{Cell, Paper, Table};
use crate::words::{chance, minutes};
use serde_json::json;
use std::path::Path;
use toothsayer_fault_book::FaultBook;

/// Lists the book, explains one entry, draws it, or checks another one.
pub fn run(desk: &Desk<'_>, args: &FaultBookArgs) -> Result<String, Failure> {
    if let Some(path) = &args.check {
        return checked(desk, path);
    }
    if args.graph {
        return graph::graph(&desk.book, args.entry.as_deref());
    }
    if desk.global.json {
        return json::text(&content::as_json(&desk.book));
    }
    let mut paper = Paper::new();
    match &args.entry {
        None => write_list(&desk.book, &mut paper),
        Some(id) => explain::explain(&desk.book, id, &mut paper)?,
    }
    Ok(paper.finish())
}

/// What a sound book holds; every problem of another is told by the reader.
fn checked(desk: &Desk<'_>, path: &Path) -> Result<String, Failure> {
    let book = read_book(path)?;
    let (causes, checks, steps) = (book.causes().len(), book.findings().len(), book.steps().len());
    if desk.global.json {
        return json::text(&json!({ "causes": causes, "findings": checks, "steps": steps, "name": book.name() }));
    }
    let mut paper = Paper::new();
    paper.paragraph(&format!("The book of {} holds {causes} causes, {checks} checks and {steps} steps.", book.name()));
    Ok(paper.finish())
}

fn write_list(book: &FaultBook, paper: &mut Paper) {
    paper.paragraph(&format!(
        "The book of {}: {} causes, {} checks, {} steps. `toothsayer fault-book ID` explains an entry.",
        book.name(),
        book.causes().len(),
        book.findings().len(),
        book.steps().len()
    ));
    paper.heading("Checks, in bench order");
    let mut table = Table::new(&["check", "question", "time>", "measures"]);
    for finding in book.findings() {
        let measures = finding.value.as_ref().map_or("", |value| value.kind.name());
        table.row(vec![
            Cell::plain(finding.id.clone()),
            Cell::plain(finding.question.clone()),
            Cell::plain(minutes(finding.minutes)),
            Cell::plain(measures),
        ]);
    }
    paper.table(&table);
    paper.heading("Causes");
    let mut table = Table::new(&["cause", "name", "beforehand>"]);
    for cause in book.causes() {
        table.row(vec![
            Cell::plain(cause.id.clone()),
            Cell::plain(cause.name.clone()),
            Cell::plain(chance(cause.prior.mean())),
        ]);
    }
    paper.table(&table);
    paper.heading("How teeth fail");
    for mode in book.modes() {
        paper.item("·", &format!("{}: {}", mode.name, mode.plain));
    }
    paper.blank();
    paper.paragraph("In a job file:  [[findings]]  check = \"motor-rocks\"  answer = \"yes\"  value = \"0.45 mm\"");
    paper.paragraph(&format!("Numbers of the book: {}.", book.source()));
}
