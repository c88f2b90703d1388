//! What can go wrong while the invented shop is made.

/// Why it could not be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The records could not keep it.
    #[error(transparent)]
    Records(#[from] toothsayer_records::Error),
    /// The model of the invented truck cannot be computed.
    #[error("the invented truck cannot be judged: {why}")]
    Model {
        /// What was said.
        why: String,
    },
    /// The records hold something already.
    #[error("the records hold a shop already: the invented one goes into empty records")]
    NotEmpty,
}

impl Error {
    pub(crate) fn model(why: impl ToString) -> Self {
        Self::Model { why: why.to_string() }
    }
}
