//! Chances of the modes that the mechanics trigger.

use toothsayer_fault_book::Trigger;

/// Chance of each triggered mode over some runs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Triggered {
    pub(super) root: f64,
    pub(super) engagement: f64,
    pub(super) overlap: f64,
}

impl Triggered {
    /// The chance that a trigger stands for.
    pub(crate) fn of(&self, trigger: Trigger) -> f64 {
        match trigger {
            Trigger::Root => self.root,
            Trigger::Engagement => self.engagement,
            Trigger::Overlap => self.overlap,
        }
    }

    pub(super) fn most(&self) -> f64 {
        self.root.max(self.engagement).max(self.overlap)
    }

    /// One and one of each mode's.
    fn with(&self, other: &Triggered, both: impl Fn(f64, f64) -> f64) -> Triggered {
        Triggered {
            root: both(self.root, other.root),
            engagement: both(self.engagement, other.engagement),
            overlap: both(self.overlap, other.overlap),
        }
    }
}

/// Chances since the last gear change, and over the horizon.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Chances {
    pub(crate) past: Triggered,
    pub(crate) ahead: Triggered,
    /// Over the horizon, were every blow at the low and at the high end of what model and inputs leave open.
    pub(crate) ahead_ends: [Triggered; 2],
}

impl Chances {
    /// The links that bring these about where `nothing` is already there: 1 - (1 - q)/(1 - q0), none below 0.
    pub(super) fn beyond(&self, nothing: &Chances) -> Chances {
        self.with(nothing, |q, q0| if q0 < 1.0 { (1.0 - (1.0 - q) / (1.0 - q0)).clamp(0.0, 1.0) } else { 0.0 })
    }

    /// These and a share of others.
    pub(super) fn plus(&self, share: f64, others: &Chances) -> Chances {
        self.with(others, |sum, other| sum + share * other)
    }

    fn with(&self, other: &Chances, both: impl Fn(f64, f64) -> f64 + Copy) -> Chances {
        let [low, high] = self.ahead_ends;
        Chances {
            past: self.past.with(&other.past, both),
            ahead: self.ahead.with(&other.ahead, both),
            ahead_ends: [low.with(&other.ahead_ends[0], both), high.with(&other.ahead_ends[1], both)],
        }
    }
}
