//! Finding again: by words, by beginnings and fragments of words, and by words that were mistyped.
//!
//! Both databases' own full-text indexes hold which text has which words; a list of all words with their letters in
//! threes says which words a typed one may mean, by the same rule on both.

mod find;
mod index;
mod words;

pub(crate) use find::{BEGINNING, IN_POSTGRES, IN_SQLITE};
pub use find::{Hit, find};
pub(crate) use index::follow;

use crate::id::Id;
use crate::job::Job;
use crate::parts::Part;
use crate::people::Customer;
use crate::truck::Truck;

/// What can be found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A customer.
    Customer(Id<Customer>),
    /// A truck.
    Truck(Id<Truck>),
    /// A job.
    Job(Id<Job>),
    /// A part of the shop's list.
    Part(Id<Part>),
}

impl Subject {
    pub(crate) fn table(self) -> &'static str {
        match self {
            Self::Customer(_) => "customer",
            Self::Truck(_) => "truck",
            Self::Job(_) => "job",
            Self::Part(_) => "part",
        }
    }

    pub(crate) fn key(self) -> String {
        match self {
            Self::Customer(id) => id.to_string(),
            Self::Truck(id) => id.to_string(),
            Self::Job(id) => id.to_string(),
            Self::Part(id) => id.to_string(),
        }
    }

    pub(crate) fn read(table: &str, key: &str) -> crate::Result<Self> {
        Ok(match table {
            "customer" => Self::Customer(Id::parse(key)?),
            "truck" => Self::Truck(Id::parse(key)?),
            "part" => Self::Part(Id::parse(key)?),
            _ => Self::Job(Id::parse(key)?),
        })
    }
}
