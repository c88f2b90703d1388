//! The open records: one code over SQLite and PostgreSQL.

use crate::error::{Error, Result};
use crate::migrate;
use crate::place::Place;
use crate::reach::Reach;
use crate::sql;
use sea_orm::sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sea_orm::{AccessMode, IsolationLevel, TransactionOptions, TransactionTrait};
use sea_orm::{ConnectOptions, Database, DatabaseConnection, DatabaseTransaction};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;
use tokio::sync::Mutex;

/// How long a write waits for another program's before it gives up.
const PATIENCE: Duration = Duration::from_secs(30);
/// How long a connection is waited for.
const CONNECT: Duration = Duration::from_secs(5);
/// Connections kept at most: a bench, a counter and some phones read at once; one at a time writes.
const CONNECTIONS: u32 = 8;

/// The open records.
#[derive(Clone)]
pub struct Store {
    connection: DatabaseConnection,
    /// Writers of this program queue here, first come first served: SQLite's own waiting is a lottery.
    pub(crate) pen: Arc<Mutex<()>>,
    place: Place,
}

impl Store {
    /// Opens the records, makes the file where there is none, and brings the schema up to date.
    ///
    /// # Errors
    /// The database does not answer, is damaged, or was written by a newer program.
    pub async fn open(place: &Place) -> Result<Self> {
        let store = Self::open_as_it_is(place).await?;
        migrate::up(&store).await?;
        Ok(store)
    }

    /// Opens the records without touching their schema.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn open_as_it_is(place: &Place) -> Result<Self> {
        let connected = Database::connect(options(place)).await.map_err(Error::from);
        let connection = connected.map_err(|error| at(place, error))?;
        Ok(Self { connection, pen: Arc::default(), place: place.clone() })
    }

    /// Where they are kept.
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// Waits for what is under way and closes.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn close(self) -> Result<()> {
        Ok(self.connection.close().await?)
    }

    /// One unchanging view of all records while others go on writing.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn view(&self) -> Result<View> {
        let options = TransactionOptions {
            isolation_level: Some(IsolationLevel::RepeatableRead).filter(|_| self.is_postgres()),
            access_mode: Some(AccessMode::ReadOnly).filter(|_| self.is_postgres()),
            sqlite_transaction_mode: None,
        };
        Ok(View {
            transaction: self.connection.begin_with_options(options).await.map_err(|e| at(&self.place, e.into()))?,
        })
    }

    /// Takes out of the database's files what was deleted: SQLite's log is folded into its file, where deleted text is
    /// overwritten; PostgreSQL gives up dead rows. Readers that hold an older view keep it: then it happens later.
    ///
    /// # Errors
    /// The database does not answer.
    pub(crate) async fn sweep(&self) -> Result<()> {
        let statement = if self.is_postgres() { "VACUUM" } else { "PRAGMA wal_checkpoint(TRUNCATE)" };
        sql::run(&self.connection, statement, vec![]).await.map(|_| ())
    }

    /// Whether they are kept in PostgreSQL.
    pub fn is_postgres(&self) -> bool {
        matches!(self.place, Place::Postgres(_))
    }
}

impl Reach for Store {
    type Connection = DatabaseConnection;

    fn connection(&self) -> &DatabaseConnection {
        &self.connection
    }
}

/// One unchanging view of all records.
pub struct View {
    transaction: DatabaseTransaction,
}

impl Reach for View {
    type Connection = DatabaseTransaction;

    fn connection(&self) -> &DatabaseTransaction {
        &self.transaction
    }
}

/// Names the place in an error of reaching it.
pub(crate) fn at(place: &Place, error: Error) -> Error {
    match error {
        Error::Unreachable { why, .. } => Error::Unreachable { place: place.to_string(), why },
        other => other,
    }
}

fn options(place: &Place) -> ConnectOptions {
    let mut options = match place {
        Place::Postgres(url) => ConnectOptions::new(url.as_str()),
        Place::File(path) => of_file(path),
    };
    options.max_connections(CONNECTIONS).acquire_timeout(CONNECT).connect_timeout(CONNECT).sqlx_logging(false);
    options
}

fn of_file(path: &Path) -> ConnectOptions {
    let path: PathBuf = path.into();
    let mut options = ConnectOptions::new("sqlite:records");
    options.map_sqlx_sqlite_opts(move |_| sqlite(&path));
    options
}

/// Write-ahead log, so that readers never wait; every commit on the disk before it is answered; erased text overwritten.
fn sqlite(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(PATIENCE)
        .pragma("secure_delete", "ON")
}
