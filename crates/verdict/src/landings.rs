//! Landings from every height of the driver's range and at every phase of the lash: a few simulated, many drawn.

use crate::peaks::event;
use toothsayer_evidence::{StatedRange, draw, normal_cdf, normal_quantile};
use toothsayer_job::{Driver, Sheet};
use toothsayer_mechanics::driveline::{Case, Event};

/// Dimensions of the draws of height and phase.
const HEIGHT: u32 = 2;
const PHASE: u32 = 3;

/// Where landings are simulated.
#[derive(Debug)]
pub(crate) struct Grid {
    /// Standard deviations from the usual height, rising; draws stop at the ends.
    pub(crate) deviations: &'static [f64],
    /// Phases of the lash, rising from 0 to 1.
    pub(crate) phases: &'static [f64],
}

/// The landings of one driver.
#[derive(Debug)]
pub(crate) struct Landings {
    height_m: StatedRange,
    deviations: &'static [f64],
    phases: &'static [f64],
}

/// A drawn landing between the simulated ones: their places with their shares.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spot {
    corners: [(usize, f64); 4],
}

impl Landings {
    /// Of a sheet's driver; one height where it has no range.
    pub(crate) fn of(sheet: &Sheet, driver: &Driver, grid: &Grid) -> Self {
        let usual = driver.drop_height.to_m();
        let phases = grid.phases;
        match sheet.fields.numbers.get("driver.drop_height").filter(|entry| entry.has_spread()) {
            Some(entry) => {
                let height_m = StatedRange { low: entry.low, usual: entry.value, high: entry.high };
                Self { height_m, deviations: grid.deviations, phases }
            }
            None => Self { height_m: StatedRange { low: usual, usual, high: usual }, deviations: &[0.0], phases },
        }
    }

    /// How many are simulated of each kind.
    pub(crate) fn count(&self) -> usize {
        self.deviations.len() * self.phases.len()
    }

    /// The landings of a kind to be simulated: by height, then by phase.
    pub(crate) fn events(&self, case: Case, driver: &Driver) -> Vec<Event> {
        let at = |deviation: &f64| self.height_m.quantile(normal_cdf(*deviation)).max(0.0);
        let from = |height_m: f64| {
            let at = move |phase: &f64| Event { drop_height_m: height_m, ..event(case, driver, Some(*phase)) };
            self.phases.iter().map(at)
        };
        self.deviations.iter().map(at).flat_map(from).collect()
    }

    /// Some drawn landings, straight between the simulated ones.
    pub(crate) fn drawn(&self, count: u32, seed: u32) -> Vec<Spot> {
        (0..count)
            .map(|index| self.spot(normal_quantile(draw(index, HEIGHT, seed)), draw(index, PHASE, seed)))
            .collect()
    }

    fn spot(&self, deviation: f64, phase: f64) -> Spot {
        let (low, up) = place(self.deviations, deviation);
        let (before, along) = place(self.phases, phase);
        let (high, after) = ((low + 1).min(self.deviations.len() - 1), (before + 1).min(self.phases.len() - 1));
        let at = |row: usize, column: usize| row * self.phases.len() + column;
        Spot {
            corners: [
                (at(low, before), (1.0 - up) * (1.0 - along)),
                (at(low, after), (1.0 - up) * along),
                (at(high, before), up * (1.0 - along)),
                (at(high, after), up * along),
            ],
        }
    }
}

impl Spot {
    /// What holds there, from what holds at the simulated ones.
    pub(crate) fn of(&self, simulated: impl Fn(usize) -> f64) -> f64 {
        self.corners.iter().filter(|(_, share)| *share > 0.0).map(|(place, share)| share * simulated(*place)).sum()
    }
}

/// The interval of `marks` (rising) that holds a value, and how far along it the value lies, 0 to 1.
pub(crate) fn place(marks: &[f64], value: f64) -> (usize, f64) {
    let after = marks.iter().position(|mark| *mark >= value).unwrap_or(marks.len());
    match (after.checked_sub(1), marks.get(after)) {
        (None, _) => (0, 0.0),
        (Some(before), None) => (before, 0.0),
        (Some(before), Some(next)) => (before, (value - marks[before]) / (next - marks[before])),
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

    // Bilinear between the corners: any plane is met to rounding.
    #[test]
    fn a_plane_over_height_and_phase_is_met_everywhere() {
        let height_m = StatedRange { low: 0.2, usual: 0.8, high: 2.0 };
        let landings = Landings { height_m, deviations: &[-2.0, 0.0, 2.0], phases: &[0.0, 0.5, 1.0] };
        let plane = |place: usize| 100.0 + 7.0 * [-2.0, 0.0, 2.0][place / 3] + 3.0 * [0.0, 0.5, 1.0][place % 3];
        for (deviation, phase) in [(-1.3, 0.2), (0.0, 0.5), (0.7, 0.9), (2.0, 1.0), (-2.0, 0.0)] {
            let got = landings.spot(deviation, phase).of(plane);
            assert!((got - (100.0 + 7.0 * deviation + 3.0 * phase)).abs() < 1e-9, "{deviation} {phase}: {got}");
        }
    }
}
