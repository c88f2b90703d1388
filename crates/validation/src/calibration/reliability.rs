//! Predicted probabilities against outcomes: reliability by bins, and Brier scores.

use super::truth::Truth;
use rayon::prelude::*;
use toothsayer_evidence::{CauseId, Error, Network, Posterior, State};

/// Bins of predicted probability.
pub(super) const BINS: usize = 10;
/// Chance that a check was made.
const LOOKED: f64 = 0.5;

/// Predictions of one bin.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bin {
    /// How many.
    pub count: u32,
    /// Their sum.
    pub predicted: f64,
    /// How many of them came true.
    pub came_true: u32,
}

impl Bin {
    /// Mean of what was predicted.
    pub fn mean(&self) -> f64 {
        self.predicted / f64::from(self.count.max(1))
    }

    /// Share that came true.
    pub fn observed(&self) -> f64 {
        f64::from(self.came_true) / f64::from(self.count.max(1))
    }

    /// Standard error of that share, were the predictions right.
    pub fn standard_error(&self) -> f64 {
        (self.mean() * (1.0 - self.mean()) / f64::from(self.count.max(1))).sqrt()
    }
}

/// How well the predictions of many trucks' undecided causes came true.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reliability {
    /// Trucks.
    pub trucks: u64,
    /// By predicted probability, in tenths.
    pub bins: [Bin; BINS],
    /// Mean squared difference of prediction and outcome (Brier 1950).
    pub brier: f64,
    /// The same of whoever only knows how common each cause is.
    pub brier_of_priors: f64,
}

/// Trucks drawn from `nature`, weighed by `book`.
pub(super) fn reliability(nature: &Network, book: &Network, trucks: u64, seed: u64) -> Result<Reliability, Error> {
    let truck = |number: u64| -> Result<Vec<(f64, f64, bool)>, Error> {
        let mut dice = fastrand::Rng::with_seed(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15).wrapping_add(number));
        let truth = Truth::stripped(nature, &mut dice);
        let belief = Posterior::new(book, truth.looked_at(LOOKED, &mut dice))?.belief().clone();
        let undecided = book.causes().iter().enumerate().filter_map(|(place, cause)| match cause.state {
            State::Prior(prior) => Some((belief.present(CauseId(place)), prior, truth.causes[place])),
            State::Known(_) => None,
        });
        Ok(undecided.collect())
    };
    let rows: Vec<Vec<(f64, f64, bool)>> = (0..trucks).into_par_iter().map(truck).collect::<Result<_, _>>()?;
    let mut out = Reliability { trucks, ..Reliability::default() };
    let count = rows.iter().map(Vec::len).sum::<usize>().max(1) as f64;
    for (predicted, prior, is_there) in rows.into_iter().flatten() {
        let bin = &mut out.bins[((predicted * BINS as f64) as usize).min(BINS - 1)];
        bin.count += 1;
        bin.predicted += predicted;
        bin.came_true += u32::from(is_there);
        let outcome = f64::from(u8::from(is_there));
        out.brier += (predicted - outcome).powi(2) / count;
        out.brier_of_priors += (prior - outcome).powi(2) / count;
    }
    Ok(out)
}
