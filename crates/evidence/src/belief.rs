//! A probability for every vector of causes that carries weight.

use crate::ids::{CauseId, CauseSet};
use crate::layout::Layout;
use std::sync::Arc;

/// The joint probability of the causes: what is left of a posterior once the findings have spoken.
#[derive(Clone, Debug)]
pub struct Belief {
    pub(crate) layout: Layout,
    /// Vectors of undecided causes, shared by the beliefs after each answer; one may stand twice.
    pub(crate) vectors: Arc<[usize]>,
    /// One weight for each vector; they add up to one.
    pub(crate) weights: Vec<f64>,
}

/// What the causes would look like after one more answer.
#[derive(Clone, Debug)]
pub struct Answered {
    /// Probability that the answer is "yes".
    pub yes: f64,
    /// The belief after "yes"; none where "yes" cannot happen.
    pub after_yes: Option<Belief>,
    /// The belief after "no"; none where "no" cannot happen.
    pub after_no: Option<Belief>,
}

impl Belief {
    /// Weights become probabilities; none if they are all zero.
    pub(crate) fn normalised(layout: &Layout, vectors: Arc<[usize]>, mut weights: Vec<f64>) -> Option<(Self, f64)> {
        let total: f64 = weights.iter().sum();
        if !(total > 0.0 && total.is_finite()) {
            return None;
        }
        weights.iter_mut().for_each(|weight| *weight /= total);
        Some((Self { layout: layout.clone(), vectors, weights }, total))
    }

    /// Vectors with their weights.
    pub(crate) fn rows(&self) -> impl Iterator<Item = (usize, f64)> {
        self.vectors.iter().copied().zip(self.weights.iter().copied())
    }

    /// P(cause present).
    pub fn present(&self, cause: CauseId) -> f64 {
        match self.layout.position(cause) {
            Some(position) => self.sum_where(|vector| vector >> position & 1 == 1),
            None if self.layout.is_known_present(cause) => 1.0,
            None => 0.0,
        }
    }

    /// Weights of the vectors with and without an undecided cause, each summed by itself so that neither is lost in
    /// the rounding of the other; none for a known cause.
    pub(crate) fn both_sides(&self, cause: CauseId) -> Option<[f64; 2]> {
        let position = self.layout.position(cause)?;
        let side = |bit: usize| self.sum_where(|vector| vector >> position & 1 == bit);
        Some([side(1), side(0)])
    }

    /// The belief when `causes` are there whatever the evidence says of them, all else as believed. A cause known to be
    /// absent stays so.
    pub fn with_present(&self, causes: CauseSet) -> Belief {
        let mask = self.mask(causes);
        if mask == 0 {
            return self.clone();
        }
        let vectors = self.vectors.iter().map(|vector| vector | mask).collect();
        Belief { vectors, ..self.clone() }
    }

    /// P(none of the causes is present).
    pub fn none_of(&self, causes: CauseSet) -> f64 {
        if causes.iter().any(|cause| self.layout.is_known_present(cause)) {
            return 0.0;
        }
        let mask = self.mask(causes);
        self.sum_where(|vector| vector & mask == 0)
    }

    /// Entropy of the joint vector of causes, in bits.
    pub fn entropy_bits(&self) -> f64 {
        let mut rows: Vec<(usize, f64)> = self.rows().collect();
        merge(&mut rows);
        rows.iter().filter(|(_, weight)| *weight > 0.0).map(|(_, w)| -w * w.log2()).sum::<f64>().max(0.0)
    }

    fn mask(&self, causes: CauseSet) -> usize {
        causes.iter().filter_map(|cause| self.layout.position(cause)).map(|p| 1 << p).sum()
    }

    fn sum_where(&self, wanted: impl Fn(usize) -> bool) -> f64 {
        self.rows().filter(|(vector, _)| wanted(*vector)).map(|(_, weight)| weight).sum::<f64>().min(1.0)
    }
}

/// Each vector once, with the weight of all its rows.
pub(crate) fn merge(rows: &mut Vec<(usize, f64)>) {
    rows.sort_unstable_by_key(|(vector, _)| *vector);
    rows.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
}
