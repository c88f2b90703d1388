//! A probability for every vector of causes.

use crate::ids::{CauseId, CauseSet};
use crate::layout::Layout;

/// The joint probability of the causes: what is left of a posterior once the findings have spoken.
#[derive(Clone, Debug)]
pub struct Belief {
    pub(crate) layout: Layout,
    /// One weight for each vector of undecided causes; they add up to one.
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
    pub(crate) fn normalised(layout: &Layout, mut weights: Vec<f64>) -> Option<(Self, f64)> {
        let total: f64 = weights.iter().sum();
        if !(total > 0.0 && total.is_finite()) {
            return None;
        }
        weights.iter_mut().for_each(|weight| *weight /= total);
        Some((Self { layout: layout.clone(), weights }, total))
    }

    /// P(cause present).
    pub fn present(&self, cause: CauseId) -> f64 {
        match self.layout.position(cause) {
            Some(position) => self.sum_where(|vector| vector >> position & 1 == 1),
            None if self.layout.is_known_present(cause) => 1.0,
            None => 0.0,
        }
    }

    /// The belief when `causes` are there whatever the evidence says of them, all else as believed. A cause known to be
    /// absent stays so.
    pub fn with_present(&self, causes: CauseSet) -> Belief {
        let mask: usize = causes.iter().filter_map(|cause| self.layout.position(cause)).map(|p| 1 << p).sum();
        let mut weights = vec![0.0; self.weights.len()];
        for (vector, weight) in self.weights.iter().enumerate() {
            weights[vector | mask] += weight;
        }
        Belief { layout: self.layout.clone(), weights }
    }

    /// P(none of the causes is present).
    pub fn none_of(&self, causes: CauseSet) -> f64 {
        if causes.iter().any(|cause| self.layout.is_known_present(cause)) {
            return 0.0;
        }
        let mask: usize = causes.iter().filter_map(|cause| self.layout.position(cause)).map(|p| 1 << p).sum();
        self.sum_where(|vector| vector & mask == 0)
    }

    /// Entropy of the joint vector of causes, in bits.
    pub fn entropy_bits(&self) -> f64 {
        self.weights.iter().filter(|weight| **weight > 0.0).map(|weight| -weight * weight.log2()).sum::<f64>().max(0.0)
    }

    fn sum_where(&self, wanted: impl Fn(usize) -> bool) -> f64 {
        let weights = self.weights.iter().enumerate();
        weights.filter(|(vector, _)| wanted(*vector)).map(|(_, weight)| weight).sum::<f64>().min(1.0)
    }
}
