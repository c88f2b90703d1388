//! The fault book: causes, how teeth fail, findings, work and cautions, as data with a schema.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod book;
mod check;
mod model;
mod problem;
mod read;

pub use book::FaultBook;
pub use check::MOST_STEPS;
pub use model::{
    Above, Cause, Caution, Change, Complaint, Decision, Figure, Finding, Links, Measured, Mode, Plans, Prior, Removal,
    Step, Trigger,
};
pub use problem::Problem;
pub use read::Part;
