//! One unit for all values of an axis.

use toothsayer_quantity::{Kind, System, Unit, digits, pretty, show};

/// The unit in which an axis counts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Measure {
    unit: Option<&'static Unit>,
}

impl Measure {
    /// The unit that the bench reads the largest value in.
    pub(crate) fn of(kind: Kind, most_si: f64, system: System) -> Measure {
        let shown = show(kind, most_si, system);
        let word = shown.split_once(' ').map_or("", |(_, word)| word);
        Measure { unit: Unit::of_kind(kind).find(|unit| pretty(unit.symbol) == word) }
    }

    /// A value in that unit.
    pub(crate) fn count(&self, si: f64) -> f64 {
        self.unit.map_or(si, |unit| unit.from_si(si))
    }

    /// "force, N".
    pub(crate) fn titled(&self, what: &str) -> String {
        self.unit.map_or(what.to_owned(), |unit| format!("{what}, {}", pretty(unit.symbol)))
    }
}

/// A tick's number.
pub(crate) fn tick(value: f64) -> String {
    digits((value * 1e9).round() / 1e9)
}
