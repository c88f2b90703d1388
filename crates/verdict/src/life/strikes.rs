//! What each event of a run does to the roots of both gears.

use crate::Error;
use crate::bay::Bay;
use crate::joint::per_run;
use crate::landings::{Grid, Landings, Spot};
use crate::load_path::LOADED_IN_TURN;
use crate::peaks::{LASH_PHASES, event};
use crate::roots::{Forces, Roots};
use crate::states::Staged;
use rayon::prelude::*;
use toothsayer_evidence::Cycle;
use toothsayer_job::Build;
use toothsayer_mechanics::driveline::{Case, Event, Options, Parameters, simulate_with};
use toothsayer_mechanics::fatigue::{Flank, ToothTurns, damage, tooth_cycles};
use toothsayer_quantity::{Force, Pressure};

/// One run at this tolerance with the whole history: well below the spread of what is drawn.
const WITH_HISTORY: Options =
    Options { tolerance: 1e-3, settle: false, trace_points: 61, mesh_history: true, max_steps: 500_000 };

/// Where landings are simulated, and how many are drawn of each kind: the share of the hardest is told to half a
/// thousandth.
const GRID: Grid = Grid { deviations: &[-2.0, -1.0, 0.0, 1.0, 2.0], phases: &LASH_PHASES };
const DRAWN: u32 = 2048;

/// The cycles that an event puts on both flanks of a tooth of each gear.
pub(super) struct Worked {
    /// By gear, both flanks together.
    cycles: [Vec<Cycle>; 2],
    /// Largest force on drive and coast flank, N.
    hardest_n: [f64; 2],
}

/// What an event does to each gear, at usual strength.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Strike {
    /// Largest root stress over the static strength: above 1 it breaks at once.
    pub(super) over_strength: [f64; 2],
    /// Damage to the power of 1/p, which goes with the stress.
    pub(super) tiring: [f64; 2],
    /// Largest tooth force, N.
    pub(super) force_n: f64,
}

/// One case of a run.
pub(super) struct CaseStrikes {
    pub(super) case: Case,
    pub(super) per_run: f64,
    /// Equally likely strikes: one, or as many landings as are drawn.
    pub(super) strikes: Vec<Strike>,
    /// Damage of each, by gear, at usual strength.
    damage: Vec<[f64; 2]>,
}

impl CaseStrikes {
    fn new(case: Case, per_run: f64, strikes: Vec<Strike>, roots: &Roots) -> Self {
        let damage = |strike: &Strike| [0, 1].map(|gear| strike.tiring[gear].powf(roots.slope(gear)));
        let damage = strikes.iter().map(damage).collect();
        Self { case, per_run, strikes, damage }
    }

    /// Share of its events of which something is true.
    pub(super) fn share(&self, is: &dyn Fn(&Strike) -> bool) -> f64 {
        self.strikes.iter().filter(|strike| is(strike)).count() as f64 / self.strikes.len().max(1) as f64
    }

    /// Miner's sum of a run for a gear of some times the usual strength: of those events that it survives.
    pub(super) fn damage_per_run(&self, roots: &Roots, gear: usize, strength: f64) -> f64 {
        let both = self.strikes.iter().zip(&self.damage);
        let survived = both.filter(|(strike, _)| strike.over_strength[gear] <= strength);
        let (count, sum) = survived.fold((0_u32, 0.0), |(count, sum), (_, damage)| (count + 1, sum + damage[gear]));
        self.per_run * sum / f64::from(count.max(1)) * strength.powf(-roots.slope(gear))
    }
}

/// One run of a set: every case that the driver drives, with the roots that they meet.
pub(super) struct RunStrikes<'a> {
    pub(super) cases: Vec<CaseStrikes>,
    pub(super) roots: &'a Roots,
}

impl RunStrikes<'_> {
    /// Miner's sum of the run for a gear of some times the usual strength.
    pub(super) fn damage(&self, gear: usize, strength: f64) -> f64 {
        self.cases.iter().map(|case| case.damage_per_run(self.roots, gear, strength)).sum()
    }
}

/// The first run of a set, and each that follows.
pub(super) struct Gears<'a> {
    pub(super) first: RunStrikes<'a>,
    pub(super) next: RunStrikes<'a>,
}

impl<'a> Gears<'a> {
    pub(super) fn both(&self) -> [&RunStrikes<'a>; 2] {
        [&self.first, &self.next]
    }
}

/// What the events of a driver's run put on the teeth of a build.
pub(super) struct Events {
    driven: Vec<(Case, f64)>,
    worked: Vec<Worked>,
    landings: Landings,
}

impl Events {
    /// Simulates every case that the driver drives.
    pub(super) fn of(stage: &Staged, build: &Build, bay: &Bay) -> Result<Self, Error> {
        let of_run = |case| (case, per_run(&build.driver, case));
        let driven: Vec<(Case, f64)> =
            Case::ALL.into_iter().map(of_run).filter(|(_, per_run)| *per_run > 0.0).collect();
        let landings = Landings::of(&stage.sheet, &build.driver, &GRID);
        let events_of = |(case, _): &(Case, f64)| match case.is_landing() {
            true => landings.events(*case, &build.driver),
            false => vec![event(*case, &build.driver, None)],
        };
        let events: Vec<Event> = driven.iter().flat_map(events_of).collect();
        let parameters = bay.parameters(build);
        let spur_turns = 1.0 / bay.pair.ratio();
        let worked = events.par_iter().map(|event| worked(&parameters, event, spur_turns)).collect::<Result<_, _>>()?;
        Ok(Self { driven, worked, landings })
    }

    /// The roots that they meet in a bay.
    pub(super) fn roots(&self, build: &Build, bay: &Bay) -> Result<Roots, Error> {
        Roots::new(build, bay, &forces(&self.worked))
    }

    /// What they do to roots.
    pub(super) fn strikes<'a>(&self, roots: &'a Roots, seed: u32) -> Result<RunStrikes<'a>, Error> {
        let strikes: Vec<Strike> =
            self.worked.par_iter().map(|worked| strike(worked, roots)).collect::<Result<_, Error>>()?;
        let drawn = self.landings.drawn(DRAWN, seed);
        let mut left = strikes.as_slice();
        let mut cases = Vec::with_capacity(self.driven.len());
        for (case, per_run) in &self.driven {
            let (own, rest) = left.split_at(if case.is_landing() { self.landings.count() } else { 1 });
            left = rest;
            let strikes =
                if case.is_landing() { drawn.iter().map(|spot| between(spot, own)).collect() } else { own.to_vec() };
            cases.push(CaseStrikes::new(*case, *per_run, strikes, roots));
        }
        Ok(RunStrikes { cases, roots })
    }
}

/// The strike of a drawn landing.
fn between(spot: &Spot, simulated: &[Strike]) -> Strike {
    Strike {
        over_strength: [0, 1].map(|gear| spot.of(|place| simulated[place].over_strength[gear])),
        tiring: [0, 1].map(|gear| spot.of(|place| simulated[place].tiring[gear])),
        force_n: spot.of(|place| simulated[place].force_n),
    }
}

fn forces(worked: &[Worked]) -> Forces {
    let hardest_n = |flank: usize| worked.iter().map(|worked| worked.hardest_n[flank]).fold(0.0, f64::max);
    let (drive_n, coast_n) = (hardest_n(0), hardest_n(1));
    let most_n = drive_n.max(coast_n);
    Forces { hardest_n: most_n, both_flanks: drive_n.min(coast_n) > LOADED_IN_TURN * most_n }
}

fn strike(worked: &Worked, roots: &Roots) -> Result<Strike, Error> {
    let mut strike = Strike { force_n: worked.hardest_n[0].max(worked.hardest_n[1]), ..Strike::default() };
    for gear in [0, 1] {
        let stress = |force: Force| Ok::<_, Error>(Pressure::pa(roots.stress_pa(gear, force.to_n())));
        let done = damage(&worked.cycles[gear], &roots.lines[gear], stress)?;
        // A peak lies between the steps that the history keeps.
        strike.over_strength[gear] = roots.stress_pa(gear, strike.force_n) / roots.once_pa[gear];
        strike.tiring[gear] = done.sum.powf(1.0 / roots.slope(gear));
    }
    Ok(strike)
}

/// Simulates an event and counts its cycles; `spur_turns` are the spur's for one of the rotor.
fn worked(parameters: &Parameters, event: &Event, spur_turns: f64) -> Result<Worked, Error> {
    let outcome = simulate_with(parameters, event, &WITH_HISTORY)?;
    let of_gear = |per_rotor_turn: f64| -> Result<Vec<Cycle>, Error> {
        let turns = ToothTurns::of(&outcome.trace, per_rotor_turn)?;
        let mut cycles = Vec::new();
        for flank in Flank::BOTH {
            cycles.extend(tooth_cycles(&outcome.mesh_history, &turns, flank)?);
        }
        Ok(cycles)
    };
    Ok(Worked {
        cycles: [of_gear(1.0)?, of_gear(spur_turns)?],
        hardest_n: [outcome.peak_drive_flank.force_n, outcome.peak_coast_flank.force_n],
    })
}
