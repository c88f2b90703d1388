//! The sum over mode vectors, for one cause vector, of their probability times that of the findings they explain.

use crate::chance::{Chance, NoisyOr};
use crate::layout::Layout;
use crate::mode_table::ModeChances;
use crate::network::{Finding, MAX_MODES, Network};

/// What the evidence says of the modes.
///
/// "No" answers multiply: each present mode costs the factor 1 - p. A "yes" answer with a mode among its parents
/// couples the modes, so those modes are enumerated; the others are summed in closed form.
#[derive(Clone, Debug)]
pub(crate) struct ModeEvidence {
    /// Whether at least one mode happened.
    some: bool,
    /// prod over "no" answers of (1 - p), by mode.
    denied: [f64; MAX_MODES],
    /// Modes that no coupling "yes" answer depends on.
    free: Vec<usize>,
    /// Modes that are enumerated.
    bound: Vec<usize>,
    coupled: Vec<Coupled>,
}

/// A "yes" answer with modes among its parents.
#[derive(Clone, Debug)]
struct Coupled {
    causes: NoisyOr,
    /// The chance from the modes, for each pattern of the bound modes.
    by_pattern: Vec<Chance>,
}

/// Room for one cause vector's sums, reused from vector to vector.
#[derive(Clone, Debug, Default)]
pub(crate) struct Scratch {
    /// Factor of the coupling answers for each pattern of the bound modes.
    explained: Vec<f64>,
    pattern: Vec<f64>,
}

impl ModeEvidence {
    pub fn new(network: &Network, layout: &Layout, answers: &[Option<bool>], some: bool) -> Self {
        let n_modes = network.modes.len();
        let answered = |wanted: bool| network.findings.iter().zip(answers).filter(move |(_, a)| **a == Some(wanted));
        let mut denied = [1.0; MAX_MODES];
        for link in answered(false).flat_map(|(finding, _)| &finding.modes) {
            denied[link.mode.0] *= 1.0 - link.probability;
        }
        let coupling: Vec<_> = answered(true).map(|(finding, _)| finding).filter(|f| !f.modes.is_empty()).collect();
        let is_bound = |mode: &usize| coupling.iter().any(|f| f.modes.iter().any(|link| link.mode.0 == *mode));
        let (bound, free): (Vec<usize>, Vec<usize>) = (0..n_modes).partition(is_bound);
        let coupled = coupling.into_iter().map(|finding| Coupled::new(finding, layout, &bound)).collect();
        Self { some, denied, free, bound, coupled }
    }

    /// The same evidence with "at least one mode" added.
    pub fn with_some(&self) -> Self {
        Self { some: true, ..self.clone() }
    }

    /// Prepares the factors of the coupling answers at one cause vector.
    pub fn explain(&self, vector: usize, scratch: &mut Scratch) {
        scratch.explained.clear();
        scratch.explained.resize(1 << self.bound.len(), 1.0);
        for coupled in &self.coupled {
            let causes = coupled.causes.at(vector);
            for (factor, modes) in scratch.explained.iter_mut().zip(&coupled.by_pattern) {
                *factor *= causes.or(*modes).hit;
            }
        }
    }

    /// The sum over mode vectors. `chances` need not add up to one: a part of a mode's probability may be passed.
    /// `cost[m]` multiplies every vector in which mode m is present (1 for none).
    pub fn sum(&self, chances: &ModeChances, cost: &[f64; MAX_MODES], scratch: &mut Scratch) -> f64 {
        let on = |mode: usize| chances[mode].hit * self.denied[mode] * cost[mode];
        let (mut none, mut some) = (1.0, 0.0);
        for mode in self.free.iter().copied() {
            some = some * (chances[mode].miss + on(mode)) + none * on(mode);
            none *= chances[mode].miss;
        }
        let Scratch { explained, pattern } = scratch;
        pattern.clear();
        pattern.push(1.0);
        for mode in self.bound.iter().copied() {
            for row in 0..pattern.len() {
                pattern.push(pattern[row] * on(mode));
                pattern[row] *= chances[mode].miss;
            }
        }
        let quiet = pattern[0] * explained[0] * if self.some { some } else { none + some };
        let loud: f64 = pattern.iter().zip(explained.iter()).skip(1).map(|(p, e)| p * e).sum();
        quiet + loud * (none + some)
    }

    /// No mode carries an extra cost.
    pub fn no_cost() -> [f64; MAX_MODES] {
        [1.0; MAX_MODES]
    }
}

impl Coupled {
    fn new(finding: &Finding, layout: &Layout, bound: &[usize]) -> Self {
        let mut by_pattern = vec![Chance::NEVER];
        for mode in bound {
            let part = mode_chance(finding, *mode);
            let doubled: Vec<_> = by_pattern.iter().map(|row| row.or(part)).collect();
            by_pattern.extend(doubled);
        }
        Self { causes: NoisyOr::new(layout, finding.leak, &finding.causes), by_pattern }
    }
}

fn mode_chance(finding: &Finding, mode: usize) -> Chance {
    finding.modes.iter().find(|link| link.mode.0 == mode).map_or(Chance::NEVER, |link| Chance::of(link.probability))
}
