//! What was seen or measured at the bench.

use toothsayer_fault_book::{Change, FaultBook};

/// An answered check.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The check's id in the fault book.
    pub check: String,
    /// Yes or no.
    pub yes: bool,
    /// What was measured, in SI, where the check measures.
    pub value: Option<f64>,
}

impl Finding {
    /// What a yes does to the build: which joint it shows free, what it means, and what its measurement sets.
    pub fn effects(&self, book: &FaultBook) -> Vec<Change> {
        let Some(entry) = book.finding(&self.check) else { return Vec::new() };
        let frees = entry.frees.iter().map(|carries| Change::Frees { carries: carries.clone() });
        let sets = entry.value.iter().zip(self.value).map(|(value, measured)| value.change(measured));
        frees.chain(entry.means.iter().cloned()).chain(sets).collect()
    }
}
