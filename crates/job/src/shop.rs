//! Prices: the shop's rate, its parts, what a comeback costs it.

use toothsayer_quantity::{Currency, Money};

/// A part with its price.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name, as the fault book's steps call it ("pinion 19").
    pub name: String,
    /// Price of one.
    pub price: Money,
    /// How many lie on the shelf.
    pub on_shelf: Option<u32>,
    /// Days until one arrives.
    pub lead_days: Option<u32>,
}

/// What the work costs in this shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Shop {
    /// The currency of every amount.
    pub currency: Currency,
    /// Price of an hour's work.
    pub labour_rate: Money,
    /// Runs within which a second strip counts as a comeback.
    pub horizon_runs: f64,
    /// What a comeback costs the shop.
    pub comeback_cost: Money,
    /// The parts with known prices.
    pub parts: Vec<Part>,
    /// Names of the values above that the file does not give.
    pub assumed: Vec<&'static str>,
}

/// Labour rate where the file gives none, minor units an hour (estimate, no source).
pub(crate) const USUAL_RATE_MINOR: i64 = 6000;
/// Cost of a comeback where the file gives none, minor units (estimate, no source).
pub(crate) const USUAL_COMEBACK_MINOR: i64 = 12000;
/// Horizon where the file gives none, runs (common practice, no source).
pub(crate) const USUAL_HORIZON_RUNS: f64 = 50.0;
