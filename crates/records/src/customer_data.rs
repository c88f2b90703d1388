//! Everything that is kept of a customer, for the customer: as JSON, by table.

use crate::error::Result;
use crate::hangs::of_customer;
use crate::id::Id;
use crate::people::Customer;
use crate::reach::Reach;
use crate::row::{map_of_row, shown_open};
use crate::sql;
use crate::tables::TABLES;
use serde_json::{Map, Value};

/// Tables that are the shop's own: a token's secret opens a door.
const NOT_HANDED_OUT: [&str; 1] = ["token"];

/// Every row that hangs on a customer, by the table's name; times by RFC 3339, amounts in minor units, photos as they
/// were taken in base64 (RFC 4648, 4).
///
/// # Errors
/// There is no such customer, or the database does not answer.
pub async fn data_of(at: &impl Reach, customer: Id<Customer>) -> Result<Map<String, Value>> {
    let _known: Customer = at.get(customer).await?;
    let mut data = Map::new();
    for table in TABLES.iter().filter(|table| !NOT_HANDED_OUT.contains(&table.name)) {
        let Some(way) = of_customer(table) else { continue };
        let originals = if table.name == "photo_copy" { "AND scale = 'original' " } else { "" };
        let tail = format!("WHERE {way} {originals}ORDER BY {}", table.key());
        let rows = sql::select(at.connection(), table, &tail, vec![sql::text(customer)]).await?;
        let rows: Result<Vec<Value>> =
            rows.iter().map(|row| map_of_row(table, row, shown_open).map(Value::Object)).collect();
        data.insert(table.name.to_owned(), Value::Array(rows?));
    }
    Ok(data)
}
