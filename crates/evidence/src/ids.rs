//! Places in a network: a cause, a mode, a finding, and sets of causes.

/// A cause by its place in the network's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CauseId(pub usize);

/// A mode by its place in the network's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ModeId(pub usize);

/// A finding by its place in the network's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FindingId(pub usize);

/// A set of causes, one bit each; places from 64 up are never in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct CauseSet(u64);

impl CauseSet {
    /// No cause.
    pub const EMPTY: Self = Self(0);

    /// The set of one cause.
    pub fn only(cause: CauseId) -> Self {
        Self(1_u64.checked_shl(cause.0 as u32).unwrap_or(0))
    }

    /// Whether the cause is in the set.
    pub fn contains(self, cause: CauseId) -> bool {
        self.0 & Self::only(cause).0 != 0
    }

    /// Everything that is in either set.
    pub fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// What is in this set and not in the other.
    pub fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// Whether no cause is in the set.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The causes of the set, by place.
    pub fn iter(self) -> impl Iterator<Item = CauseId> {
        (0..64).map(CauseId).filter(move |cause| self.contains(*cause))
    }
}

impl FromIterator<CauseId> for CauseSet {
    fn from_iter<I: IntoIterator<Item = CauseId>>(causes: I) -> Self {
        causes.into_iter().fold(Self::EMPTY, |set, cause| set.union(Self::only(cause)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_holds_what_was_put_in_and_nothing_else() {
        let set: CauseSet = [CauseId(3), CauseId(0)].into_iter().collect();
        assert_eq!(set.iter().collect::<Vec<_>>(), [CauseId(0), CauseId(3)]);
        assert!(set.without(CauseSet::only(CauseId(0))).without(CauseSet::only(CauseId(3))).is_empty());
        assert!(!set.contains(CauseId(64)));
    }
}
