//! Why a screw's figure cannot be computed.

use crate::range::OutOfRange;

/// Why a figure cannot be computed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ScrewError {
    /// An input is outside the range that the formulas are valid for.
    #[error("{0}")]
    Range(#[from] OutOfRange),
    /// No row of the thread table has this name.
    #[error("thread size `{size}` is not in the table, which has {known}")]
    UnknownThread {
        /// What was asked for.
        size: String,
        /// The table's names.
        known: String,
    },
    /// No row of the set screw table has this name.
    #[error("set screw size `{size}` is not in the table, which has {known}")]
    UnknownSetScrew {
        /// What was asked for.
        size: String,
        /// The table's names.
        known: String,
    },
    /// The weak end of a strength lies above the strength itself.
    #[error("weak end of the strength is {weak_mpa} MPa, above the nominal {nominal_mpa} MPa")]
    WeakAboveNominal {
        /// The nominal strength.
        nominal_mpa: f64,
        /// The weak end that was given.
        weak_mpa: f64,
    },
    /// A force trace whose times do not rise.
    #[error("force trace goes from {before_s} s to {after_s} s at sample {index}, where times must rise")]
    TraceNotRising {
        /// Index of the offending sample.
        index: usize,
        /// Time of the sample before it.
        before_s: f64,
        /// Time of the sample itself.
        after_s: f64,
    },
}
