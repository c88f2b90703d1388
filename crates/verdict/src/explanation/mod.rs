//! One cause opened: what speaks for and against it, found values beside their limits, and what would change its rank.

mod limits;
mod strength;
mod turns;

pub use limits::{Beside, LimitFrom, Measure};
pub use strength::{STRENGTHS, Strength, strength};
pub use turns::{After, FIRST_CAUSES, Turn};

use crate::Error;
use crate::diagnosis::{CauseVerdict, Diagnosis, shown};
use toothsayer_evidence::{CauseId, Piece, Posterior, Weight};

/// A thing that is known.
#[derive(Clone, Debug, PartialEq)]
pub enum Known {
    /// An answered check.
    Check {
        /// Its id in the fault book.
        id: String,
        /// Yes or no.
        yes: bool,
        /// Whether the complaint says it and nobody looked.
        by_complaint: bool,
    },
    /// That the teeth went.
    Strip,
}

/// What a thing that is known says of the cause, everything else that is known being known.
#[derive(Clone, Debug, PartialEq)]
pub struct Speaks {
    /// The thing.
    pub known: Known,
    /// ln odds of the cause with it less ln odds without it.
    pub log_odds_nat: f64,
    /// P(cause) without it.
    pub without: f64,
}

/// One cause opened.
#[derive(Clone, Debug)]
pub struct Explanation {
    /// What is believed of it.
    pub cause: CauseVerdict,
    /// Its place among the ranked causes, from 1.
    pub place: usize,
    /// P(cause) before anything was seen; none where the build decides.
    pub prior: Option<f64>,
    /// ln odds before anything was seen, and by the evidence; none where the build decides.
    pub log_odds_nat: Option<[f64; 2]>,
    /// Checks whose yes shows the cause to be there now, whatever brought it about.
    pub shown_by: Vec<String>,
    /// What each thing that is known says, the strongest first; empty where the build decides.
    pub speaks: Vec<Speaks>,
    /// Found values beside their limits.
    pub beside: Vec<Beside>,
    /// Open checks that would move the cause, the one that would move it most first.
    pub turns: Vec<Turn>,
    /// A bound of the share of the evidence that the inference passed over.
    pub neglected: f64,
}

impl Diagnosis<'_> {
    /// Opens one cause.
    ///
    /// The network stays as the whole file makes it: a weight tells what an answer says, not what its measured value
    /// does to the build.
    pub fn explain(&self, id: &str) -> Result<Explanation, Error> {
        let no_cause = || Error::NoCause { id: id.to_owned() };
        let place = self.book.causes().iter().position(|cause| cause.id == id).ok_or_else(no_cause)?;
        let entry = &self.book.causes()[place];
        let cause = self.causes.get(place).ok_or_else(no_cause)?.clone();
        let posterior = Posterior::new(&self.network, self.evidence.clone())?;
        let prior = (!cause.decided).then(|| entry.prior.mean());
        let odds = posterior.prior_log_odds(CauseId(place)).zip(posterior.log_odds(CauseId(place)));
        let mut speaks: Vec<Speaks> =
            posterior.weights(CauseId(place))?.into_iter().map(|weight| self.speaks(&weight)).collect();
        speaks.sort_by(|a, b| b.log_odds_nat.abs().total_cmp(&a.log_odds_nat.abs()));
        Ok(Explanation {
            place: 1 + self.ranked().iter().position(|ranked| ranked.id == id).unwrap_or(0),
            prior,
            log_odds_nat: odds.map(|(prior, now)| [prior, now]),
            shown_by: self.shown_by(place),
            speaks,
            beside: limits::beside_limits(self, entry)?,
            turns: turns::turns(self, place)?,
            neglected: posterior.neglected(),
            cause,
        })
    }

    fn speaks(&self, weight: &Weight) -> Speaks {
        let known = match weight.piece {
            Piece::SomeMode => Known::Strip,
            Piece::Answer(finding, yes) => {
                let id = self.book.findings().get(finding.0).map_or_else(String::new, |entry| entry.id.clone());
                let by_complaint = !self.job.findings.iter().any(|finding| finding.check == id);
                Known::Check { id, yes, by_complaint }
            }
        };
        Speaks { known, log_odds_nat: weight.nats, without: probability(weight.without) }
    }

    /// Answered checks that show the cause directly.
    fn shown_by(&self, place: usize) -> Vec<String> {
        let yes = self.job.findings.iter().filter(|finding| finding.yes);
        let entries = yes.filter_map(|finding| self.book.finding(&finding.check));
        let showing = entries.filter(|entry| shown(self.book, entry).contains(CauseId(place)));
        showing.map(|entry| entry.id.clone()).collect()
    }
}

/// The probability of log-odds: 1/(1 + e^-w).
fn probability(log_odds_nat: f64) -> f64 {
    1.0 / (1.0 + (-log_odds_nat).exp())
}
