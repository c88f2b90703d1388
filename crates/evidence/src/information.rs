//! What an open finding would tell: expected information in bits, and the belief after each answer.

use crate::belief::{Answered, Belief};
use crate::chance::NoisyOr;
use crate::ids::{CauseId, FindingId};
use crate::joint::{Live, Posterior};
use crate::layout::SubsetIndex;
use crate::mode_sum::Scratch;
use crate::network::{Finding, MAX_MODES};

impl Posterior<'_> {
    /// Mutual information, in bits, of each open finding with the joint vector of causes given the evidence, the modes
    /// summed out: H(F | e) - sum over vectors of P(x | e) H(F | x, e). None for findings already answered.
    pub fn bits(&self) -> Vec<Option<f64>> {
        let open = |(place, answer): (usize, &Option<bool>)| match answer {
            Some(_) => None,
            None => Some(self.finding_bits(&self.network.findings[place])),
        };
        self.evidence.answers.iter().enumerate().map(open).collect()
    }

    /// P(yes | evidence) of a finding, and the belief after each answer; none if it is answered or does not exist.
    pub fn answered(&self, finding: FindingId) -> Option<Answered> {
        let open = self.evidence.answers.get(finding.0)?.is_none();
        let row = self.network.findings.get(finding.0).filter(|_| open)?;
        let no: Vec<f64> = self.chances_of_no(row);
        let weigh = |share: fn(f64) -> f64| -> Vec<f64> {
            self.live.iter().zip(&no).map(|(live, p_no)| live.weight * share(*p_no)).collect()
        };
        let (yes, no) = (weigh(|p_no| 1.0 - p_no), weigh(|p_no| p_no));
        let total = yes.iter().sum::<f64>();
        let vectors = || self.belief.vectors.clone();
        let after = |weights| Belief::normalised(&self.belief.layout, vectors(), weights).map(|(belief, _)| belief);
        Some(Answered { yes: total.min(1.0), after_yes: after(yes), after_no: after(no) })
    }

    fn finding_bits(&self, finding: &Finding) -> f64 {
        let (mut p_no, mut conditional) = (0.0, 0.0);
        let mut add = |(weight, no): (f64, f64)| {
            p_no += weight * no;
            conditional += weight * binary_entropy_bits(no);
        };
        if finding.modes.is_empty() {
            self.grouped_by_parents(finding).into_iter().for_each(&mut add);
        } else {
            let weights = self.live.iter().map(|row| row.weight);
            weights.zip(self.chances_of_no(finding)).for_each(&mut add);
        }
        (binary_entropy_bits(p_no) - conditional).max(0.0)
    }

    /// (probability, P(no)) for each state of the parents of a finding that has causes alone as parents.
    fn grouped_by_parents(&self, finding: &Finding) -> Vec<(f64, f64)> {
        let layout = &self.belief.layout;
        let parents: Vec<CauseId> = finding.causes.iter().map(|link| link.cause).collect();
        let parents: Vec<_> = parents.into_iter().filter(|cause| layout.position(*cause).is_some()).collect();
        let group = SubsetIndex::new(layout, &parents);
        let seen = NoisyOr::new(layout, finding.leak, &finding.causes);
        let mut rows = vec![(0.0, 0.0); 1 << parents.len()];
        for live in &self.live {
            let row = &mut rows[group.at(live.vector)];
            row.0 += live.weight;
            row.1 = seen.at(live.vector).miss;
        }
        rows
    }

    /// P(no | vector, evidence) of an open finding at every live vector.
    fn chances_of_no(&self, finding: &Finding) -> Vec<f64> {
        let layout = &self.belief.layout;
        let seen = NoisyOr::new(layout, finding.leak, &finding.causes);
        if finding.modes.is_empty() {
            return self.live.iter().map(|row| seen.at(row.vector).miss).collect();
        }
        let mut cost = [1.0; MAX_MODES];
        finding.modes.iter().for_each(|link| cost[link.mode.0] = 1.0 - link.probability);
        let mut scratch = Scratch::default();
        let mut no = |row: &Live| {
            self.mode_evidence.explain(row.vector, &mut scratch);
            let sum = self.mode_evidence.sum(&row.chances, &cost, &mut scratch);
            (seen.at(row.vector).miss * sum / row.mode_sum).min(1.0)
        };
        self.live.iter().map(&mut no).collect()
    }
}

/// Entropy of one yes/no, in bits; 0 at certainty.
fn binary_entropy_bits(p: f64) -> f64 {
    let term = |p: f64| if p > 0.0 { -p * p.log2() } else { 0.0 };
    term(p) + term((1.0 - p).max(0.0))
}
