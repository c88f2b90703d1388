//! Monte Carlo over sets of gears and the driver's events: how likely the teeth are whole after some runs.

use toothsayer_evidence::{draw, normal_quantile};

/// Trucks that are drawn, the same for every set of causes, and landings of each kind.
const TRUCKS: u32 = 256;
pub(super) const LANDINGS: u32 = 128;
/// Dimensions of the draws: strength of pinion and spur, level of the blows, contact ratio that teeth need. Height and
/// phase of landings have their own.
const STRENGTHS: [u32; 2] = [0, 1];
const LEVEL: u32 = 4;
const NEEDED: u32 = 5;

/// One drawn truck, as standard normal deviates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Drawn {
    pub(super) strengths: [f64; 2],
    pub(super) level: f64,
    pub(super) needed: f64,
}

/// The drawn trucks.
pub(super) fn trucks(seed: u32) -> Vec<Drawn> {
    let at = |index: u32, dimension: u32| normal_quantile(draw(index, dimension, seed));
    let truck = |index: u32| Drawn {
        strengths: STRENGTHS.map(|dimension| at(index, dimension)),
        level: at(index, LEVEL),
        needed: at(index, NEEDED),
    };
    (0..TRUCKS).map(truck).collect()
}

/// One kind of event: how often it comes in a run, and what equally likely ones of it do at usual strength and level.
#[derive(Debug)]
pub(super) struct Kind {
    per_run: f64,
    /// The softest first: what breaks, tires and bends grows with the force.
    strikes: Vec<Strike>,
    /// Damage of as many of the softest, pinion and spur.
    damage: Vec<[f64; 2]>,
}

/// What one event does.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Strike {
    /// Root stress over static strength, pinion and spur.
    pub(super) over_strength: [f64; 2],
    /// Share of the life taken, pinion and spur.
    pub(super) damage: [f64; 2],
    /// Contact ratio under its force.
    pub(super) contact_ratio: f64,
    /// What the contact ratio loses by the force, from no load.
    pub(super) bent: f64,
}

impl Kind {
    /// Of equally likely strikes, the softest first.
    pub(super) fn new(per_run: f64, strikes: Vec<Strike>) -> Kind {
        let sums = strikes.iter().scan([0.0; 2], |sum, strike| {
            *sum = [0, 1].map(|gear: usize| sum[gear] + strike.damage[gear]);
            Some(*sum)
        });
        let damage = std::iter::once([0.0; 2]).chain(sums).collect();
        Kind { per_run, strikes, damage }
    }
}

/// A truck as drawn: factors on the strength of each gear and on every blow, and the contact ratio that its teeth need.
#[derive(Clone, Copy, Debug)]
pub(super) struct Truck {
    pub(super) strengths: [f64; 2],
    pub(super) level: f64,
    pub(super) needed: f64,
    /// Slopes of both gears' life lines.
    pub(super) slopes: [f64; 2],
}

/// What one run does to a truck: logarithms of the chances that no event of it breaks a root or rides the teeth over
/// each other, and Miner's sum of either gear.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Run {
    log_roots_kept: f64,
    log_meshed: f64,
    damage: [f64; 2],
}

impl Run {
    pub(super) fn of(truck: &Truck, kinds: &[Kind]) -> Run {
        let mut run = Run::default();
        for kind in kinds.iter().filter(|kind| kind.per_run > 0.0) {
            let count = kind.strikes.len() as f64;
            let softer = |holds: &dyn Fn(&Strike) -> bool| kind.strikes.partition_point(holds);
            let whole = [0, 1]
                .map(|gear: usize| softer(&|strike| strike.over_strength[gear] * truck.level <= truck.strengths[gear]));
            let meshed = softer(&|strike| strike.contact_ratio + strike.bent * (1.0 - truck.level) >= truck.needed);
            run.log_roots_kept += kind.per_run * (whole[0].min(whole[1]) as f64 / count).ln();
            run.log_meshed += kind.per_run * (meshed as f64 / count).ln();
            for (gear, whole) in whole.into_iter().enumerate() {
                let weaker = (truck.level / truck.strengths[gear]).powf(truck.slopes[gear]);
                let mean = kind.damage[whole][gear] / (whole as f64).max(1.0);
                run.damage[gear] += kind.per_run * mean * weaker;
            }
        }
        run
    }
}

/// The runs of a truck: its first on gears that have not run in, and each that follows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Runs {
    pub(super) first: Run,
    pub(super) next: Run,
}

impl Runs {
    /// Chance that the roots hold for some runs.
    pub(super) fn roots_hold(&self, runs: f64) -> f64 {
        let tired = [0, 1].iter().any(|gear| self.sum(runs, |run| run.damage[*gear]) >= 1.0);
        if tired { 0.0 } else { self.sum(runs, |run| run.log_roots_kept).exp() }
    }

    /// Chance that the teeth do not ride over each other for some runs.
    pub(super) fn stays_meshed(&self, runs: f64) -> f64 {
        self.sum(runs, |run| run.log_meshed).exp()
    }

    /// No run adds nothing, also where every run is infinitely bad.
    fn sum(&self, runs: f64, of: impl Fn(&Run) -> f64) -> f64 {
        let part = |runs: f64, run: &Run| if runs > 0.0 { runs * of(run) } else { 0.0 };
        part(runs.min(1.0), &self.first) + part(runs - 1.0, &self.next)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TRUCK: Truck = Truck { strengths: [1.0; 2], level: 1.0, needed: 1.2, slopes: [6.0; 2] };
    const HOLDS: Strike = Strike { over_strength: [0.5; 2], damage: [1e-6; 2], contact_ratio: 1.5, bent: 0.1 };

    fn alike(truck: &Truck, kinds: &[Kind]) -> Runs {
        let run = Run::of(truck, kinds);
        Runs { first: run, next: run }
    }

    fn kind(per_run: f64, strikes: &[Strike]) -> Kind {
        Kind::new(per_run, strikes.to_vec())
    }

    #[track_caller]
    fn check(got: f64, expected: f64) {
        assert!((got - expected).abs() < 1e-12, "{got}, expected {expected}");
    }

    // One landing in four breaks a root: none of 2 a run over 3 runs does with (3/4)^6.
    #[test]
    fn roots_hold_as_long_as_no_blow_breaks_one() {
        let breaks = Strike { over_strength: [0.5, 1.1], ..HOLDS };
        let runs = alike(&TRUCK, &[kind(2.0, &[HOLDS, HOLDS, HOLDS, breaks]), kind(5.0, &[HOLDS])]);
        check(runs.roots_hold(3.0), 0.75_f64.powi(6));
        check(runs.stays_meshed(3.0), 1.0);
    }

    #[test]
    fn a_higher_level_of_all_blows_breaks_what_it_reaches() {
        let runs = alike(&Truck { level: 2.1, ..TRUCK }, &[kind(1.0, &[HOLDS])]);
        check(runs.roots_hold(1.0), 0.0);
        check(runs.roots_hold(0.0), 1.0);
    }

    // At the level 1 the ratio is 1.5, unloaded 1.6: at 4.5 times the blow it is 1.6 - 0.45 = 1.15.
    #[test]
    fn the_shaft_bends_away_with_the_level() {
        let at = |level: f64| alike(&Truck { level, ..TRUCK }, &[kind(1.0, &[HOLDS])]).stays_meshed(1.0);
        check(at(4.5), 0.0);
        check(at(3.5), 1.0);
    }

    // 4 a run of 1e-6 tire at 250 000 runs; a gear half as strong 2^6 times sooner.
    #[test]
    fn a_weaker_gear_tires_sooner_along_its_line() {
        let holds = |strengths: [f64; 2], runs: f64| {
            let strike = Strike { over_strength: [0.0; 2], ..HOLDS };
            alike(&Truck { strengths, ..TRUCK }, &[kind(4.0, &[strike])]).roots_hold(runs)
        };
        check(holds([1.0, 1.0], 249_999.0), 1.0);
        check(holds([1.0, 1.0], 250_001.0), 0.0);
        check(holds([1.0, 0.5], 250_000.0 / 64.0 - 1.0), 1.0);
        check(holds([1.0, 0.5], 250_000.0 / 64.0 + 1.0), 0.0);
    }

    // A first run that one in two survives, and then one in ten breaks.
    #[test]
    fn the_first_run_counts_once() {
        let first = Run { log_roots_kept: 0.5_f64.ln(), ..Run::default() };
        let next = Run { log_roots_kept: 0.9_f64.ln(), ..Run::default() };
        let runs = Runs { first, next };
        check(runs.roots_hold(1.0), 0.5);
        check(runs.roots_hold(4.0), 0.5 * 0.9_f64.powi(3));
    }
}
