//! A shop that does not exist: two years of jobs drawn from the fault book's own model, the same for a seed.
//!
//! For showing the program, for trying it out, for tests and benches. Everybody in it is invented and named so that it
//! shows; addresses end in `.example` (RFC 2606) and telephone numbers are of those kept for fiction. What it holds tells
//! nothing of real trucks: it follows the book's numbers, and only shows what the program makes of them.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod calendar;
mod error;
mod filling;
mod large;
mod names;
mod nature;
mod stages;
mod visits;

pub use error::Error;
pub use filling::fill;
pub use large::{LARGE, Large, fill_large};
pub use nature::Nature;
pub use visits::{End, JOBS, Visit, visits};

/// The seed of the shop that everybody sees.
pub const SEED: u64 = 1_206;
