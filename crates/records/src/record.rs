//! What every kept thing has in common: a table, and fields that are named as its columns.

use crate::search::Subject;
use crate::table::Table;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// Something that is kept as a row. Its fields, as serde sees them, are the columns of its table.
pub trait Record: Serialize + DeserializeOwned + Clone + Send + Sync {
    /// Where it is kept.
    const TABLE: &'static Table;

    /// What is found by this record's words; nothing for most.
    fn found_as(&self) -> Option<Subject> {
        None
    }
}

/// What became of a change.
#[derive(Clone, Debug, PartialEq, Eq)]
#[must_use = "a clash has to be shown to whoever lost the race"]
pub enum Saved<T> {
    /// It was kept, with its new version.
    Saved(T),
    /// Somebody else changed the row since it was read: nothing was written, here are both to choose from.
    Clash {
        /// What was to be written.
        yours: T,
        /// What stands there now.
        theirs: T,
    },
}

impl<T> Saved<T> {
    /// What was kept, if it was.
    pub fn saved(self) -> Option<T> {
        match self {
            Self::Saved(kept) => Some(kept),
            Self::Clash { .. } => None,
        }
    }
}
