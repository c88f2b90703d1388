//! Erasing a customer: every word that may tell of them goes, the jobs stay as history of nobody.
//!
//! What a column's row calls personal is emptied in every row that hangs on the customer. Builds and visits keep their
//! values, written anew without comments and without the truck's name. Versions are counted up, so that nobody who
//! read before can write the old words back. Photos go whole, and so do links to the jobs.

use crate::audit::{self, Told};
use crate::error::{Error, Result};
use crate::hangs::of_customer;
use crate::id::Id;
use crate::job::jobs_of;
use crate::people::Customer;
use crate::photos::photos_of;
use crate::reach::Reach;
use crate::row::{Cell, Row};
use crate::search;
use crate::sql;
use crate::store::Store;
use crate::table::{Column, Kind, Table};
use crate::tables::TABLES;
use crate::truck::trucks_of;
use crate::write::{Acting, Write};
use serde_json::json;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table as TomlTable, Value};

/// Stands where a table wants some word.
const ERASED: &str = "erased";
/// Columns that cannot be empty, or whose steps must say that they had a reason.
const WANT_A_WORD: [(&str, &str); 3] = [("job_move", "reason"), ("line", "text"), ("need", "text")];
/// Tables whose rows are taken away or written by hand here.
const BY_HAND: [&str; 4] = ["customer", "photo", "photo_copy", "token"];
/// Columns that hold tables of a job file.
const OF_A_JOB_FILE: [(&str, &str); 2] = [("build", "tables"), ("job", "tables")];

/// What was erased.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Erased {
    /// Trucks that were the customer's.
    pub trucks: usize,
    /// Their jobs, which stay without a name.
    pub jobs: usize,
}

/// Erases a customer, and sees to it that the database's files hold nothing of them either.
///
/// # Errors
/// There is no such customer, or they were erased before: then nothing was changed.
pub async fn erase(store: &Store, acting: Acting, customer: Id<Customer>) -> Result<Erased> {
    let write = store.begin(acting).await?;
    let known: Customer = write.get(customer).await?;
    if known.erased {
        return Err(Error::Value {
            of: format!("customer {customer}"),
            value: ERASED.into(),
            allowed: "one who is not erased yet",
        });
    }
    empty_customer(&write, customer).await?;
    for table in TABLES.iter().filter(|table| !BY_HAND.contains(&table.name)) {
        empty(&write, table, customer).await?;
    }
    let erased = take_away(&write, known).await?;
    audit::say(&write, Told { subject: "customer", key: &customer.to_string(), act: ERASED, what: json!({}) }).await?;
    write.commit().await?;
    store.sweep().await?;
    Ok(erased)
}

/// The customer first: the tables let the rows behind be emptied only then.
async fn empty_customer(write: &Write, customer: Id<Customer>) -> Result<()> {
    let sql = "UPDATE customer SET name = '', phone = '', email = '', address = '', note = '', erased = 1, \
               version = version + 1, changed = $2 WHERE id = $1";
    sql::run(write.connection(), sql, vec![sql::text(customer), sql::number(write.now().to_ms())]).await?;
    Ok(())
}

/// Empties the personal columns of a table's rows of the customer.
async fn empty(write: &Write, table: &Table, customer: Id<Customer>) -> Result<()> {
    let Some(way) = of_customer(table) else { return Ok(()) };
    let personal: Vec<&Column> = table.columns.iter().filter(|column| column.personal).collect();
    let of_file = |column: &Column| OF_A_JOB_FILE.contains(&(table.name, column.name));
    for column in personal.iter().filter(|column| of_file(column)) {
        rewrite(write, table, column, customer).await?;
    }
    let mut set: Vec<String> =
        personal.iter().filter(|column| !of_file(column)).map(|column| emptied(table, column)).collect();
    if table.has_versions() && !personal.is_empty() {
        set.push("version = version + 1".into());
    }
    if set.is_empty() {
        return Ok(());
    }
    let sql = format!("UPDATE {} SET {} WHERE {way}", table.name, set.join(", "));
    sql::run(write.connection(), &sql, vec![sql::text(customer)]).await?;
    Ok(())
}

/// What a personal column becomes.
fn emptied(table: &Table, column: &Column) -> String {
    let name = column.name;
    match column.kind {
        _ if WANT_A_WORD.contains(&(table.name, name)) => {
            format!("{name} = CASE WHEN {name} = '' THEN '' ELSE '{ERASED}' END")
        }
        _ if column.optional => format!("{name} = NULL"),
        Kind::Json => format!("{name} = 'null'"),
        _ => format!("{name} = ''"),
    }
}

/// Writes the job file's tables in a column anew, without what may tell of the customer.
async fn rewrite(write: &Write, table: &Table, column: &Column, customer: Id<Customer>) -> Result<()> {
    let Some(way) = of_customer(table) else { return Ok(()) };
    let tail = format!("WHERE {way}");
    let place = table.columns.iter().position(|one| one.name == column.name).unwrap_or(0);
    let rows: Vec<Row> = sql::select(write.connection(), table, &tail, vec![sql::text(customer)]).await?;
    let sql = format!("UPDATE {} SET {} = $2 WHERE {} = $1", table.name, column.name, table.key());
    for row in rows {
        if let (Some(Cell::Text(key)), Some(Cell::Text(tables))) = (row.first(), row.get(place)) {
            sql::run(write.connection(), &sql, vec![sql::text(key), sql::text(without_words(tables))]).await?;
        }
    }
    Ok(())
}

/// Photos and links go, and the index follows what is left of customer, trucks and jobs.
async fn take_away(write: &Write, customer: Customer) -> Result<Erased> {
    let mut erased = Erased::default();
    search::follow(write, &customer).await?;
    for truck in trucks_of(write, customer.id).await? {
        search::follow(write, &truck).await?;
        erased.trucks += 1;
        for job in jobs_of(write, truck.id).await? {
            sql::run(write.connection(), "DELETE FROM token WHERE job = $1", vec![sql::text(job.id)]).await?;
            for photo in photos_of(write, job.id).await? {
                write.forget_photo(&photo).await?;
            }
            search::follow(write, &job).await?;
            erased.jobs += 1;
        }
    }
    if !sql::is_postgres(write.connection()) {
        // The full-text index keeps words of deleted texts until its parts are merged.
        sql::run(write.connection(), "INSERT INTO search_text (search_text) VALUES ('optimize')", vec![]).await?;
    }
    Ok(erased)
}

/// A job file's tables with their values alone: no comments, no name of a truck. What cannot be read goes whole.
fn without_words(tables: &str) -> String {
    let Ok(document) = tables.parse::<DocumentMut>() else { return String::new() };
    DocumentMut::from(bare_table(document.as_table(), "")).to_string()
}

fn bare_table(table: &TomlTable, name: &str) -> TomlTable {
    let mut bare = TomlTable::new();
    bare.set_implicit(table.is_implicit());
    bare.set_dotted(table.is_dotted());
    for (key, item) in table.iter().filter(|(key, _)| !tells(name, key)) {
        bare.insert(key, bare_item(item, key));
    }
    bare
}

/// The truck's name is the owner's to give.
fn tells(table: &str, key: &str) -> bool {
    table == "truck" && key == "name"
}

fn bare_item(item: &Item, name: &str) -> Item {
    match item {
        Item::None => Item::None,
        Item::Value(value) => Item::Value(bare_value(value, name)),
        Item::Table(table) => Item::Table(bare_table(table, name)),
        Item::ArrayOfTables(list) => {
            Item::ArrayOfTables(list.iter().map(|table| bare_table(table, name)).collect::<ArrayOfTables>())
        }
    }
}

fn bare_value(value: &Value, name: &str) -> Value {
    match value {
        Value::String(text) => Value::from(text.value().as_str()),
        Value::Integer(number) => Value::from(*number.value()),
        Value::Float(number) => Value::from(*number.value()),
        Value::Boolean(flag) => Value::from(*flag.value()),
        Value::Datetime(time) => Value::from(*time.value()),
        Value::Array(list) => Value::Array(list.iter().map(|one| bare_value(one, name)).collect::<Array>()),
        Value::InlineTable(table) => {
            let own = table.iter().filter(|(key, _)| !tells(name, key));
            Value::InlineTable(own.map(|(key, value)| (key, bare_value(value, key))).collect::<InlineTable>())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(tables: &str, expected: &str) {
        assert_eq!(without_words(tables), expected);
    }

    #[test]
    fn values_stay_and_words_go() {
        check(
            "# Anna's\n[truck]   # hers\nname = \"Anna's\"\nmass = \"10.4 kg\" # weighed\n",
            "[truck]\nmass = \"10.4 kg\"\n",
        );
        check("truck = { name = \"Anna's\", mass = \"9 kg\" }\n", "truck = { mass = \"9 kg\" }\n");
        check("[[joints]]\nname = \"motor to mount\"\n", "[[joints]]\nname = \"motor to mount\"\n");
        check("gears.pinion.teeth = 19 # Anna\n", "gears.pinion.teeth = 19\n");
        check("no toml [", "");
    }
}
