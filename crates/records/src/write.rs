//! A write: all of it or nothing, one at a time, told in the audit trail.
//!
//! On SQLite a write begins immediate; on PostgreSQL it takes one advisory lock first. So writes follow one another on
//! both, what a write has read is still so when it writes, and no two can wait for each other in a circle.

use crate::audit;
use crate::error::{Error, Result};
use crate::id::Id;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::Reach;
use crate::record::{Record, Saved};
use crate::row::{Cell, Row, record_of, row_of};
use crate::search;
use crate::sql;
use crate::store::{Store, at};
use crate::table::{Kind, Table};
use sea_orm::{DatabaseTransaction, SqliteTransactionMode, TransactionOptions, TransactionTrait};
use tokio::sync::OwnedMutexGuard;

/// The number of the advisory lock on PostgreSQL: any, as long as all writers take the same.
const WRITERS: i64 = 0x7007_4A17;

/// Who acts, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Acting {
    /// Who; nobody where the program itself does.
    pub who: Option<Id<Person>>,
    /// When.
    pub at: Moment,
}

impl Acting {
    /// The program itself, now.
    pub fn program() -> Self {
        Self { who: None, at: Moment::now() }
    }
}

/// A write that is under way. Dropped without [`Write::commit`] it leaves nothing behind.
pub struct Write {
    transaction: DatabaseTransaction,
    acting: Acting,
    _pen: OwnedMutexGuard<()>,
}

impl Reach for Write {
    type Connection = DatabaseTransaction;

    fn connection(&self) -> &DatabaseTransaction {
        &self.transaction
    }
}

impl Store {
    /// Begins a write, after those that are under way.
    ///
    /// # Errors
    /// The database does not answer, or another program writes for very long.
    pub async fn begin(&self, acting: Acting) -> Result<Write> {
        let pen = self.pen.clone().lock_owned().await;
        let options = TransactionOptions {
            sqlite_transaction_mode: Some(SqliteTransactionMode::Immediate),
            ..Default::default()
        };
        let begun = self.connection().begin_with_options(options).await;
        let transaction = begun.map_err(|error| at(self.place(), error.into()))?;
        if self.is_postgres() {
            sql::run(&transaction, "SET LOCAL lock_timeout = '30s'", vec![]).await?;
            sql::ask(&transaction, "SELECT 1 FROM pg_advisory_xact_lock($1)", vec![sql::number(WRITERS)]).await?;
        }
        Ok(Write { transaction, acting, _pen: pen })
    }
}

impl Write {
    /// Keeps what was written. When this returns, it is on the disk.
    ///
    /// # Errors
    /// The database could not; then nothing of it is kept. Where it stopped answering in this very moment, look whether
    /// the write is there, or send it with a form key: [`Write::first_time`].
    pub async fn commit(self) -> Result<()> {
        Ok(self.transaction.commit().await?)
    }

    /// The same write, going on as somebody else or at another moment: for telling at once what happened over days.
    #[must_use = "the write goes on in what is given back"]
    pub fn going_on(self, acting: Acting) -> Self {
        Self { acting, ..self }
    }

    /// Who acts.
    pub fn acting(&self) -> Acting {
        self.acting
    }

    /// When.
    pub fn now(&self) -> Moment {
        self.acting.at
    }

    /// A new id.
    pub fn id<T>(&self) -> Id<T> {
        Id::new(self.acting.at)
    }

    /// Keeps a new record.
    ///
    /// # Errors
    /// A value is not allowed, or something that it points at is not there.
    pub async fn add<R: Record>(&self, record: R) -> Result<R> {
        let row = row_of(&record)?;
        self.note(R::TABLE, "added", None, &row).await?;
        sql::insert(&self.transaction, R::TABLE, vec![row]).await?;
        search::follow(self, &record).await?;
        Ok(record)
    }

    /// Keeps many new records at once, as a restore does: without lines in the audit trail, and found only once
    /// [`Write::index_anew`] was called. For filling records that were empty.
    ///
    /// # Errors
    /// A value is not allowed, or something that they point at is not there.
    pub async fn add_all<R: Record>(&self, records: &[R]) -> Result<()> {
        let rows = records.iter().map(row_of).collect::<Result<Vec<Row>>>()?;
        sql::insert(&self.transaction, R::TABLE, rows).await
    }

    /// Keeps a changed record, if nobody else changed it since it was read.
    ///
    /// # Errors
    /// It is not there, or a value is not allowed.
    pub async fn save<R: Record>(&self, record: R) -> Result<Saved<R>> {
        let mut row = row_of(&record)?;
        let before = self.row::<R>(&row).await?;
        if version(R::TABLE, &row) != version(R::TABLE, &before) {
            return Ok(Saved::Clash { yours: record, theirs: record_of(&before)? });
        }
        if row == before {
            return Ok(Saved::Saved(record));
        }
        self.update(R::TABLE, &before, &mut row).await?;
        let (was, kept): (R, R) = (record_of(&before)?, record_of(&row)?);
        search::follow(self, &kept).await?;
        if was.found_as() != kept.found_as() {
            search::follow(self, &was).await?;
        }
        Ok(Saved::Saved(kept))
    }

    /// The row that stands where this one would.
    async fn row<R: Record>(&self, row: &Row) -> Result<Row> {
        let Some(Cell::Text(key)) = row.first() else { return Err(Error::missing(R::TABLE.one, "")) };
        let found = sql::by_key(&self.transaction, R::TABLE, key).await?;
        found.ok_or_else(|| Error::missing(R::TABLE.one, key))
    }

    /// Writes over a row that was just read. The version in the statement is a second lock on the same door.
    async fn update(&self, table: &Table, before: &Row, after: &mut Row) -> Result<()> {
        stamp(table, after, self.acting.at);
        self.note(table, "changed", Some(before), after).await?;
        let fields = table.columns.iter().skip(1).enumerate();
        let set: Vec<String> = fields.map(|(place, column)| format!("{} = ${}", column.name, place + 2)).collect();
        let last = table.columns.len() + 1;
        let sql =
            format!("UPDATE {} SET {} WHERE {} = $1 AND version = ${last}", table.name, set.join(", "), table.key());
        let cells = after.iter().zip(table.columns).map(|(cell, column)| cell.clone().bound(column.kind));
        let values = cells.chain([sql::number(version(table, before))]).collect();
        match sql::run(&self.transaction, &sql, values).await? {
            1 => Ok(()),
            _ => Err(Error::missing(table.one, format!("of version {}", version(table, before)))),
        }
    }

    async fn note(&self, table: &Table, act: &str, before: Option<&Row>, after: &Row) -> Result<()> {
        audit::note(self, table, act, before, after).await
    }
}

fn place_of(table: &Table, name: &str) -> Option<usize> {
    table.columns.iter().position(|column| column.name == name)
}

/// A row's version; 0 where its table has none.
fn version(table: &Table, row: &Row) -> i64 {
    match place_of(table, "version").and_then(|place| row.get(place)) {
        Some(Cell::Integer(version)) => *version,
        _ => 0,
    }
}

/// Counts the version up and sets when the row was changed.
fn stamp(table: &Table, row: &mut Row, now: Moment) {
    for (column, cell) in table.columns.iter().zip(row.iter_mut()) {
        match (column.name, column.kind, &cell) {
            ("version", _, Cell::Integer(version)) => *cell = Cell::Integer(version + 1),
            ("changed", Kind::Time, _) => *cell = Cell::Integer(now.to_ms()),
            _ => {}
        }
    }
}
