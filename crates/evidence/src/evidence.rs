//! What is known: the answers to findings, and whether a failure happened at all.

use crate::ids::FindingId;

/// What was seen. Findings without an answer are left out of the inference, not taken as "no".
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// One answer for each finding of the network, in its order.
    pub answers: Vec<Option<bool>>,
    /// Whether at least one mode is known to have happened.
    pub some_mode: bool,
}

impl Evidence {
    /// Nothing known of `n_findings` findings.
    pub fn none(n_findings: usize) -> Self {
        Self { answers: vec![None; n_findings], some_mode: false }
    }

    /// The same evidence with one more answer; a place outside the list is left alone.
    pub fn with(mut self, finding: FindingId, answer: bool) -> Self {
        if let Some(slot) = self.answers.get_mut(finding.0) {
            *slot = Some(answer);
        }
        self
    }
}
