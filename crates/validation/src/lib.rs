//! What others have published, beside what this program computes: one row a value, and a page that shows them all.
//!
//! Not a room of the house but its inspector: it looks into every room of the lower floors, and no room knows it.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub mod calibration;
mod check;
mod page;
mod rows;

pub use check::{Check, Claim, Printed, Status};
pub use page::page;

/// Every check, in the order of the page.
pub fn all() -> Vec<Check> {
    rows::all()
}
