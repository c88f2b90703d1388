//! The posterior: every vector of undecided causes weighed against the evidence, modes summed out.

use crate::belief::Belief;
use crate::chance::NoisyOr;
use crate::error::Error;
use crate::evidence::Evidence;
use crate::layout::Layout;
use crate::mode_sum::{ModeEvidence, Scratch};
use crate::mode_table::ModeTable;
use crate::network::{Cause, Network, State};

/// Probability that all vectors which later sums pass over may have together.
const NEGLECTED: f64 = 1e-13;

/// A network with its evidence taken in.
///
/// Every vector of the undecided causes is visited once. Modes are summed in closed form except those that a "yes"
/// answer couples. The figures are exact up to rounding and 1e-13 of the weight.
#[derive(Clone, Debug)]
pub struct Posterior<'a> {
    pub(crate) network: &'a Network,
    pub(crate) evidence: Evidence,
    pub(crate) mode_evidence: ModeEvidence,
    pub(crate) belief: Belief,
    pub(crate) live: Vec<Live>,
    evidence_probability: f64,
}

/// A vector of causes that carries weight.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Live {
    pub vector: usize,
    pub weight: f64,
    /// P(evidence on the modes | this vector).
    pub mode_sum: f64,
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
        let mut weights = prior_weights(&network.causes);
        weigh_answers(&mut weights, network, &layout, &evidence.answers);
        let sums = weigh_modes(&mut weights, network, &layout, &mode_evidence);
        let (belief, evidence_probability) = Belief::normalised(&layout, weights).ok_or(Error::Contradiction)?;
        let live = live_vectors(&belief, &sums);
        Ok(Self { network, evidence, mode_evidence, belief, live, evidence_probability })
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

/// Priors of all vectors of undecided causes.
fn prior_weights(causes: &[Cause]) -> Vec<f64> {
    let mut weights = vec![1.0];
    for cause in causes {
        if let State::Prior(prior) = cause.state {
            let present: Vec<f64> = weights.iter().map(|weight| weight * prior).collect();
            weights.iter_mut().for_each(|weight| *weight *= 1.0 - prior);
            weights.extend(present);
        }
    }
    weights
}

/// Multiplies in the answers that depend on causes alone, and the share of "no" answers that causes bear.
fn weigh_answers(weights: &mut [f64], network: &Network, layout: &Layout, answers: &[Option<bool>]) {
    for (finding, answer) in network.findings.iter().zip(answers) {
        let seen = NoisyOr::new(layout, finding.leak, &finding.causes);
        match answer {
            Some(false) => weights.iter_mut().enumerate().for_each(|(vector, w)| *w *= seen.at(vector).miss),
            Some(true) if finding.modes.is_empty() => {
                weights.iter_mut().enumerate().for_each(|(vector, w)| *w *= seen.at(vector).hit);
            }
            _ => {}
        }
    }
}

/// Multiplies in what the evidence says of the modes, and returns that factor for each vector.
fn weigh_modes(weights: &mut [f64], network: &Network, layout: &Layout, evidence: &ModeEvidence) -> Vec<f64> {
    let table = ModeTable::new(&network.modes, layout);
    let mut scratch = Scratch::default();
    let mut weigh = |(vector, weight): (usize, &mut f64)| {
        if *weight == 0.0 {
            return 0.0;
        }
        evidence.explain(vector, &mut scratch);
        let sum = evidence.sum(&table.at(vector), &ModeEvidence::no_cost(), &mut scratch);
        *weight *= sum;
        sum
    };
    weights.iter_mut().enumerate().map(&mut weigh).collect()
}

fn live_vectors(belief: &Belief, sums: &[f64]) -> Vec<Live> {
    let floor = NEGLECTED / belief.weights.len() as f64;
    let all = belief.weights.iter().zip(sums).enumerate();
    let live = all.map(|(vector, (weight, mode_sum))| Live { vector, weight: *weight, mode_sum: *mode_sum });
    live.filter(|row| row.weight > floor && row.mode_sum > 0.0).collect()
}
