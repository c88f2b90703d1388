//! Why a calendar or a paper cannot be written.

use jiff::civil::Date;

/// Why a calendar or a paper cannot be written.
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
    /// A font that cannot be read.
    #[error("{name} cannot be read as a font")]
    Font {
        /// Which.
        name: String,
    },
    /// A drawing that cannot be set.
    #[error("a drawing cannot be set in the paper: {what}")]
    Drawing {
        /// What is wrong.
        what: String,
    },
    /// A photo that is neither JPEG nor PNG.
    #[error("the photo \"{told}\" cannot be read: it is no JPEG or PNG")]
    Photo {
        /// What is to be seen.
        told: String,
    },
    /// A text too long for a square code.
    #[error("the label's code has {letters} letters, more than a square code holds")]
    CodeTooLong {
        /// How many.
        letters: usize,
    },
    /// The PDF library refused the paper.
    #[error("the paper cannot be written as an accessible PDF: {what}")]
    Pdf {
        /// What it said.
        what: String,
    },
    /// The verdict has no answer.
    #[error(transparent)]
    Verdict(#[from] toothsayer_verdict::Error),
    /// A drawing has nothing to show.
    #[error(transparent)]
    Figure(#[from] toothsayer_figures::Error),
}
