//! The shop's own settings: what an hour costs, what looking costs, in which currency and units.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::moment::Moment;
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::table::{Column, Kind, Table};
use crate::wall_clock::WallClock;
use crate::write::Write;
use serde::{Deserialize, Serialize};
use toothsayer_quantity::{Currency, Money};

/// The key of the one row.
const KEY: &str = "00000000-0000-7000-8000-000000000000";

/// Which units people see.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Millimetres, newtons, kilograms.
    Metric,
    /// Inches, pounds.
    Us,
}

/// The settings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shop {
    /// Always the same: there is one shop in the records.
    pub id: Id<Shop>,
    /// What it is called.
    pub name: String,
    /// The currency of new jobs and of the amounts below, three letters of ISO 4217.
    pub currency: String,
    /// What an hour costs, minor units.
    pub labour_rate: i64,
    /// What looking costs where nothing is repaired, minor units.
    pub looking_fee: i64,
    /// What a comeback costs the shop, minor units.
    pub comeback_cost: i64,
    /// Runs within which a second strip counts as a comeback.
    pub horizon_runs: i64,
    /// The units that people see.
    pub units: Units,
    /// The time zone of the shop's days, by its IANA name.
    pub time_zone: String,
    /// Counts the changes; 0 while nobody set anything.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Shop {
    const TABLE: &'static Table = &SHOP;
}

pub(crate) const SHOP: Table = Table {
    name: "shop",
    one: "shop",
    columns: &[
        Column::new("id", Kind::Id),
        Column::text("name"),
        Column::text("currency"),
        Column::new("labour_rate", Kind::Minor),
        Column::new("looking_fee", Kind::Minor),
        Column::new("comeback_cost", Kind::Minor),
        Column::new("horizon_runs", Kind::Integer),
        Column::new("units", Kind::Word(&["metric", "us"])),
        Column::text("time_zone"),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Shop {
    /// What holds until somebody sets it: the usual figures of a job file (estimates, no source), no looking fee.
    fn unset() -> Result<Self> {
        Ok(Self {
            id: Id::parse(KEY)?,
            name: String::new(),
            currency: Currency::EUR.to_string(),
            labour_rate: 6_000,
            looking_fee: 0,
            comeback_cost: 12_000,
            horizon_runs: 50,
            units: Units::Metric,
            time_zone: "UTC".into(),
            version: 0,
            changed: Moment::from_ms(0)?,
        })
    }

    /// One of its amounts, with the currency.
    ///
    /// # Errors
    /// The currency has not three capital letters.
    pub fn money(&self, minor: i64) -> Result<Money> {
        Ok(Money { minor, currency: known_currency(&self.currency)? })
    }

    /// The clock on its wall; in UTC where the database of zones lost the one that was set.
    pub fn wall_clock(&self) -> WallClock {
        WallClock::of_zone(&self.time_zone).unwrap_or_default()
    }
}

/// The currency of these letters.
pub(crate) fn known_currency(code: &str) -> Result<Currency> {
    let wrong =
        || Error::Value { of: "currency".into(), value: code.to_owned(), allowed: "three capital letters of ISO 4217" };
    Currency::parse(code).ok_or_else(wrong)
}

/// The shop's settings, or the usual ones where nobody set any.
///
/// # Errors
/// The database does not answer.
pub async fn shop_of(at: &impl Reach) -> Result<Shop> {
    list(at, "", vec![]).await?.pop().map_or_else(Shop::unset, Ok)
}

impl Write {
    /// Keeps the settings, if nobody else changed them since they were read.
    ///
    /// # Errors
    /// An amount is negative, the horizon is outside 1 to 10 000 runs, the currency has not three capital letters, or
    /// the time zone is none.
    pub async fn set_shop(&self, shop: Shop) -> Result<Saved<Shop>> {
        known_currency(&shop.currency)?;
        WallClock::of_zone(&shop.time_zone)?;
        let now = shop_of(self).await?;
        match (shop.version, now.version) {
            (0, 0) => Ok(Saved::Saved(self.add(Shop { version: 1, changed: self.now(), ..shop }).await?)),
            (0, _) => Ok(Saved::Clash { yours: shop, theirs: now }),
            _ => self.save(shop).await,
        }
    }
}
