//! What was seen or measured at the bench.

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
