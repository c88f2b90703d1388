//! Which causes are undecided, and where each has its bit in a vector of causes.

use crate::ids::{CauseId, CauseSet};
use crate::network::{Cause, State};

/// The bits of a cause vector: undecided causes have one each, known ones are constants, removed ones count as absent.
#[derive(Clone, Debug)]
pub(crate) struct Layout {
    undecided: Vec<CauseId>,
    positions: Vec<Option<usize>>,
    present: CauseSet,
    removed: CauseSet,
}

impl Layout {
    pub fn new(causes: &[Cause]) -> Self {
        let places = || (0..causes.len()).map(CauseId);
        let undecided: Vec<_> = places().filter(|id| matches!(causes[id.0].state, State::Prior(_))).collect();
        let positions = places().map(|id| undecided.iter().position(|other| *other == id)).collect();
        let present = places().filter(|id| causes[id.0].state == State::Known(true)).collect();
        Self { undecided, positions, present, removed: CauseSet::EMPTY }
    }

    /// The same vectors with some causes taken away whatever their bit says.
    pub fn without(&self, removed: CauseSet) -> Self {
        Self { removed: self.removed.union(removed), ..self.clone() }
    }

    pub fn n_causes(&self) -> usize {
        self.positions.len()
    }

    pub fn n_undecided(&self) -> usize {
        self.undecided.len()
    }

    pub fn undecided(&self) -> &[CauseId] {
        &self.undecided
    }

    /// The bit of an undecided cause that was not removed.
    pub fn position(&self, cause: CauseId) -> Option<usize> {
        if self.removed.contains(cause) { None } else { self.positions.get(cause.0).copied().flatten() }
    }

    /// Whether the cause is known to be present and was not removed.
    pub fn is_known_present(&self, cause: CauseId) -> bool {
        self.present.without(self.removed).contains(cause)
    }
}

/// Turns a cause vector into the place of its subset of computed causes in a trigger table.
#[derive(Clone, Debug)]
pub(crate) struct SubsetIndex {
    low: Vec<usize>,
    high: Vec<usize>,
    bits: usize,
}

impl SubsetIndex {
    pub fn new(layout: &Layout, computed: &[CauseId]) -> Self {
        let mut fixed = 0;
        let mut open = vec![0; layout.n_undecided()];
        for (bit, cause) in computed.iter().enumerate() {
            match layout.position(*cause) {
                Some(position) => open[position] = 1 << bit,
                None if layout.is_known_present(*cause) => fixed |= 1 << bit,
                None => {}
            }
        }
        let bits = open.len() / 2;
        Self { low: subsets(fixed, &open[..bits]), high: subsets(0, &open[bits..]), bits }
    }

    pub fn at(&self, vector: usize) -> usize {
        self.low[vector & ((1 << self.bits) - 1)] | self.high[vector >> self.bits]
    }
}

fn subsets(base: usize, parts: &[usize]) -> Vec<usize> {
    let mut rows = vec![base];
    for part in parts {
        let doubled: Vec<_> = rows.iter().map(|row| row | part).collect();
        rows.extend(doubled);
    }
    rows
}
