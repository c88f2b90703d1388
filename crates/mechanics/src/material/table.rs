//! Data files read once, rows found by name.

use serde::de::DeserializeOwned;

use super::MaterialError;
use crate::Error;

/// A read table, or why it does not read.
pub(super) type Table<Row> = Result<Vec<Row>, MaterialError>;

/// A row that is asked for by name.
pub(super) trait Named {
    fn name(&self) -> &str;
}

/// Reads a data file; `rows` takes them out of the file's shape.
pub(super) fn read<File: DeserializeOwned, Row>(
    kind: &'static str,
    text: &str,
    rows: impl Fn(File) -> Result<Vec<Row>, String>,
) -> Table<Row> {
    let file = toml::from_str(text).map_err(|error| error.to_string());
    file.and_then(rows).map_err(|why| MaterialError::Unreadable { kind, why })
}

/// All rows.
pub(super) fn all<Row>(table: &'static Table<Row>) -> Result<&'static [Row], Error> {
    table.as_deref().map_err(|error| error.clone().into())
}

/// The row of a name; an unknown one is told with the nearest known.
pub(super) fn find<Row: Named>(
    kind: &'static str,
    table: &'static Table<Row>,
    name: &str,
) -> Result<&'static Row, Error> {
    let rows = all(table)?;
    if let Some(row) = rows.iter().find(|row| row.name() == name) {
        return Ok(row);
    }
    let names: Vec<&str> = rows.iter().map(Named::name).collect();
    let nearest = toothsayer_quantity::nearest(name, names.iter().copied()).map(str::to_owned);
    Err(MaterialError::Unknown { kind, name: name.to_owned(), nearest, known: names.join(", ") }.into())
}
