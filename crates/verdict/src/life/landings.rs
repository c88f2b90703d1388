//! Landings from every height of the driver's range and at every phase of the lash: a few simulated, many drawn.

use super::strikes::Strike;
use crate::peaks::{LASH_PHASES, event};
use crate::states::Staged;
use toothsayer_evidence::{StatedRange, draw, normal_cdf, normal_quantile};
use toothsayer_job::Build;
use toothsayer_mechanics::driveline::{Case, Event};

/// Standard deviations from the usual height that are simulated; draws stop at the ends.
const DEVIATIONS: [f64; 5] = [-2.0, -1.0, 0.0, 1.0, 2.0];
/// Landings drawn of each kind: the share of the hardest is told to half a thousandth.
const DRAWN: u32 = 2048;
/// Dimensions of the draws of height and phase.
const HEIGHT: u32 = 2;
const PHASE: u32 = 3;

/// The heights that a driver lands from.
pub(super) struct Landings {
    height_m: StatedRange,
    deviations: &'static [f64],
}

impl Landings {
    /// Of a state's driver; one height where it has no range.
    pub(super) fn of(stage: &Staged, build: &Build) -> Self {
        let usual = build.driver.drop_height.to_m();
        let entry = stage.sheet.fields.numbers.get("driver.drop_height").filter(|entry| entry.has_spread());
        match entry {
            Some(entry) => {
                let height_m = StatedRange { low: entry.low, usual: entry.value, high: entry.high };
                Self { height_m, deviations: &DEVIATIONS }
            }
            None => Self { height_m: StatedRange { low: usual, usual, high: usual }, deviations: &[0.0] },
        }
    }

    /// How many are simulated of each kind.
    pub(super) fn count(&self) -> usize {
        self.deviations.len() * LASH_PHASES.len()
    }

    /// The landings of a kind to be simulated: by height, then by phase.
    pub(super) fn events(&self, case: Case, build: &Build) -> Vec<Event> {
        let at = |deviation: &f64| self.height_m.quantile(normal_cdf(*deviation)).max(0.0);
        let from = |height_m: f64| {
            LASH_PHASES.map(|phase| Event { drop_height_m: height_m, ..event(case, &build.driver, Some(phase)) })
        };
        self.deviations.iter().map(at).flat_map(from).collect()
    }

    /// Drawn landings, straight between the simulated ones.
    pub(super) fn drawn(&self, simulated: &[Strike], seed: u32) -> Vec<Strike> {
        let one = |index: u32| {
            let deviation = normal_quantile(draw(index, HEIGHT, seed));
            let (low, up) = place(self.deviations, deviation);
            let (before, along) = place(&LASH_PHASES, draw(index, PHASE, seed));
            let row = |row: usize| {
                let at = |column: usize| simulated.get(row * LASH_PHASES.len() + column).copied().unwrap_or_default();
                between(at(before), at((before + 1).min(LASH_PHASES.len() - 1)), along)
            };
            between(row(low), row((low + 1).min(self.deviations.len() - 1)), up)
        };
        (0..DRAWN).map(one).collect()
    }
}

/// The interval of `marks` (rising) that holds a value, and how far along it the value lies, 0 to 1.
fn place(marks: &[f64], value: f64) -> (usize, f64) {
    let after = marks.iter().position(|mark| *mark >= value).unwrap_or(marks.len());
    match (after.checked_sub(1), marks.get(after)) {
        (None, _) => (0, 0.0),
        (Some(before), None) => (before, 0.0),
        (Some(before), Some(next)) => (before, (value - marks[before]) / (next - marks[before])),
    }
}

fn between(a: Strike, b: Strike, share: f64) -> Strike {
    let mix = |a: f64, b: f64| a + share * (b - a);
    Strike {
        over_strength: [0, 1].map(|gear| mix(a.over_strength[gear], b.over_strength[gear])),
        tiring: [0, 1].map(|gear| mix(a.tiring[gear], b.tiring[gear])),
        force_n: mix(a.force_n, b.force_n),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(value: f64, expected: (usize, f64)) {
        assert_eq!(place(&[-1.0, 0.0, 2.0], value), expected);
    }

    #[test]
    fn a_value_lies_along_its_interval_and_no_further_than_the_ends() {
        check(-3.0, (0, 0.0));
        check(-1.0, (0, 0.0));
        check(-0.25, (0, 0.75));
        check(0.5, (1, 0.25));
        check(2.0, (1, 1.0));
        check(5.0, (2, 0.0));
    }
}
