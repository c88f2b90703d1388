//! Whether the records are whole: what the database says of itself, every row read, and what must be so between rows.

use crate::archive::page;
use crate::error::Result;
use crate::migrate::schema_of;
use crate::reach::Reach;
use crate::row::{Cell, map_of_row, shown_open};
use crate::sql;
use crate::store::View;
use crate::table::{Kind, Table};
use crate::tables::TABLES;

/// What was looked at, and what is wrong.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Health {
    /// The schema that the records are of.
    pub schema: i64,
    /// How many rows each table has.
    pub rows: Vec<(&'static str, u64)>,
    /// What is wrong, in words; nothing where all is well.
    pub faults: Vec<String>,
}

/// Most faults of one sort that are told.
const MOST_TOLD: usize = 20;

/// What must be so between rows: a question that answers the keys of those where it is not, and what is wrong then.
const BETWEEN: [(&str, &str); 6] = [
    (
        "SELECT id FROM job WHERE state <> COALESCE((SELECT to_state FROM job_move WHERE job = job.id ORDER BY step DESC LIMIT 1), '')",
        "stands in another state than its life says: job",
    ),
    (
        "SELECT one.id FROM job_move AS one WHERE one.from_state <> COALESCE((SELECT to_state FROM job_move AS other \
         WHERE other.job = one.job AND other.step = one.step - 1), '')",
        "does not begin where the one before it ended: step of a job",
    ),
    ("SELECT id FROM audit WHERE step > (SELECT COUNT(*) FROM audit)", "stands behind a gap: line of the audit trail"),
    (
        "SELECT id FROM customer WHERE erased = 0 AND NOT EXISTS (SELECT 1 FROM search_doc WHERE subject = 'customer' AND row_key = customer.id)",
        "cannot be found by its words: customer",
    ),
    (
        "SELECT id FROM truck WHERE NOT EXISTS (SELECT 1 FROM search_doc WHERE subject = 'truck' AND row_key = truck.id)",
        "cannot be found by its words: truck",
    ),
    (
        "SELECT id FROM job WHERE NOT EXISTS (SELECT 1 FROM search_doc WHERE subject = 'job' AND row_key = job.id)",
        "cannot be found by its words: job",
    ),
];

/// Looks at everything that the view shows; `tell` hears how many rows are read.
///
/// # Errors
/// The database does not answer.
pub async fn health_of(view: &View, mut tell: impl FnMut(u64) + Send) -> Result<Health> {
    let mut health = Health { schema: schema_of(view).await?, ..Health::default() };
    if !sql::is_postgres(view.connection()) {
        health.faults.extend(integrity(view).await?);
    }
    let mut before = 0;
    for table in &TABLES {
        let rows = read_all(view, table, &mut health.faults, |rows| tell(before + rows)).await?;
        before += rows;
        health.rows.push((table.name, rows));
    }
    for (question, wrong) in BETWEEN {
        let keys = sql::ask(view.connection(), question, vec![]).await?;
        for key in keys.iter().take(MOST_TOLD) {
            if let Cell::Text(key) = Cell::read(key, 0, Kind::Text)? {
                health.faults.push(format!("{wrong} {key}"));
            }
        }
    }
    Ok(health)
}

/// What SQLite says of its file (sqlite.org/pragma.html, integrity_check and foreign_key_check).
async fn integrity(view: &View) -> Result<Vec<String>> {
    let mut faults = Vec::new();
    // The check alone goes by what this connection remembers of the full-text index, and takes parts that another one has
    // merged since for lost. A question makes it look again.
    sql::ask(view.connection(), "SELECT rowid FROM search_text WHERE search_text MATCH 'a' LIMIT 1", vec![]).await?;
    for answer in sql::ask(view.connection(), "PRAGMA integrity_check(20)", vec![]).await? {
        match Cell::read(&answer, 0, Kind::Text)? {
            Cell::Text(said) if said != "ok" => faults.push(format!("the file: {said}")),
            _ => {}
        }
    }
    for answer in sql::ask(view.connection(), "PRAGMA foreign_key_check", vec![]).await?.iter().take(MOST_TOLD) {
        if let (Cell::Text(table), Cell::Text(parent)) =
            (Cell::read(answer, 0, Kind::Text)?, Cell::read(answer, 2, Kind::Text)?)
        {
            faults.push(format!("a row of {table} points at a {parent} that is not there"));
        }
    }
    Ok(faults)
}

/// Reads every row of a table as what its columns say; answers how many there are.
async fn read_all(
    view: &View,
    table: &Table,
    faults: &mut Vec<String>,
    mut tell: impl FnMut(u64) + Send,
) -> Result<u64> {
    let (mut rows, mut last) = (0, None);
    loop {
        let page = page(view, table, last.as_ref()).await?;
        for row in &page {
            match map_of_row(table, row, shown_open) {
                Err(error) if faults.len() < MOST_TOLD => faults.push(error.to_string()),
                _ => {}
            }
        }
        rows += page.len() as u64;
        tell(rows);
        match page.into_iter().last() {
            Some(row) => last = Some(row),
            None => return Ok(rows),
        }
    }
}
