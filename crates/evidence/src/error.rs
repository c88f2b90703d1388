//! The one error type of this room.

/// Why a network, its evidence or a question about it is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// A probability lies outside 0 to 1, or is no number.
    #[error("{what} is {value}, outside 0 to 1")]
    Probability {
        /// Which probability ("prior of `loose motor`").
        what: String,
        /// Its value.
        value: f64,
    },
    /// More of something than an exact answer is computed for.
    #[error("{count} {what} are more than the {limit} that are computed exactly")]
    TooMany {
        /// What there is too much of ("undecided causes").
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many are allowed.
        limit: usize,
    },
    /// A link or a list names a place that does not exist.
    #[error("{whose} names {what} number {place}, and there are {count}")]
    NoSuch {
        /// Who names it ("mode `worn`").
        whose: String,
        /// What it names ("cause").
        what: &'static str,
        /// The place it names.
        place: usize,
        /// How many there are.
        count: usize,
    },
    /// The same parent is named twice by one child.
    #[error("{whose} names {what} number {place} twice")]
    Twice {
        /// Who names it ("finding `chips`").
        whose: String,
        /// What it names ("cause").
        what: &'static str,
        /// The place it names.
        place: usize,
    },
    /// A trigger table does not have one row for each subset of the computed causes.
    #[error("the trigger of mode `{mode}` has {got} rows, and {need} subsets need one each (or none at all)")]
    TableLength {
        /// The mode.
        mode: String,
        /// Rows given.
        got: usize,
        /// Rows needed.
        need: usize,
    },
    /// The list of answers is not as long as the list of findings.
    #[error("{got} answers were given for {need} findings")]
    AnswerCount {
        /// Answers given.
        got: usize,
        /// Findings in the network.
        need: usize,
    },
    /// A row holds another number of values than the first.
    #[error("a row holds values for {got} inputs, and the first row for {need}")]
    RowLength {
        /// Values in the row.
        got: usize,
        /// Values in the first row.
        need: usize,
    },
    /// No state of the causes explains the evidence.
    #[error("the evidence contradicts itself: no set of causes explains it")]
    Contradiction,
    /// A demand without spread or margin to judge it by.
    #[error("{what} is {value}, and must be above 0")]
    NotPositive {
        /// What it is ("margin").
        what: &'static str,
        /// Its value.
        value: f64,
    },
    /// A series holds something that is no number.
    #[error("{what} number {place} is {value}, and must be a finite number")]
    NotFinite {
        /// What the series holds ("value of the history").
        what: &'static str,
        /// Its place, from 0.
        place: usize,
        /// Its value.
        value: f64,
    },
}

impl Error {
    /// The way out, apart from the message so that a page can lay it out.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Probability { .. } => "write a share between 0 and 1",
            Self::TooMany { .. } => "leave some of them out, or decide them beforehand",
            Self::NoSuch { .. } | Self::Twice { .. } => "name each parent once, by its place in the list",
            Self::TableLength { .. } => "give one probability for each subset, the empty one first",
            Self::AnswerCount { .. } => "give one answer for each finding, unknown ones left open",
            Self::RowLength { .. } => "give every input a value in every row",
            Self::Contradiction => "check the answers again, or give the findings and modes a small leak",
            Self::NotPositive { .. } => "give a number above 0",
            Self::NotFinite { .. } => "leave out what was not recorded",
        }
    }
}

/// Checks that a number is above 0 and finite.
pub(crate) fn positive(what: &'static str, value: f64) -> Result<(), Error> {
    if value > 0.0 && value.is_finite() { Ok(()) } else { Err(Error::NotPositive { what, value }) }
}
