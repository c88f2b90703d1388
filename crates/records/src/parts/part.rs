//! The list of parts: what each is, whom it is ordered from, what it costs.

use super::fit::{KeptGear, Measures};
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
use toothsayer_quantity::{Currency, Money};

/// A part that the shop keeps or can order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Part {
    /// Its id.
    pub id: Id<Part>,
    /// Its name, as the fault book's steps call it ("pinion 19").
    pub name: String,
    /// Which gear it is, where it is one.
    #[serde(flatten)]
    pub gear: KeptGear,
    /// Whom it is ordered from.
    pub supplier: String,
    /// What the supplier calls it.
    pub order_number: String,
    /// The currency of both amounts, three letters of ISO 4217.
    pub currency: String,
    /// What the shop pays, minor units.
    pub cost: i64,
    /// What a customer pays, minor units.
    pub price: i64,
    /// Days until one arrives.
    pub lead_days: Option<i64>,
    /// How many should always lie on the shelf.
    pub keep: i64,
    /// Whether it is still to be had. No part is taken away, as old jobs name it.
    pub active: bool,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Part {
    const TABLE: &'static Table = &PART;

    fn found_as(&self) -> Option<Subject> {
        Some(Subject::Part(self.id))
    }
}

pub(crate) const PART: Table = Table {
    name: "part",
    one: "part",
    columns: &[
        Column::new("id", Kind::Id),
        Column::text("name"),
        Column::new("gear", Kind::Word(&["pinion", "spur"])).optional(),
        Column::new("teeth", Kind::Integer).optional(),
        Column::new("module_nm", Kind::Integer).optional(),
        Column::new("bore_nm", Kind::Integer).optional(),
        Column::text("supplier"),
        Column::text("order_number"),
        Column::text("currency"),
        Column::new("cost", Kind::Minor),
        Column::new("price", Kind::Minor),
        Column::new("lead_days", Kind::Integer).optional(),
        Column::new("keep", Kind::Integer),
        Column::new("active", Kind::Flag),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Part {
    /// Something new on the list, of which only name and price are known yet.
    pub fn new(write: &Write, name: &str, price: Money) -> Self {
        let empty = String::new;
        Self {
            id: write.id(),
            name: name.to_owned(),
            gear: KeptGear::default(),
            supplier: empty(),
            order_number: empty(),
            currency: price.currency.to_string(),
            cost: 0,
            price: price.minor,
            lead_days: None,
            keep: 0,
            active: true,
            version: 1,
            changed: write.now(),
        }
    }

    /// The same as a gear of these measures.
    pub fn with(self, measures: &Measures) -> Self {
        Self { gear: measures.into(), ..self }
    }

    /// What gear it is, where it is one.
    pub fn measures(&self) -> Option<Measures> {
        self.gear.measures()
    }

    /// What a customer pays for one; none where the currency is no currency.
    pub fn price(&self) -> Option<Money> {
        Some(Money { minor: self.price, currency: Currency::parse(&self.currency)? })
    }
}

/// Every part of the list, what is no longer to be had last, by name.
///
/// # Errors
/// The database does not answer.
pub async fn every_part(at: &impl Reach) -> Result<Vec<Part>> {
    list(at, "ORDER BY active DESC, name, id", vec![]).await
}

/// The parts that are to be had under a name of the fault book.
///
/// # Errors
/// The database does not answer.
pub async fn parts_named(at: &impl Reach, name: &str) -> Result<Vec<Part>> {
    list(at, "WHERE name = $1 AND active = 1 ORDER BY id", vec![sql::text(name)]).await
}
