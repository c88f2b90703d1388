//! The events of a walk in their order: one case again and again, or the driver's run dealt out evenly.

use crate::joint::per_run;
use toothsayer_job::Driver;
use toothsayer_mechanics::driveline::Case;

/// Which events come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Driven {
    /// One case, again and again.
    Case(Case),
    /// Every case of the driver's run, as often as it comes.
    Run,
}

/// Deals the events: at each turn the case that lags most behind its share.
pub(super) struct Deck {
    shares: Vec<(Case, f64)>,
    dealt: Vec<f64>,
    turns: f64,
}

impl Deck {
    pub(super) fn new(driven: Driven, driver: &Driver) -> Self {
        let shares: Vec<(Case, f64)> = match driven {
            Driven::Case(case) => vec![(case, 1.0)],
            Driven::Run => {
                let driven = Case::ALL.into_iter().map(|case| (case, per_run(driver, case)));
                driven.filter(|(_, times)| *times > 0.0).collect()
            }
        };
        Self { dealt: vec![0.0; shares.len()], shares, turns: 0.0 }
    }

    /// The next event; full brake of a driver who does nothing.
    pub(super) fn next(&mut self) -> Case {
        self.turns += 1.0;
        let whole: f64 = self.shares.iter().map(|(_, share)| share).sum();
        let lag = |place: usize| self.shares[place].1 / whole * self.turns - self.dealt[place];
        let most = (0..self.shares.len()).reduce(|most, next| if lag(next) > lag(most) { next } else { most });
        match most {
            Some(place) => {
                self.dealt[place] += 1.0;
                self.shares[place].0
            }
            None => Case::FullBrake,
        }
    }

    /// Events after which every case has come at least once.
    pub(super) fn round(&self) -> u32 {
        let whole: f64 = self.shares.iter().map(|(_, share)| share).sum();
        let least = self.shares.iter().map(|(_, share)| *share).fold(f64::INFINITY, f64::min);
        // A case that lags least may still wait for each of the others once.
        if whole > 0.0 { (whole / least).ceil() as u32 + self.shares.len() as u32 - 1 } else { 1 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn deck(shares: &[(Case, f64)]) -> Deck {
        Deck { shares: shares.to_vec(), dealt: vec![0.0; shares.len()], turns: 0.0 }
    }

    #[test]
    fn a_run_is_dealt_out_evenly() {
        let mut deck = deck(&[(Case::Launch, 60.0), (Case::FullBrake, 30.0), (Case::Reversal, 6.0)]);
        let run: Vec<Case> = (0..96).map(|_| deck.next()).collect();
        let times = |case: Case, of: &[Case]| of.iter().filter(|dealt| **dealt == case).count();
        assert_eq!([Case::Launch, Case::FullBrake, Case::Reversal].map(|case| times(case, &run)), [60, 30, 6]);
        assert_eq!(times(Case::FullBrake, &run[..48]), 15);
        assert!(
            Case::ALL.iter().filter(|case| run.contains(case)).all(|case| run[..deck.round() as usize].contains(case))
        );
    }

    #[test]
    fn one_case_comes_again_and_again() {
        let mut deck = deck(&[(Case::Reversal, 1.0)]);
        assert!((0..5).all(|_| deck.next() == Case::Reversal));
    }
}
