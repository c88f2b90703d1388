//! One published value with the value that this program computes, and how far apart they may be.

use std::error::Error;

/// How surely a published value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Read in the named source, or in a page that reproduces it.
    Printed,
    /// From memory of the named source.
    Memory,
    /// No print exists: calculated from the named formula by other means.
    Calculated,
}

impl Status {
    /// Its words on the page.
    pub fn words(self) -> &'static str {
        match self {
            Status::Printed => "printed",
            Status::Memory => "from memory",
            Status::Calculated => "own calculation",
        }
    }
}

/// What a row claims of the published value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Claim {
    /// It comes out.
    Agrees,
    /// It is a known misprint or slip of its source and must not come out.
    MustNotComeOut,
}

/// One row.
#[derive(Clone, Debug)]
pub struct Check {
    /// The field that it belongs to.
    pub subject: &'static str,
    /// Work, edition, table or example.
    pub source: &'static str,
    /// How surely the value is known.
    pub status: Status,
    /// What is computed from what.
    pub what: String,
    /// The unit of the figures; empty for plain numbers.
    pub unit: &'static str,
    /// As published.
    pub expected: f64,
    /// As computed; not a number where the computation refuses.
    pub got: f64,
    /// How far apart they may be.
    pub tolerance: f64,
    /// Why so far.
    pub because: &'static str,
    /// What the row claims.
    pub claim: Claim,
}

impl Check {
    /// Whether the row's claim holds.
    pub fn holds(&self) -> bool {
        let off = (self.got - self.expected).abs();
        match self.claim {
            Claim::Agrees => off <= self.tolerance,
            Claim::MustNotComeOut => off > self.tolerance,
        }
    }
}

/// What the rows of one table or example share.
#[derive(Clone, Copy, Debug)]
pub struct Printed {
    /// The field.
    pub subject: &'static str,
    /// Work, edition, table or example.
    pub source: &'static str,
    /// How surely its values are known.
    pub status: Status,
    /// The unit of the figures.
    pub unit: &'static str,
    /// How far a computed value may lie from the print.
    pub tolerance: f64,
    /// Why so far.
    pub because: &'static str,
}

impl Printed {
    /// A row: what it is of, the print, and what this program computes.
    pub fn row<E: Error>(&self, what: impl Into<String>, expected: f64, got: Result<f64, E>) -> Check {
        let Self { subject, source, status, unit, tolerance, because } = *self;
        let (what, got, claim) = (what.into(), got.unwrap_or(f64::NAN), Claim::Agrees);
        Check { subject, source, status, what, unit, expected, got, tolerance, because, claim }
    }

    /// A row whose computation cannot fail.
    pub fn sure(&self, what: impl Into<String>, expected: f64, got: f64) -> Check {
        self.row(what, expected, Ok::<f64, std::fmt::Error>(got))
    }

    /// The same table with figures of another unit and tolerance.
    pub fn with(&self, unit: &'static str, tolerance: f64) -> Printed {
        Printed { unit, tolerance, ..*self }
    }

    /// A row whose tolerance is a share of the print.
    pub fn share<E: Error>(&self, what: impl Into<String>, expected: f64, got: Result<f64, E>) -> Check {
        Printed { tolerance: self.tolerance * expected.abs(), ..*self }.row(what, expected, got)
    }
}

/// A known misprint: the row holds when it does not come out.
pub(crate) fn misprint(check: Check) -> Check {
    Check { claim: Claim::MustNotComeOut, ..check }
}
