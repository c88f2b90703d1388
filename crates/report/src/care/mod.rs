//! The care plan for people: its words, and its days.

mod dates;
mod words;

pub use dates::{CareDates, FIRST_YEAR, RUNS_PER_WEEK, RunsPerWeek, care_calendar};
pub use words::{CareWords, care_words};
