//! `present`: the probability that each cause is there.

use crate::ids::CauseId;
use crate::joint::Posterior;

impl Posterior<'_> {
    /// P(cause present | evidence) for every cause, in the network's order.
    pub fn present(&self) -> Vec<f64> {
        (0..self.network.causes.len()).map(|place| self.belief.present(CauseId(place))).collect()
    }
}
