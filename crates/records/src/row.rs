//! One row between the database, JSON and the types of this room.

use crate::error::{Error, Result};
use crate::moment::Moment;
use crate::record::Record;
use crate::table::{Column, Kind, Table};
use base64::prelude::{BASE64_STANDARD as BASE64, Engine};
use sea_orm::{QueryResult, Value as Bound};
use serde::de::IgnoredAny;
use serde_json::{Map, Value};

/// One value as the database keeps it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Cell {
    /// Nothing.
    Null,
    /// A whole number.
    Integer(i64),
    /// Text.
    Text(String),
    /// Bytes.
    Bytes(Vec<u8>),
}

impl Cell {
    /// As a parameter of a statement.
    pub(crate) fn bound(self, kind: Kind) -> Bound {
        match (self, kind) {
            (Cell::Integer(number), _) => Bound::BigInt(Some(number)),
            (Cell::Text(text), _) => Bound::String(Some(text)),
            (Cell::Bytes(bytes), _) => Bound::Bytes(Some(bytes)),
            (Cell::Null, Kind::Bytes) => Bound::Bytes(None),
            (Cell::Null, Kind::Integer | Kind::Minor | Kind::Time | Kind::Flag) => Bound::BigInt(None),
            (Cell::Null, _) => Bound::String(None),
        }
    }

    /// Reads the column at `place` of an answer.
    pub(crate) fn read(answer: &QueryResult, place: usize, kind: Kind) -> Result<Cell> {
        Ok(match kind {
            Kind::Integer | Kind::Minor | Kind::Time | Kind::Flag => {
                answer.try_get_by_index::<Option<i64>>(place)?.map_or(Cell::Null, Cell::Integer)
            }
            Kind::Bytes => answer.try_get_by_index::<Option<Vec<u8>>>(place)?.map_or(Cell::Null, Cell::Bytes),
            Kind::Id | Kind::Text | Kind::Word(_) | Kind::Json => {
                answer.try_get_by_index::<Option<String>>(place)?.map_or(Cell::Null, Cell::Text)
            }
        })
    }
}

/// The cells of one row, in the order of the table's columns.
pub(crate) type Row = Vec<Cell>;

/// Reads a whole row of `table`, whose columns were asked for in their order.
pub(crate) fn read_row(table: &Table, answer: &QueryResult) -> Result<Row> {
    table.columns.iter().enumerate().map(|(place, column)| Cell::read(answer, place, column.kind)).collect()
}

/// A record's row.
pub(crate) fn row_of<R: Record>(record: &R) -> Result<Row> {
    match serde_json::to_value(record) {
        Ok(Value::Object(map)) => row_of_map(R::TABLE, &map, plain),
        Ok(_) => Err(wrong(R::TABLE, "it has no fields")),
        Err(error) => Err(wrong(R::TABLE, &error.to_string())),
    }
}

/// A row's record.
pub(crate) fn record_of<R: Record>(row: &Row) -> Result<R> {
    let map = map_of_row(R::TABLE, row, shown_plain)?;
    serde_json::from_value(Value::Object(map)).map_err(|error| wrong(R::TABLE, &error.to_string()))
}

fn wrong(table: &Table, why: &str) -> Error {
    Error::Content { what: format!("a row of {}", table.name), why: why.to_owned() }
}

/// How one value of a JSON row becomes a cell.
type ReadValue = fn(&Column, &Value) -> Option<Cell>;
/// How one cell becomes a value of a JSON row.
type ShowCell = fn(&Column, &Cell) -> Option<Value>;

/// The row that a JSON object tells, each value checked against its column.
pub(crate) fn row_of_map(table: &Table, map: &Map<String, Value>, read: ReadValue) -> Result<Row> {
    if let Some(extra) = map.keys().find(|key| table.columns.iter().all(|column| column.name != key.as_str())) {
        return Err(wrong(table, &format!("`{extra}` is no column")));
    }
    let cells = table.columns.iter().map(|column| {
        let value = map.get(column.name).unwrap_or(&Value::Null);
        let cell = if value.is_null() && column.kind != Kind::Json { Some(Cell::Null) } else { read(column, value) };
        checked(column, cell).ok_or_else(|| wrong(table, &format!("`{}` is {}", column.name, short(value))))
    });
    cells.collect()
}

/// The row as a JSON object.
pub(crate) fn map_of_row(table: &Table, row: &Row, show: ShowCell) -> Result<Map<String, Value>> {
    let pairs = table.columns.iter().zip(row).map(|(column, cell)| {
        let value = if *cell == Cell::Null { Some(Value::Null) } else { show(column, cell) };
        let value = value.ok_or_else(|| wrong(table, &format!("`{}` cannot be read", column.name)))?;
        Ok((column.name.to_owned(), value))
    });
    pairs.collect()
}

/// What a column takes: nothing but its own words, no empty cell where it must be filled, no text with a NUL in it
/// (which one of the two databases cannot keep).
fn checked(column: &Column, cell: Option<Cell>) -> Option<Cell> {
    let cell = cell?;
    let fits = match (&cell, column.kind) {
        (Cell::Null, _) => column.optional,
        (Cell::Text(text), Kind::Word(words)) => words.contains(&text.as_str()),
        (Cell::Text(text), _) => !text.contains('\0'),
        _ => true,
    };
    fits.then_some(cell)
}

fn short(value: &Value) -> String {
    value.to_string().chars().take(60).collect()
}

/// As serde gives the types of this room: times are milliseconds, bytes are no part of them.
pub(crate) fn plain(column: &Column, value: &Value) -> Option<Cell> {
    match column.kind {
        Kind::Id | Kind::Text | Kind::Word(_) => value.as_str().map(|text| Cell::Text(text.to_owned())),
        Kind::Integer | Kind::Minor | Kind::Time => value.as_i64().map(Cell::Integer),
        Kind::Flag => value.as_bool().map(|flag| Cell::Integer(i64::from(flag))),
        Kind::Json if value.is_null() && column.optional => Some(Cell::Null),
        Kind::Json => Some(Cell::Text(value.to_string())),
        Kind::Bytes => None,
    }
}

fn shown_plain(column: &Column, cell: &Cell) -> Option<Value> {
    match (column.kind, cell) {
        (Kind::Flag, Cell::Integer(number)) => Some(Value::Bool(*number != 0)),
        (Kind::Json, Cell::Text(text)) => serde_json::from_str(text).ok(),
        (_, Cell::Integer(number)) => Some(Value::from(*number)),
        (_, Cell::Text(text)) => Some(Value::from(text.as_str())),
        _ => None,
    }
}

/// As archives hold it: times by RFC 3339, bytes in base64 (RFC 4648, 4), JSON documents as the very texts that are
/// kept, so that no number in them is read and written anew.
pub(crate) fn archived(column: &Column, value: &Value) -> Option<Cell> {
    match column.kind {
        Kind::Time => Moment::parse(value.as_str()?).ok().map(|moment| Cell::Integer(moment.to_ms())),
        Kind::Bytes => BASE64.decode(value.as_str()?).ok().map(Cell::Bytes),
        Kind::Id => crate::Id::<()>::parse(value.as_str()?).ok().map(|id| Cell::Text(id.to_string())),
        Kind::Json => {
            let text = value.as_str()?;
            serde_json::from_str::<IgnoredAny>(text).ok().map(|_| Cell::Text(text.to_owned()))
        }
        _ => plain(column, value),
    }
}

/// The same the other way.
pub(crate) fn shown_archived(column: &Column, cell: &Cell) -> Option<Value> {
    match (column.kind, cell) {
        (Kind::Json, Cell::Text(text)) => Some(Value::from(text.as_str())),
        _ => shown_open(column, cell),
    }
}

/// As people read it: times by RFC 3339, bytes in base64.
pub(crate) fn shown_open(column: &Column, cell: &Cell) -> Option<Value> {
    match (column.kind, cell) {
        (Kind::Bytes, Cell::Bytes(bytes)) => Some(Value::from(BASE64.encode(bytes))),
        (Kind::Time, Cell::Integer(ms)) => Moment::from_ms(*ms).ok().map(|moment| Value::from(moment.to_string())),
        _ => shown_plain(column, cell),
    }
}
