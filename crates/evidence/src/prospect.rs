//! Chances of failure for every combination of choices, worked out once for many beliefs over the same vectors.

use crate::belief::Belief;
use crate::error::Error;
use crate::ids::CauseSet;
use crate::mode_table::ModeTable;
use crate::network::Modes;
use std::sync::Arc;

/// Weight that all vectors which are passed over may have together.
const PASSED_OVER: f64 = 1e-7;

/// What each combination of choices leaves to fail, vector by vector of one belief.
#[derive(Clone, Debug)]
pub struct Prospect<'a> {
    modes: &'a Modes,
    choices: Vec<CauseSet>,
    vectors: Arc<[usize]>,
    /// Rows that carry weight.
    rows: Vec<usize>,
    /// For each combination the chance of failure at each of `rows`.
    failure: Vec<Vec<f64>>,
}

impl<'a> Prospect<'a> {
    /// The chances of failure for every combination of `choices`; `always` are cured in each.
    pub fn new(belief: &Belief, modes: &'a Modes, always: CauseSet, choices: &[CauseSet]) -> Result<Self, Error> {
        belief.fits(modes)?;
        let choices: Vec<CauseSet> = choices.to_vec();
        let rows = heavy(belief);
        let at = |cured: CauseSet| -> Vec<f64> {
            let table = ModeTable::new(modes, &belief.layout.without(cured));
            rows.iter().map(|row| table.some(belief.vectors[*row])).collect()
        };
        let failure = (0..1_usize << choices.len()).map(|set| at(chosen(always, &choices, set))).collect();
        let mut all = vec![always];
        all.extend(choices);
        Ok(Self { modes, choices: all, vectors: belief.vectors.clone(), rows, failure })
    }

    /// P(at least one mode happens) under `belief` for every combination, good to 1e-7 where the belief has the vectors
    /// that this was made for; of another belief it is worked out anew.
    pub fn failures(&self, belief: &Belief) -> Result<Vec<f64>, Error> {
        if !Arc::ptr_eq(&self.vectors, &belief.vectors) && self.vectors != belief.vectors {
            let all = belief.failures(self.modes, &self.choices)?;
            return Ok(all.into_iter().enumerate().filter(|(set, _)| set & 1 == 1).map(|(_, chance)| chance).collect());
        }
        let weights: Vec<f64> = self.rows.iter().map(|row| belief.weights[*row]).collect();
        let chance = |failure: &Vec<f64>| failure.iter().zip(&weights).map(|(f, w)| f * w).sum::<f64>().min(1.0);
        Ok(self.failure.iter().map(chance).collect())
    }
}

fn chosen(always: CauseSet, choices: &[CauseSet], set: usize) -> CauseSet {
    let made = choices.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1);
    made.fold(always, |all, (_, choice)| all.union(*choice))
}

/// The heaviest rows, until what is left weighs next to nothing.
fn heavy(belief: &Belief) -> Vec<usize> {
    let mut order: Vec<usize> = (0..belief.weights.len()).collect();
    order.sort_unstable_by(|a, b| belief.weights[*b].total_cmp(&belief.weights[*a]));
    let mut left = 1.0;
    let needed = order.iter().take_while(|row| {
        let open = left > PASSED_OVER;
        left -= belief.weights[**row];
        open
    });
    let count = needed.count();
    order.truncate(count);
    order.sort_unstable();
    order
}
