//! The audit trail: who changed what and when, only ever added to.
//!
//! It never holds what may tell of a person, so that a customer can be erased while the trail stays whole.

use crate::error::Result;
use crate::id::Id;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::row::{Cell, Row, map_of_row, shown_open};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

/// One line of the audit trail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AuditEntry {
    /// Its id.
    pub id: Id<AuditEntry>,
    /// Its number: 1, 2, 3 … without a gap.
    pub step: i64,
    /// When.
    pub at: Moment,
    /// Who; nobody where the program did.
    pub who: Option<Id<Person>>,
    /// Of which table.
    pub subject: String,
    /// Of which row.
    pub row_key: String,
    /// What was done.
    pub act: String,
    /// The fields: the new value, or the old and the new one; `true` for what is not copied here.
    pub what: Value,
}

impl Record for AuditEntry {
    const TABLE: &'static Table = &TABLE;
}

pub(crate) const TABLE: Table = Table {
    name: "audit",
    one: "line of the audit trail",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("step", Kind::Integer),
        Column::new("at", Kind::Time),
        Column::new("who", Kind::Id).optional(),
        Column::text("subject"),
        Column::text("row_key"),
        Column::text("act"),
        Column::new("what", Kind::Json),
    ],
};

/// What happened to one row, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn audit_of(at: &impl Reach, key: &str) -> Result<Vec<AuditEntry>> {
    list(at, OF_ROW, vec![sql::text(key)]).await
}

/// The number of the newest line: every change makes it larger.
///
/// # Errors
/// The database does not answer.
pub async fn newest_change(at: &impl Reach) -> Result<i64> {
    sql::ask_number(at.connection(), NEWEST, vec![]).await
}

/// The question for the newest line's number.
pub(crate) const NEWEST: &str = "SELECT COALESCE(MAX(step), 0) FROM audit";

/// Writes a line about a row.
pub(crate) async fn note(write: &Write, table: &Table, act: &str, before: Option<&Row>, after: &Row) -> Result<()> {
    let key = match after.first() {
        Some(Cell::Text(key)) => key.clone(),
        _ => String::new(),
    };
    say(write, Told { subject: table.name, key: &key, act, what: told(table, before, after)? }).await
}

/// What a line says.
pub(crate) struct Told<'a> {
    pub(crate) subject: &'a str,
    pub(crate) key: &'a str,
    pub(crate) act: &'a str,
    pub(crate) what: Value,
}

/// Writes a line. Writers follow one another, so the numbers have no gap and no twin.
pub(crate) async fn say(write: &Write, told: Told<'_>) -> Result<()> {
    let acting = write.acting();
    let values = vec![
        sql::text(Id::<AuditEntry>::new(acting.at)),
        sql::number(acting.at.to_ms()),
        acting.who.map_or(Cell::Null, |who| Cell::Text(who.to_string())).bound(Kind::Id),
        sql::text(told.subject),
        sql::text(told.key),
        sql::text(told.act),
        sql::text(told.what),
    ];
    let sql = "INSERT INTO audit (id, step, at, who, subject, row_key, act, what) \
               SELECT $1, COALESCE(MAX(step), 0) + 1, $2, $3, $4, $5, $6, $7 FROM audit";
    sql::run(write.connection(), sql, values).await?;
    Ok(())
}

fn told(table: &Table, before: Option<&Row>, after: &Row) -> Result<Value> {
    let new = map_of_row(table, after, shown_open)?;
    let old = before.map(|row| map_of_row(table, row, shown_open)).transpose()?;
    let mut what = Map::new();
    for column in table.columns.iter().skip(1) {
        let (was, is) =
            (old.as_ref().and_then(|old| old.get(column.name)), new.get(column.name).unwrap_or(&Value::Null));
        let same = if old.is_some() { was == Some(is) } else { is.is_null() };
        if !same && !["version", "changed"].contains(&column.name) {
            what.insert(column.name.to_owned(), difference(column, was, is));
        }
    }
    Ok(Value::Object(what))
}

fn difference(column: &Column, was: Option<&Value>, is: &Value) -> Value {
    match was {
        _ if column.personal => Value::Bool(true),
        None => is.clone(),
        Some(was) => json!([was, is]),
    }
}

/// The end of the question for what happened to one row.
pub(crate) const OF_ROW: &str = "WHERE row_key = $1 ORDER BY step";
