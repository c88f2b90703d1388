//! What the chances of a set depend on, as one number: the same content has the same chances.

use super::judge::Judge;
use super::sets::Causes;
use std::hash::{DefaultHasher, Hash, Hasher};
use toothsayer_fault_book::Change;

/// Digest of a set's content, twice 64 bits.
pub(crate) type Content = [u64; 2];

/// Digests of a job's causes.
pub(super) struct Contents {
    /// Truck, driver, usual values, runs and spread.
    job: Content,
    /// Each cause there, and each not.
    causes: Vec<[Content; 2]>,
}

impl Contents {
    pub(super) fn of(causes: &Causes<'_>, judge: &Judge) -> Self {
        let Judge { spread, past_runs, horizon_runs, .. } = judge;
        let cause =
            |present: &[Change], absent: &[Change]| [digest(&format!("{present:?}")), digest(&format!("{absent:?}"))];
        Self {
            // Debug shows every number to its last bit.
            job: digest(&format!("{:?} {:?} {spread} {past_runs} {horizon_runs}", causes.base, causes.usual)),
            causes: causes.computed.iter().map(|one| cause(&one.present, &one.cause.absent)).collect(),
        }
    }

    /// The digest of a set: its causes there, the others not, in their order.
    pub(super) fn of_set(&self, set: usize) -> Content {
        let each = self.causes.iter().enumerate().map(|(bit, cause)| cause[1 - (set >> bit & 1)]);
        digest(&(self.job, each.collect::<Vec<Content>>()))
    }
}

fn digest(content: &impl Hash) -> Content {
    [0_u8, 1].map(|half| {
        let mut hasher = DefaultHasher::new();
        (half, content).hash(&mut hasher);
        hasher.finish()
    })
}
