//! A figure of common practice with its ends.

/// A usual value with its low and high ends; without a source unless its constant names one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The usual value.
    pub value: f64,
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

impl Spread {
    /// A value without spread.
    pub(crate) const fn exact(value: f64) -> Self {
        Self { value, low: value, high: value }
    }
}
