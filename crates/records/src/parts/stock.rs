//! The shelf as a ledger: every piece that came or went, with the count after it.

use super::fit::PartRefusal;
use super::need::Need;
use super::part::Part;
use crate::error::{Error, Result};
use crate::id::Id;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Why pieces came or went.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StockChange {
    /// Somebody counted the shelf.
    Counted,
    /// They are gone, or broken.
    Lost,
    /// The supplier sent them.
    Arrived,
    /// They went into a truck.
    Used,
    /// They came out of the truck again, unused.
    PutBack,
    /// They went back to the supplier.
    Returned,
}

impl StockChange {
    /// Whether pieces leave the shelf.
    pub(super) fn takes(self) -> bool {
        matches!(self, Self::Lost | Self::Used | Self::Returned)
    }
}

/// One line of the ledger, never changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stock {
    /// Its id.
    pub id: Id<Stock>,
    /// Its number: 1, 2, 3 …
    pub step: i64,
    /// Of which part.
    pub part: Id<Part>,
    /// For which need.
    pub need: Option<Id<Need>>,
    /// How many came; negative where they went.
    pub change: i64,
    /// How many lie there now.
    pub on_shelf: i64,
    /// Why.
    pub why: StockChange,
    /// What else there is to say.
    pub note: String,
    /// Who moved them.
    pub who: Option<Id<Person>>,
    /// When.
    pub at: Moment,
}

impl Record for Stock {
    const TABLE: &'static Table = &STOCK;
}

pub(crate) const STOCK: Table = Table {
    name: "stock",
    one: "line of the shelf",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("step", Kind::Integer),
        Column::new("part", Kind::Id),
        Column::new("need", Kind::Id).optional(),
        Column::new("change", Kind::Integer),
        Column::new("on_shelf", Kind::Integer),
        Column::new("why", Kind::Word(&["counted", "lost", "arrived", "used", "put-back", "returned"])),
        Column::text("note").personal(),
        Column::new("who", Kind::Id).optional(),
        Column::new("at", Kind::Time),
    ],
};

/// How many pieces of a part lie on the shelf.
///
/// # Errors
/// The database does not answer.
pub async fn on_shelf(at: &impl Reach, part: Id<Part>) -> Result<i64> {
    let sql = "SELECT on_shelf FROM stock WHERE part = $1 ORDER BY step DESC LIMIT 1";
    sql::ask_number(at.connection(), sql, vec![sql::text(part)]).await
}

/// How many pieces lie on the shelf, of every part that was ever counted or moved.
///
/// # Errors
/// The database does not answer.
pub async fn shelves(at: &impl Reach) -> Result<BTreeMap<Id<Part>, i64>> {
    let tail = "WHERE step = (SELECT MAX(step) FROM stock AS later WHERE later.part = stock.part)";
    let last: Vec<Stock> = list(at, tail, vec![]).await?;
    Ok(last.into_iter().map(|line| (line.part, line.on_shelf)).collect())
}

/// A part's ledger, the oldest line first.
///
/// # Errors
/// The database does not answer.
pub async fn stock_of(at: &impl Reach, part: Id<Part>) -> Result<Vec<Stock>> {
    list(at, LEDGER, vec![sql::text(part)]).await
}

impl Write {
    /// Notes how many pieces of a part were counted on the shelf.
    ///
    /// # Errors
    /// The count is negative, or the part is not there.
    pub async fn count_shelf(&self, part: Id<Part>, counted: i64, note: &str) -> Result<Stock> {
        if counted < 0 {
            let value = counted.to_string();
            return Err(Error::Value { of: "count of the shelf".into(), value, allowed: "0 pieces or more" });
        }
        let change = counted - on_shelf(self, part).await?;
        self.stock_line(part, None, StockChange::Counted, change, note).await
    }

    /// Notes that pieces were thrown away, or are gone, and why.
    ///
    /// # Errors
    /// None are told of, fewer lie there, or no reason is given.
    pub async fn throw_away(&self, part: &Part, pieces: i64, reason: &str) -> Result<Stock> {
        if pieces < 1 {
            let value = pieces.to_string();
            return Err(Error::Value { of: "count of thrown pieces".into(), value, allowed: "1 piece or more" });
        }
        if reason.trim().is_empty() {
            return Err(Error::Value { of: "reason".into(), value: String::new(), allowed: "a few words" });
        }
        let there = on_shelf(self, part.id).await?;
        if there < pieces {
            let (part, on_shelf, wanted) = (part.name.clone(), there, pieces);
            return Err(PartRefusal::TooFew { part, on_shelf, wanted }.into());
        }
        self.stock_line(part.id, None, StockChange::Lost, -pieces, reason.trim()).await
    }

    pub(super) async fn stock_line(
        &self,
        part: Id<Part>,
        need: Option<Id<Need>>,
        why: StockChange,
        change: i64,
        note: &str,
    ) -> Result<Stock> {
        let step = sql::ask_number(self.connection(), "SELECT MAX(step) + 1 FROM stock", vec![]).await?.max(1);
        let on_shelf = on_shelf(self, part).await? + change;
        let (id, note, who, at) = (self.id(), note.to_owned(), self.acting().who, self.now());
        self.add(Stock { id, step, part, need, change, on_shelf, why, note, who, at }).await
    }
}

/// The end of the question for a part's ledger.
pub(crate) const LEDGER: &str = "WHERE part = $1 ORDER BY step";
