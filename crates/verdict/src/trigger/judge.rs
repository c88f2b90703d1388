//! Capacity: what a set's gears take of its blows, and the chances that follow.

use super::chances::{Chances, Triggered};
use super::demand::{CASES, GRID};
use super::survive::{Drawn, Kind, LANDINGS, Run, Runs, Strike, Truck};
use crate::Error;
use crate::bay::Bay;
use crate::joint::per_run;
use crate::landings::{Landings, Spot};
use crate::load_path::LOADED_IN_TURN;
use crate::measure::NEEDED_CONTACT_RATIO;
use crate::peaks::Flanks;
use crate::roots::{Forces, Roots};
use toothsayer_evidence::normal_cdf;
use toothsayer_job::{Build, Sheet};
use toothsayer_mechanics::material::spread_factor;
use toothsayer_mechanics::stack::NEEDED_OVERLAP_SHARE;
use toothsayer_quantity::{Force, Pressure};

/// Spread of the contact ratio at which teeth ride over each other, in logarithms (estimate, no source).
const ENGAGEMENT_SPREAD: f64 = 0.08;
/// Share of the needed overlap at which a face goes with even odds in these runs, and its spread (estimate, no source).
const OVERLAP_EVEN: f64 = 0.75;
const OVERLAP_SPREAD: f64 = 0.15;
const OVERLAP_RUNS: f64 = 10.0;
/// A blow of so many times the strength breaks every drawn gear: what life it takes is not asked.
const BROKEN: f64 = 100.0;
/// Standard normal quantile of the ends of a stated range.
pub(super) const END_Z: f64 = 1.645;

/// What sets are judged by.
pub(super) struct Judge {
    /// Drawn trucks and landings, the same for every set.
    pub(super) trucks: Vec<Drawn>,
    pub(super) spots: Vec<Spot>,
    /// Spread of the level of the blows, in logarithms.
    pub(super) spread: f64,
    /// Runs since the gears were new, and runs ahead.
    pub(super) past_runs: f64,
    pub(super) horizon_runs: f64,
}

impl Judge {
    /// The chances of a build under its blows: its gears run in during their first run.
    pub(super) fn chances(&self, build: &Build, blows: &[Flanks]) -> Result<Chances, Error> {
        let [fresh, run_in] = [Bay::new(build, false)?, Bay::new(build, true)?];
        let (first, next) = (self.kinds(build, &fresh, blows)?, self.kinds(build, &run_in, blows)?);
        let roots = &next.1;
        let runs = |level: &dyn Fn(&Drawn) -> f64| -> Vec<Runs> {
            let truck = |drawn: &Drawn| Truck {
                strengths: [0, 1].map(|gear: usize| spread_factor(roots.scatter[gear], drawn.strengths[gear])),
                level: (self.spread * level(drawn)).exp(),
                needed: NEEDED_CONTACT_RATIO * (ENGAGEMENT_SPREAD * drawn.needed).exp(),
                slopes: [0, 1].map(|gear| roots.slope(gear)),
            };
            let runs = |truck: Truck| Runs { first: Run::of(&truck, &first.0), next: Run::of(&truck, &next.0) };
            self.trucks.iter().map(|drawn| runs(truck(drawn))).collect()
        };
        let overlap = overlap(build, &run_in);
        let triggered = |drawn: &[Runs], runs: f64| {
            let mean = |whole: &dyn Fn(&Runs) -> f64| drawn.iter().map(whole).sum::<f64>() / drawn.len().max(1) as f64;
            Triggered {
                root: 1.0 - mean(&|truck| truck.roots_hold(runs)),
                engagement: 1.0 - mean(&|truck| truck.stays_meshed(runs)),
                overlap: 1.0 - (1.0 - overlap).powf(runs / OVERLAP_RUNS),
            }
        };
        let drawn = runs(&|drawn| drawn.level);
        Ok(Chances {
            past: triggered(&drawn, self.past_runs),
            ahead: triggered(&drawn, self.horizon_runs),
            ahead_ends: [-END_Z, END_Z].map(|end| triggered(&runs(&|_| end), self.horizon_runs)),
        })
    }

    /// What every kind of event does to the gears.
    fn kinds(&self, build: &Build, bay: &Bay, blows: &[Flanks]) -> Result<(Vec<Kind>, Roots), Error> {
        let landings = blows.len().saturating_sub(CASES.iter().filter(|case| !case.is_landing()).count())
            / CASES.iter().filter(|case| case.is_landing()).count();
        let mut left = blows;
        let mut by_case = Vec::with_capacity(CASES.len());
        for case in CASES {
            let (own, rest) = left.split_at(if case.is_landing() { landings } else { 1 });
            left = rest;
            by_case.push((case, per_run(&build.driver, case), own));
        }
        let driven = by_case.iter().filter(|(_, per_run, _)| *per_run > 0.0).flat_map(|(_, _, own)| own.iter());
        let hardest_n = driven.fold([0.0_f64; 2], |most, blow| [most[0].max(blow[0]), most[1].max(blow[1])]);
        let most_n = hardest_n[0].max(hardest_n[1]);
        let both_flanks = hardest_n[0].min(hardest_n[1]) > LOADED_IN_TURN * most_n;
        let metal = Metal::new(build, bay, &Forces { hardest_n: most_n, both_flanks })?;
        let mut kinds = Vec::with_capacity(CASES.len());
        for (case, per_run, own) in by_case {
            let at = |spot: &Spot| [0, 1].map(|flank: usize| spot.of(|place| own[place][flank]));
            let drawn: Vec<Flanks> = if case.is_landing() { self.spots.iter().map(at).collect() } else { own.to_vec() };
            let mut forces_n: Vec<f64> = drawn.iter().map(|flanks| flanks[0].max(flanks[1])).collect();
            forces_n.sort_by(f64::total_cmp);
            let strikes = forces_n.into_iter().map(|force_n| metal.strike(force_n)).collect::<Result<_, _>>()?;
            kinds.push(Kind::new(per_run, strikes));
        }
        Ok((kinds, metal.roots))
    }
}

/// The landings that are drawn, the same for every set.
pub(super) fn spots(sheet: &Sheet, build: &Build, seed: u32) -> Vec<Spot> {
    Landings::of(sheet, &build.driver, &GRID).drawn(LANDINGS, seed)
}

/// Gears under a force.
struct Metal {
    roots: Roots,
    /// Contact ratio without load, and what it loses by a newton.
    contact_ratio: f64,
    loss_per_n: f64,
    /// What two pitches add to every blow, N.
    two_pitches_n: f64,
}

impl Metal {
    fn new(build: &Build, bay: &Bay, forces: &Forces) -> Result<Metal, Error> {
        // Two pitches meet out of step: the pair that carries is bent by the difference (ISO 6336-1, method B of KV).
        let two_pitches_n = bay.mesh_stiffness.to_n_per_m() * build.gears.pitch_error().to_m();
        let forces = Forces { hardest_n: forces.hardest_n + two_pitches_n, ..*forces };
        let contact_ratio = bay.loaded_contact_ratio(Force::ZERO)?;
        let loaded = bay.loaded_contact_ratio(Force::n(forces.hardest_n))?;
        let loss_per_n = if forces.hardest_n > 0.0 { (contact_ratio - loaded) / forces.hardest_n } else { 0.0 };
        Ok(Metal { roots: Roots::new(build, bay, &forces)?, contact_ratio, loss_per_n, two_pitches_n })
    }

    fn strike(&self, blow_n: f64) -> Result<Strike, Error> {
        let force_n = if blow_n > 0.0 { blow_n + self.two_pitches_n } else { 0.0 };
        let bent = self.loss_per_n * force_n;
        let mut strike = Strike { contact_ratio: self.contact_ratio - bent, bent, ..Strike::default() };
        for gear in 0..2 {
            let stress_pa = self.roots.stress_pa(gear, force_n);
            strike.over_strength[gear] = stress_pa / self.roots.once_pa[gear];
            if stress_pa > 0.0 && strike.over_strength[gear] < BROKEN {
                strike.damage[gear] = self.roots.lines[gear].share(Pressure::pa(stress_pa))?;
            }
        }
        Ok(strike)
    }
}

/// Chance that a face goes at one end within [`OVERLAP_RUNS`].
fn overlap(build: &Build, bay: &Bay) -> f64 {
    let gears = &build.gears;
    let narrow_m = gears.pinion.face_width.min(gears.spur.face_width).to_m();
    let share = bay.overlap.to_m() / (NEEDED_OVERLAP_SHARE * narrow_m) / OVERLAP_EVEN;
    if share > 0.0 { normal_cdf(-share.ln() / OVERLAP_SPREAD) } else { 1.0 }
}
