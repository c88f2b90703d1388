//! `records check`: whether everything is whole.

use crate::desk_records::Counted;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table};
use serde_json::{Map, Value, json};
use toothsayer_records::{Health, Store, health_of, rows_in};

/// Looks at everything; what is wrong makes the command fail.
pub async fn run(desk: &Desk<'_>, store: &Store) -> Result<String, Failure> {
    let view = store.view().await?;
    let progress = Counted::new(rows_in(&view).await?);
    let health = health_of(&view, |rows| progress.tell(rows)).await?;
    drop(progress);
    let place = store.place().to_string();
    if !health.faults.is_empty() {
        let hint = "leave the records as they are, copy them, and restore the last backup into a new place";
        return Err(Failure::could(format!("{place} is not whole\n  {}", health.faults.join("\n  ")), hint));
    }
    if desk.global.json {
        let rows: Map<String, Value> = health.rows.iter().map(|(name, rows)| ((*name).into(), json!(rows))).collect();
        return json::text(&json!({ "place": place, "schema": health.schema, "whole": true, "rows": rows }));
    }
    let mut paper = Paper::new();
    write(&place, &health, &mut paper);
    Ok(paper.finish())
}

fn write(place: &str, health: &Health, paper: &mut Paper) {
    paper.paragraph(&format!("{place} is whole: schema {}, every row read.", health.schema));
    paper.blank();
    let mut table = Table::new(&["Table", "Rows>"]);
    for (name, rows) in &health.rows {
        table.row(vec![Cell::plain(name.replace('_', " ")), Cell::plain(rows.to_string())]);
    }
    paper.table(&table);
}
