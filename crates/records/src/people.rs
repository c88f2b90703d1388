//! The shop's people with their roles, and its customers.

use crate::error::Result;
use crate::id::Id;
use crate::moment::Moment;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::search::Subject;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// What somebody may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// Everything, prices and people too.
    Owner,
    /// Customers, prices, answers.
    Counter,
    /// Findings, work, sign-offs.
    Technician,
}

/// What is done to the records.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Deed {
    /// Reading customers, trucks, jobs, parts.
    Look,
    /// Writing findings, notes and photos, clocks and signatures, moving pieces of the shelf.
    Work,
    /// Taking trucks in, writing customers, offers, free lines and answers, sending links, ordering parts.
    Counter,
    /// Prices of parts, the shop's settings, people, tokens, backups, erasing a customer.
    Own,
}

impl Role {
    /// Whether somebody of this role may do it. A shop of one person has one owner, who may do everything.
    pub fn may(self, deed: Deed) -> bool {
        match deed {
            Deed::Look | Deed::Work => true,
            Deed::Counter => self != Self::Technician,
            Deed::Own => self == Self::Owner,
        }
    }
}

/// Somebody of the shop.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person {
    /// Its id.
    pub id: Id<Person>,
    /// Their name.
    pub name: String,
    /// What they may do.
    pub role: Role,
    /// Whether they still work here. Nobody is taken away, as their work stays theirs.
    pub active: bool,
    /// Their password's hash, in the string format of password hashes; none who cannot sign in.
    pub password: Option<String>,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Person {
    const TABLE: &'static Table = &PERSON;
}

pub(crate) const PERSON: Table = Table {
    name: "person",
    one: "person",
    columns: &[
        Column::new("id", Kind::Id),
        Column::text("name").personal(),
        Column::new("role", Kind::Word(&["owner", "counter", "technician"])),
        Column::new("active", Kind::Flag),
        Column::text("password").optional().personal(),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Person {
    /// Somebody new.
    pub fn new(write: &Write, name: &str, role: Role) -> Self {
        let (id, changed) = (write.id(), write.now());
        Self { id, name: name.to_owned(), role, active: true, password: None, version: 1, changed }
    }
}

/// Everybody of the shop, in the order in which they came.
///
/// # Errors
/// The database does not answer.
pub async fn everybody(at: &impl Reach) -> Result<Vec<Person>> {
    list(at, "ORDER BY id", vec![]).await
}

/// A customer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Customer {
    /// Its id.
    pub id: Id<Customer>,
    /// Their name; empty once erased.
    pub name: String,
    /// Their telephone number, as they write it.
    pub phone: String,
    /// Their address for electronic mail.
    pub email: String,
    /// Where they live.
    pub address: String,
    /// What the shop noted.
    pub note: String,
    /// Whether they asked to be forgotten: nothing of them is left but the jobs' history.
    pub erased: bool,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Customer {
    const TABLE: &'static Table = &CUSTOMER;

    fn found_as(&self) -> Option<Subject> {
        Some(Subject::Customer(self.id))
    }
}

pub(crate) const CUSTOMER: Table = Table {
    name: "customer",
    one: "customer",
    columns: &[
        Column::new("id", Kind::Id),
        Column::text("name").personal(),
        Column::text("phone").personal(),
        Column::text("email").personal(),
        Column::text("address").personal(),
        Column::text("note").personal(),
        Column::new("erased", Kind::Flag),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Customer {
    /// Somebody new, of whom only the name is known yet.
    pub fn new(write: &Write, name: &str) -> Self {
        let empty = String::new;
        Self {
            id: write.id(),
            name: name.to_owned(),
            phone: empty(),
            email: empty(),
            address: empty(),
            note: empty(),
            erased: false,
            version: 1,
            changed: write.now(),
        }
    }
}

/// The customers of this very name, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn customers_named(at: &impl Reach, name: &str) -> Result<Vec<Customer>> {
    list(at, "WHERE name = $1 ORDER BY id", vec![sql::text(name)]).await
}
