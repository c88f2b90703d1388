//! What leaves the shop: papers as PDF, the care plan in words and as a calendar file, the causes' network as a file.
//!
//! Pure: dates come in as arguments, text goes out.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod calendar;
mod care;
mod error;
pub mod machine;
mod network_file;
mod page;
mod papers;
pub mod plain;
mod square_code;
mod torque;
mod typeset;
pub mod words;

pub use calendar::{Calendar, Event};
pub use care::{CareDates, CareWords, FIRST_YEAR, RUNS_PER_WEEK, RunsPerWeek, care_calendar, care_words};
pub use error::Error;
pub use jiff::civil::Date;
pub use network_file::network_file;
pub use page::{CustomerParts, VerdictParts, VerdictSection, customer_parts, page_rules, verdict_page, verdict_parts};
pub use papers::{Cover, Matter, Offered, OwnLine, PaperKind, Photo, Standing, Written, work_of, write_paper};
pub use square_code::SquareCode;
pub use torque::{screws, tighten_to, torque_window};
pub use typeset::{EMBEDDED, PaperSize};
