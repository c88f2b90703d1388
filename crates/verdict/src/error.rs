//! Why a verdict cannot be given.

use toothsayer_job::MissingValue;

/// Why a verdict cannot be given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The mechanics refuse the build.
    #[error("{0}")]
    Mechanics(#[from] toothsayer_mechanics::Error),
    /// A value that the computation needs is missing.
    #[error("{0}")]
    Missing(#[from] MissingValue),
    /// The findings contradict the fault book.
    #[error("{0}")]
    Evidence(#[from] toothsayer_evidence::Error),
    /// More causes than can be weighed together are open on this build.
    #[error(
        "the build leaves {count} causes of the fault book undecided, more than the {limit} that are weighed together; the rarest of them: {rarest}"
    )]
    TooManyUndecided {
        /// How many are.
        count: usize,
        /// How many may be.
        limit: usize,
        /// Ids of the rarest, comma between.
        rarest: String,
    },
    /// Whoever waits for it wants it no longer.
    #[error("cancelled after {done} of at most {most} steps: nothing is told of what was computed")]
    Cancelled {
        /// Steps done.
        done: u32,
        /// Steps at most.
        most: u32,
    },
    /// The state asked for is not in the job.
    #[error("the job has no state `{state}`")]
    NoState {
        /// Its word.
        state: &'static str,
    },
    /// A cause that the fault book does not have.
    #[error("the fault book has no cause \"{id}\"")]
    NoCause {
        /// The id asked for.
        id: String,
    },
    /// Nothing holds the motor that could slip.
    #[error("no joint of the job carries motor or mount by screws on a circle")]
    NoMotorJoint,
    /// A joint that does not hold the motor.
    #[error("joint \"{name}\" does not hold the motor by screws on a circle, those that do are: {known}")]
    NotMotorJoint {
        /// The name asked for.
        name: String,
        /// Those that do, comma between.
        known: String,
    },
}

impl From<toothsayer_mechanics::screw::ScrewError> for Error {
    fn from(error: toothsayer_mechanics::screw::ScrewError) -> Self {
        Self::Mechanics(error.into())
    }
}

impl From<toothsayer_mechanics::range::OutOfRange> for Error {
    fn from(error: toothsayer_mechanics::range::OutOfRange) -> Self {
        Self::Mechanics(error.into())
    }
}
