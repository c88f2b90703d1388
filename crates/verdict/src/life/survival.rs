//! Survival over runs: sets of gears of drawn strength, each until a blow breaks it or it tires.

use super::strikes::{Gears, Strike};
use crate::roots::Roots;
use toothsayer_evidence::{draw, normal_quantile};
use toothsayer_mechanics::material::spread_factor;

/// Sets of gears that are drawn.
const SETS: u32 = 512;
/// Dimensions of the draws of strength.
const STRENGTHS: [u32; 2] = [0, 1];
/// Runs beyond which no life is told.
pub const LAST_RUNS: f64 = 10_000.0;
/// Halvings of the runs between which a share of the sets strips: to less than a thousandth of a run.
const HALVINGS: u32 = 30;

/// How one set, or one gear of it, ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fate {
    /// Logarithms of the chances that no blow breaks it in its first run, and in each that follows.
    log_kept: [f64; 2],
    /// Runs until it tires.
    tires: f64,
}

impl Fate {
    fn survives(&self, runs: f64) -> f64 {
        if runs >= self.tires {
            return 0.0;
        }
        // No run breaks nothing, also where every run does.
        let part = |runs: f64, log: f64| if runs > 0.0 { runs * log } else { 0.0 };
        (part(runs.min(1.0), self.log_kept[0]) + part(runs - 1.0, self.log_kept[1])).exp()
    }
}

/// Runs until Miner's sum is 1, from that of the first run and that of each which follows.
pub(super) fn runs_until_tired([first, next]: [f64; 2]) -> f64 {
    if first >= 1.0 { 1.0 / first } else { 1.0 + (1.0 - first) / next }
}

/// The fates of one drawn set.
#[derive(Clone, Copy, Debug)]
pub(super) struct Set {
    pub(super) gears: [Fate; 2],
    pub(super) both: Fate,
}

/// Runs until a share of the sets has stripped; none beyond [`LAST_RUNS`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunsToStrip {
    /// One set in twenty.
    pub low: Option<f64>,
    /// Half of them.
    pub median: Option<f64>,
    /// Nineteen in twenty.
    pub high: Option<f64>,
}

/// The chance of surviving, over runs.
#[derive(Clone, Debug)]
pub struct Survival {
    fates: Vec<Fate>,
}

impl Survival {
    pub(super) fn of(fates: impl Iterator<Item = Fate>) -> Self {
        Self { fates: fates.collect() }
    }

    /// Chance that a set is whole after some runs; 1 for none and below.
    pub fn after(&self, runs: f64) -> f64 {
        self.fates.iter().map(|fate| fate.survives(runs)).sum::<f64>() / self.fates.len().max(1) as f64
    }

    /// When one in twenty, half and nineteen in twenty have stripped.
    pub fn runs_to_strip(&self) -> RunsToStrip {
        RunsToStrip { low: self.when(0.95), median: self.when(0.5), high: self.when(0.05) }
    }

    /// Runs after which only a share survives, by bisection of the falling curve.
    fn when(&self, share: f64) -> Option<f64> {
        if self.after(LAST_RUNS) > share {
            return None;
        }
        let (mut low, mut high) = (0.0, LAST_RUNS);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            *(if self.after(middle) > share { &mut low } else { &mut high }) = middle;
        }
        Some(high)
    }
}

/// The strengths of pinion and spur in each drawn set, over the usual ones.
pub(super) fn sets(roots: &Roots, seed: u32) -> Vec<[f64; 2]> {
    let strength = |index: u32, gear: usize| {
        spread_factor(roots.scatter[gear], normal_quantile(draw(index, STRENGTHS[gear], seed)))
    };
    (0..SETS).map(|index| [0, 1].map(|gear| strength(index, gear))).collect()
}

/// The fates of the drawn sets.
pub(super) fn fates(gears: &Gears<'_>, seed: u32) -> Vec<Set> {
    sets(gears.next.roots, seed)
        .into_iter()
        .map(|strength| {
            let breaks = |strike: &Strike, gear: usize| strike.over_strength[gear] > strength[gear];
            let log_kept = |broken: &dyn Fn(&Strike) -> bool| {
                gears
                    .both()
                    .map(|run| run.cases.iter().map(|case| case.per_run * (1.0 - case.share(broken)).ln()).sum())
            };
            let tires = |gear: usize| runs_until_tired(gears.both().map(|run| run.damage(gear, strength[gear])));
            let fate = |gear: usize| Fate { log_kept: log_kept(&|strike| breaks(strike, gear)), tires: tires(gear) };
            let gears = [fate(0), fate(1)];
            let log_kept = log_kept(&|strike| breaks(strike, 0) || breaks(strike, 1));
            Set { gears, both: Fate { log_kept, tires: gears[0].tires.min(gears[1].tires) } }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bisection to a thousandth of a run, of a handful.
    const BISECTED: f64 = 1e-3;

    fn survival(fates: &[(f64, f64)]) -> Survival {
        let fate = |&(chance, tires): &(f64, f64)| Fate { log_kept: [f64::ln_1p(-chance); 2], tires };
        Survival::of(fates.iter().map(fate))
    }

    #[track_caller]
    fn check(got: Option<f64>, expected: f64) {
        assert!(got.is_some_and(|got| (got - expected).abs() < BISECTED), "{got:?}, expected {expected}");
    }

    // Geometric first passage: (1 - q)^r = 1/2 at r = ln 2/-ln(1 - q).
    #[test]
    fn a_steady_risk_halves_the_sets_after_its_half_life() {
        let risky = survival(&[(0.1, f64::INFINITY); 3]);
        check(risky.runs_to_strip().median, 2.0_f64.ln() / -0.9_f64.ln());
        assert!((risky.after(10.0) - 0.9_f64.powi(10)).abs() < 1e-12);
    }

    #[test]
    fn what_tires_goes_when_the_sum_is_one() {
        let tired = survival(&[(0.0, 10.0), (0.0, 20.0), (0.0, 30.0), (0.0, f64::INFINITY)]);
        check(tired.runs_to_strip().low, 10.0);
        check(tired.runs_to_strip().median, 20.0);
        assert_eq!(tired.runs_to_strip().high, None);
        assert_eq!(tired.after(25.0), 0.5);
    }

    // A first run that takes a fifth of the life leaves 0.8/0.1 = 8 runs of a tenth each.
    #[test]
    fn the_first_run_takes_its_own_share_of_the_life() {
        check(Some(runs_until_tired([0.2, 0.1])), 9.0);
        check(Some(runs_until_tired([2.0, 0.1])), 0.5);
        let harder_at_first = Survival::of([Fate { log_kept: [0.5_f64.ln(), 0.0], tires: f64::INFINITY }].into_iter());
        assert_eq!((harder_at_first.after(1.0), harder_at_first.after(9.0)), (0.5, 0.5));
    }

    #[test]
    fn what_no_run_spares_is_whole_before_the_first() {
        let doomed = survival(&[(1.0, f64::INFINITY)]);
        assert_eq!((doomed.after(0.0), doomed.after(1.0)), (1.0, 0.0));
        check(doomed.runs_to_strip().high, 0.0);
    }
}
