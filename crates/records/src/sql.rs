//! The few statements that all tables share, and how any statement is sent.

use crate::error::Result;
use crate::row::{Cell, Row, read_row};
use crate::table::{Kind, Table};
use sea_orm::{ConnectionTrait, DbBackend, QueryResult, Statement, Value};
use std::fmt::Write as _;

/// Text as a parameter.
pub(crate) fn text(text: impl ToString) -> Value {
    Value::String(Some(text.to_string()))
}

/// A number as a parameter.
pub(crate) fn number(number: i64) -> Value {
    Value::BigInt(Some(number))
}

/// Sends a statement that changes rows; answers how many.
pub(crate) async fn run(at: &impl ConnectionTrait, sql: &str, values: Vec<Value>) -> Result<u64> {
    let statement = Statement::from_sql_and_values(at.get_database_backend(), sql, values);
    Ok(at.execute_raw(statement).await?.rows_affected())
}

/// Sends a question.
pub(crate) async fn ask(at: &impl ConnectionTrait, sql: &str, values: Vec<Value>) -> Result<Vec<QueryResult>> {
    let statement = Statement::from_sql_and_values(at.get_database_backend(), sql, values);
    Ok(at.query_all_raw(statement).await?)
}

/// The one number that a question answers; 0 where it answers nothing.
pub(crate) async fn ask_number(at: &impl ConnectionTrait, sql: &str, values: Vec<Value>) -> Result<i64> {
    let answers = ask(at, sql, values).await?;
    let first = answers.first().map(|answer| Cell::read(answer, 0, Kind::Integer)).transpose()?;
    Ok(if let Some(Cell::Integer(number)) = first { number } else { 0 })
}

/// Rows of a table; `tail` is what follows its name in the statement, from WHERE on.
pub(crate) async fn select(
    at: &impl ConnectionTrait,
    table: &Table,
    tail: &str,
    values: Vec<Value>,
) -> Result<Vec<Row>> {
    let sql = format!("SELECT {} FROM {} {tail}", table.names(), table.name);
    ask(at, &sql, values).await?.iter().map(|answer| read_row(table, answer)).collect()
}

/// The row with this key.
pub(crate) async fn by_key(at: &impl ConnectionTrait, table: &Table, key: &str) -> Result<Option<Row>> {
    let tail = format!("WHERE {} = $1", table.key());
    Ok(select(at, table, &tail, vec![text(key)]).await?.pop())
}

/// Most parameters of one statement: below SQLite's 32 766 and PostgreSQL's 65 535.
pub(crate) const MOST_PARAMETERS: usize = 8_000;

/// Writes new rows, many in a statement.
pub(crate) async fn insert<R>(at: &impl ConnectionTrait, table: &Table, rows: R) -> Result<()>
where
    R: IntoIterator<Item = Row>,
{
    let most = (MOST_PARAMETERS / table.columns.len().max(1)).max(1);
    let mut rows = rows.into_iter().peekable();
    while rows.peek().is_some() {
        let some: Vec<Row> = rows.by_ref().take(most).collect();
        let sql = insert_sql(table, some.len(), is_postgres(at));
        let kinds = table.columns.iter().map(|column| column.kind);
        let values = some.into_iter().flat_map(|row| row.into_iter().zip(kinds.clone()));
        run(at, &sql, values.map(|(cell, kind)| cell.bound(kind)).collect()).await?;
    }
    Ok(())
}

/// SQLite takes `$1` for a name and looks each up among all others: with thousands of them that was four fifths of a
/// restore's time. Its own nameless places are counted instead.
fn insert_sql(table: &Table, rows: usize, postgres: bool) -> String {
    let mut sql = format!("INSERT INTO {} ({}) VALUES ", table.name, table.names());
    let width = table.columns.len();
    for row in 0..rows {
        sql.push_str(if row == 0 { "(" } else { ", (" });
        for place in 1..=width {
            let comma = if place == 1 { "" } else { ", " };
            let _ = match postgres {
                true => write!(sql, "{comma}${}", row * width + place),
                false => write!(sql, "{comma}?"),
            };
        }
        sql.push(')');
    }
    sql
}

/// Whether this is PostgreSQL.
pub(crate) fn is_postgres(at: &impl ConnectionTrait) -> bool {
    at.get_database_backend() == DbBackend::Postgres
}
