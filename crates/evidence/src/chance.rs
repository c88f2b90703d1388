//! A chance and its complement, both built from sums of positive terms so that neither loses digits.

use crate::layout::Layout;
use crate::network::CauseLink;

/// The probability that something is on (`hit`) and that it is off (`miss`).
///
/// Kept as a pair because 1 - miss would lose the small hits that rare events are made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Chance {
    pub hit: f64,
    pub miss: f64,
}

impl Chance {
    pub const NEVER: Self = Self { hit: 0.0, miss: 1.0 };

    pub fn of(hit: f64) -> Self {
        Self { hit, miss: 1.0 - hit }
    }

    /// On if either of two independent triggers is on.
    pub fn or(self, other: Self) -> Self {
        Self { hit: self.hit + self.miss * other.hit, miss: self.miss * other.miss }
    }
}

/// A noisy-OR of a leak and links from causes, for every vector of undecided causes by one combination of two halves.
#[derive(Clone, Debug)]
pub(crate) struct NoisyOr {
    low: Vec<Chance>,
    high: Vec<Chance>,
    bits: usize,
}

impl NoisyOr {
    /// P(on | causes) = 1 - (1 - leak) prod over present causes (1 - p), known causes folded into the leak.
    pub fn new(layout: &Layout, leak: f64, links: &[CauseLink]) -> Self {
        let mut fixed = Chance::of(leak);
        let mut open = vec![Chance::NEVER; layout.n_undecided()];
        for link in links {
            let chance = Chance::of(link.probability);
            match layout.position(link.cause) {
                Some(position) => open[position] = open[position].or(chance),
                None if layout.is_known_present(link.cause) => fixed = fixed.or(chance),
                None => {}
            }
        }
        let bits = open.len() / 2;
        Self { low: subsets(fixed, &open[..bits]), high: subsets(Chance::NEVER, &open[bits..]), bits }
    }

    /// The chance at one vector of the undecided causes.
    pub fn at(&self, vector: usize) -> Chance {
        self.low[vector & ((1 << self.bits) - 1)].or(self.high[vector >> self.bits])
    }
}

/// The combined chance of every subset of `parts`, the empty one first.
fn subsets(base: Chance, parts: &[Chance]) -> Vec<Chance> {
    let mut rows = vec![base];
    for part in parts {
        let doubled: Vec<_> = rows.iter().map(|row| row.or(*part)).collect();
        rows.extend(doubled);
    }
    rows
}
