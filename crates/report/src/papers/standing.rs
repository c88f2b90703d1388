//! How far a job is, as its customer sees it.

/// Decides whether the papers tell of the work as proposed, done, or not wanted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Standing {
    /// The work is proposed, or under way.
    Proposed,
    /// The work is done.
    #[default]
    Done,
    /// The customer did not want it.
    Declined,
    /// It was looked at, and goes home without any work that was agreed on.
    LookedAt,
}

impl Standing {
    /// Whether the truck leaves as it came.
    pub(crate) fn is_as_it_came(self) -> bool {
        matches!(self, Self::Declined | Self::LookedAt)
    }
}
