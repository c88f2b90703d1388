//! The fault book: causes, how teeth fail, findings, work and cautions, as data with a schema.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod book;
mod check;
mod model;
mod problem;
mod raw;

pub use book::FaultBook;
pub use model::{
    Above, Cause, Caution, Change, Decision, Figure, Finding, Links, Measured, Mode, Prior, Removal, Step, Trigger,
    Wanted,
};
pub use problem::Problem;

/// How many causes the mechanics compute together at most.
pub const MOST_COMPUTED: usize = 9;
