//! The posterior: every vector of undecided causes weighed against the evidence, modes summed out.

use crate::belief::Belief;
use crate::chance::NoisyOr;
use crate::error::Error;
use crate::evidence::Evidence;
use crate::heaviest::Heaviest;
use crate::layout::Layout;
use crate::mode_sum::{ModeEvidence, Scratch};
use crate::mode_table::{ModeChances, ModeTable};
use crate::network::Network;

/// Probability that all vectors which later sums pass over may have together.
const NEGLECTED: f64 = 1e-12;

/// A network with its evidence taken in.
///
/// Up to sixteen undecided causes every vector of them is visited once, and the figures are exact up to rounding and
/// 1e-12 of the weight; of more causes the 65 536 heaviest vectors are, and [`Posterior::neglected`] bounds the rest.
/// Modes are summed in closed form except those that a "yes" answer couples.
#[derive(Clone, Debug)]
pub struct Posterior<'a> {
    pub(crate) network: &'a Network,
    pub(crate) evidence: Evidence,
    pub(crate) mode_evidence: ModeEvidence,
    pub(crate) belief: Belief,
    pub(crate) live: Vec<Live>,
    evidence_probability: f64,
    neglected: f64,
}

/// A vector of causes that carries weight.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Live {
    pub vector: usize,
    pub weight: f64,
    /// P(evidence on the modes | this vector).
    pub mode_sum: f64,
    /// The chance of every mode at this vector.
    pub chances: ModeChances,
}

impl<'a> Posterior<'a> {
    /// Takes the evidence in. Fails if the answers do not fit the network, or if nothing explains them.
    pub fn new(network: &'a Network, evidence: Evidence) -> Result<Self, Error> {
        let (got, need) = (evidence.answers.len(), network.findings.len());
        if got != need {
            return Err(Error::AnswerCount { got, need });
        }
        let layout = Layout::new(&network.causes);
        let mode_evidence = ModeEvidence::new(network, &layout, &evidence.answers, evidence.some_mode);
        let Heaviest { mut rows, passed_over } = Heaviest::new(network, &layout, &evidence.answers);
        weigh_yes(&mut rows, network, &layout, &evidence.answers);
        let mut live = weigh_modes(&rows, network, &layout, &mode_evidence);
        let evidence_probability: f64 = live.iter().map(|row| row.weight).sum();
        keep_heavy(&mut live, evidence_probability).ok_or(Error::Contradiction)?;
        let vectors = live.iter().map(|row| row.vector).collect();
        let weights = live.iter().map(|row| row.weight).collect();
        let (belief, _) = Belief::normalised(&layout, vectors, weights).ok_or(Error::Contradiction)?;
        let neglected = (passed_over / evidence_probability).min(1.0);
        Ok(Self { network, evidence, mode_evidence, belief, live, evidence_probability, neglected })
    }

    /// A bound of the share of the evidence that the vectors passed over explain: 0 up to sixteen undecided causes.
    pub fn neglected(&self) -> f64 {
        self.neglected
    }

    /// P(evidence) before it was seen.
    pub fn evidence_probability(&self) -> f64 {
        self.evidence_probability
    }

    /// The probability of every vector of causes.
    pub fn belief(&self) -> &Belief {
        &self.belief
    }
}

/// Multiplies in the "yes" answers that depend on causes alone.
fn weigh_yes(rows: &mut [(usize, f64)], network: &Network, layout: &Layout, answers: &[Option<bool>]) {
    for (finding, answer) in network.findings.iter().zip(answers) {
        if *answer == Some(true) && finding.modes.is_empty() {
            let seen = NoisyOr::new(layout, finding.leak, &finding.causes);
            rows.iter_mut().for_each(|(vector, weight)| *weight *= seen.at(*vector).hit);
        }
    }
}

/// Multiplies in what the evidence says of the modes.
fn weigh_modes(rows: &[(usize, f64)], network: &Network, layout: &Layout, evidence: &ModeEvidence) -> Vec<Live> {
    let table = ModeTable::new(&network.modes, layout);
    let mut scratch = Scratch::default();
    let mut weigh = |(vector, weight): &(usize, f64)| {
        evidence.explain(*vector, &mut scratch);
        let chances = table.at(*vector);
        let mode_sum = evidence.sum(&chances, &ModeEvidence::no_cost(), &mut scratch);
        Live { vector: *vector, weight: weight * mode_sum, mode_sum, chances }
    };
    rows.iter().map(&mut weigh).filter(|row| row.weight > 0.0).collect()
}

/// Keeps the heaviest rows, as shares of `total`, until what is left weighs next to nothing; none if nothing does.
fn keep_heavy(live: &mut Vec<Live>, total: f64) -> Option<()> {
    if !(total > 0.0 && total.is_finite()) {
        return None;
    }
    live.sort_unstable_by(|a, b| b.weight.total_cmp(&a.weight).then(a.vector.cmp(&b.vector)));
    let mut left = 1.0;
    let needed = live.iter().take_while(|row| {
        let open = left > NEGLECTED;
        left -= row.weight / total;
        open
    });
    let count = needed.count();
    live.truncate(count);
    live.iter_mut().for_each(|row| row.weight /= total);
    Some(())
}
