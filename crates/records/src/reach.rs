//! Whatever rows can be read through: the store as it is, or a write that is under way.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::record::Record;
use crate::row::{Cell, record_of};
use crate::sql;
use sea_orm::{ConnectionTrait, Value};
use std::collections::{BTreeSet, HashMap};
use std::future::Future;

/// A way to the rows. Reading functions take any: inside a write they see what it has written so far.
pub trait Reach: Sync {
    /// The connection beneath.
    type Connection: ConnectionTrait;

    /// The connection beneath.
    fn connection(&self) -> &Self::Connection;

    /// The record with this id.
    ///
    /// # Errors
    /// There is none, or the database does not answer.
    fn get<R: Record>(&self, id: Id<R>) -> impl Future<Output = Result<R>> + Send {
        get_by_key(self, id.to_string())
    }

    /// The records with these ids, in their order and as often as they are named: few questions instead of many.
    ///
    /// # Errors
    /// One is not there, or the database does not answer.
    fn several<R: Record>(&self, ids: &[Id<R>]) -> impl Future<Output = Result<Vec<R>>> + Send {
        several_by_key(self, ids.iter().map(Id::to_string).collect())
    }
}

/// The record with this key.
pub(crate) async fn get_by_key<R: Record>(at: &(impl Reach + ?Sized), key: String) -> Result<R> {
    let row = sql::by_key(at.connection(), R::TABLE, &key).await?;
    record_of(&row.ok_or_else(|| Error::missing(R::TABLE.one, key))?)
}

/// The records with these keys.
async fn several_by_key<R: Record>(at: &(impl Reach + ?Sized), keys: Vec<String>) -> Result<Vec<R>> {
    let wanted: Vec<&String> = keys.iter().collect::<BTreeSet<_>>().into_iter().collect();
    let mut known = HashMap::new();
    for some in wanted.chunks(sql::MOST_PARAMETERS) {
        let places: Vec<String> = (1..=some.len()).map(|place| format!("${place}")).collect();
        let tail = format!("WHERE {} IN ({})", R::TABLE.key(), places.join(", "));
        let values = some.iter().map(sql::text).collect();
        for row in sql::select(at.connection(), R::TABLE, &tail, values).await? {
            if let Some(Cell::Text(key)) = row.first() {
                known.insert(key.clone(), row);
            }
        }
    }
    let one = |key: String| record_of(known.get(&key).ok_or_else(|| Error::missing(R::TABLE.one, key))?);
    keys.into_iter().map(one).collect()
}

/// Records by what follows FROM.
pub(crate) async fn list<R: Record>(at: &(impl Reach + ?Sized), tail: &str, values: Vec<Value>) -> Result<Vec<R>> {
    sql::select(at.connection(), R::TABLE, tail, values).await?.iter().map(record_of).collect()
}
