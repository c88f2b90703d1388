//! What leaves the shop: the care plan in words and as a calendar file, the causes' network as a file.
//!
//! Pure: dates come in as arguments, text goes out.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod calendar;
mod care;
mod error;
mod network_file;
mod torque;

pub use calendar::{Calendar, Event};
pub use care::{CareDates, CareWords, FIRST_YEAR, RUNS_PER_WEEK, RunsPerWeek, care_calendar, care_words};
pub use error::Error;
pub use jiff::civil::Date;
pub use network_file::network_file;
pub use torque::torque_window;
