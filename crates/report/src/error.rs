//! Why a calendar cannot be written.

use jiff::civil::Date;

/// Why a calendar cannot be written.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// Runs a week outside what a calendar is for.
    #[error("runs per week are {value}, outside {least} to {most}")]
    RunsPerWeek {
        /// What was given.
        value: f64,
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// A day that calendars do not hold.
    #[error("the day {day} lies before the year {first_year}")]
    TooEarly {
        /// The day.
        day: Date,
        /// The first year.
        first_year: i16,
    },
    /// A day past the end of the calendar.
    #[error("run {run} from {from} on lies past the year 9999")]
    TooLate {
        /// The run.
        run: u32,
        /// The first day.
        from: Date,
    },
    /// A character that a calendar's text may not hold (RFC 5545, 3.3.11).
    #[error("the {what} holds the control character U+{code:04X}, which no calendar takes")]
    ControlCharacter {
        /// Which text.
        what: &'static str,
        /// The character.
        code: u32,
    },
    /// Two events of one name.
    #[error("two events have the name \"{uid}\"")]
    Twice {
        /// The name.
        uid: String,
    },
}
