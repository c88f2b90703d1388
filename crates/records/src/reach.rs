//! Whatever rows can be read through: the store as it is, or a write that is under way.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::record::Record;
use crate::row::record_of;
use crate::sql;
use sea_orm::{ConnectionTrait, Value};
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
}

/// The record with this key.
pub(crate) async fn get_by_key<R: Record>(at: &(impl Reach + ?Sized), key: String) -> Result<R> {
    let row = sql::by_key(at.connection(), R::TABLE, &key).await?;
    record_of(&row.ok_or_else(|| Error::missing(R::TABLE.one, key))?)
}

/// Records by what follows FROM.
pub(crate) async fn list<R: Record>(at: &(impl Reach + ?Sized), tail: &str, values: Vec<Value>) -> Result<Vec<R>> {
    sql::select(at.connection(), R::TABLE, tail, values).await?.iter().map(record_of).collect()
}
