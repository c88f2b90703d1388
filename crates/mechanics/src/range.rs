//! Valid ranges: a value outside is an error that names the limit.

use std::fmt;

/// A value that no formula here is valid for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// What the value is ("face width").
    pub what: &'static str,
    /// The value, in `unit`.
    pub value: f64,
    /// Least allowed value, in `unit`.
    pub min: f64,
    /// Largest allowed value, in `unit`.
    pub max: f64,
    /// Unit of the three numbers; empty for plain numbers.
    pub unit: &'static str,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { what, value, min, max, unit } = self;
        let space = if unit.is_empty() { "" } else { " " };
        write!(f, "{what} is {value}{space}{unit}, outside {min} to {max}{space}{unit}")
    }
}

impl std::error::Error for OutOfRange {}

/// One range: what it limits, the limits and their unit.
#[derive(Clone, Copy, Debug)]
pub struct Range {
    /// What the value is ("face width").
    pub what: &'static str,
    /// Least allowed value.
    pub min: f64,
    /// Largest allowed value.
    pub max: f64,
    /// Unit of the limits.
    pub unit: &'static str,
}

impl Range {
    /// Refuses values outside the range, and what is no number.
    pub fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        let Self { what, min, max, unit } = *self;
        if (min..=max).contains(&value) { Ok(value) } else { Err(OutOfRange { what, value, min, max, unit }) }
    }
}
