//! Weight of evidence: what one answer does to the odds of a cause, everything else that is known being known.

use crate::error::Error;
use crate::evidence::Evidence;
use crate::ids::{CauseId, FindingId};
use crate::joint::Posterior;
use crate::network::State;

/// Odds are told to a million million to one either way: a posterior passes over what weighs less.
pub const MOST_LOG_ODDS: f64 = 27.631_021_115_928_547;
/// Decibans in one natural unit of log-odds: 10/ln 10.
pub const DECIBANS_PER_NAT: f64 = 4.342_944_819_032_518;

/// One thing that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece {
    /// The answer to a finding.
    Answer(FindingId, bool),
    /// That at least one mode happened.
    SomeMode,
}

/// What one thing that is known says of a cause.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// The thing.
    pub piece: Piece,
    /// ln odds of the cause without it, all else known.
    pub without: f64,
    /// ln odds with it less ln odds without: above 0 it speaks for the cause.
    pub nats: f64,
}

impl Evidence {
    /// Everything that is known, finding by finding, a failure last.
    pub fn pieces(&self) -> Vec<Piece> {
        let answers = self.answers.iter().enumerate();
        let answers = answers.filter_map(|(place, answer)| Some(Piece::Answer(FindingId(place), (*answer)?)));
        answers.chain(self.some_mode.then_some(Piece::SomeMode)).collect()
    }

    /// The same evidence without one piece of it.
    pub fn without(&self, piece: Piece) -> Evidence {
        let mut less = self.clone();
        match piece {
            Piece::SomeMode => less.some_mode = false,
            Piece::Answer(finding, _) => {
                if let Some(answer) = less.answers.get_mut(finding.0) {
                    *answer = None;
                }
            }
        }
        less
    }
}

impl Posterior<'_> {
    /// ln(P(cause | evidence)/P(no cause | evidence)), within [`MOST_LOG_ODDS`]; none where the cause is known or is
    /// not in the network.
    pub fn log_odds(&self, cause: CauseId) -> Option<f64> {
        let [present, absent] = self.belief.both_sides(cause)?;
        Some(log_odds(present, absent))
    }

    /// The log-odds of a cause before any evidence; none where it is known.
    pub fn prior_log_odds(&self, cause: CauseId) -> Option<f64> {
        match self.network.causes.get(cause.0)?.state {
            State::Prior(prior) => Some(log_odds(prior, 1.0 - prior)),
            State::Known(_) => None,
        }
    }

    /// What each thing that is known says of a cause: w = ln O(C | e) - ln O(C | e without it), by exact inference
    /// with the thing left out, which is ln P(thing | C, rest)/P(thing | not C, rest), Good's weight of evidence given
    /// the rest (I. J. Good, "Weight of evidence: a brief survey", Bayesian Statistics 2, 1985, pp. 249-270).
    ///
    /// The weights do not add up to the whole step from prior to posterior odds: where two things say the same, each
    /// one says little once the other is known. None where the cause is known.
    pub fn weights(&self, cause: CauseId) -> Result<Vec<Weight>, Error> {
        let Some(with) = self.log_odds(cause) else { return Ok(Vec::new()) };
        let weigh = |piece: Piece| {
            let without = Posterior::new(self.network, self.evidence.without(piece))?.log_odds(cause);
            Ok(without.map(|without| Weight { piece, without, nats: with - without }))
        };
        self.evidence.pieces().into_iter().filter_map(|piece| weigh(piece).transpose()).collect()
    }
}

fn log_odds(present: f64, absent: f64) -> f64 {
    (present.ln() - absent.ln()).clamp(-MOST_LOG_ODDS, MOST_LOG_ODDS)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odds_end_at_a_million_million_to_one() {
        assert!((log_odds(1.0, 1e-12) - MOST_LOG_ODDS).abs() < 1e-9);
        assert_eq!([log_odds(1.0, 0.0), log_odds(0.0, 1.0)], [MOST_LOG_ODDS, -MOST_LOG_ODDS]);
        assert!((DECIBANS_PER_NAT * 10_f64.ln() - 10.0).abs() < 1e-12);
    }
}
