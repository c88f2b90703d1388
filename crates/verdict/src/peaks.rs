//! The hardest blow of every load case, from simulations that are each run once.

use crate::Error;
use crate::bay::Bay;
use crate::trigger::{Chances, Content};
use rayon::prelude::*;
use std::collections::{HashMap, HashSet};
use std::sync::Mutex;
use toothsayer_job::{Build, Driver};
use toothsayer_mechanics::driveline::limits::PARAMETER_COUNT;
use toothsayer_mechanics::driveline::{self, Case, Event, Options, Outcome, Parameters};

/// Phases of the lash over which a landing's hardest blow is sought.
pub const LASH_PHASES: [f64; 7] = [0.0, 0.25, 0.5, 0.625, 0.75, 0.875, 1.0];
/// One run at this tolerance where many builds are compared: still well below the inputs' spread.
const QUICK: Options =
    Options { tolerance: 1e-3, settle: false, trace_points: 0, mesh_history: false, max_steps: 500_000 };

type Key = ([u64; PARAMETER_COUNT], [u64; 6]);

/// One flank's hardest blow: force and the motor's current then.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Blow {
    /// Force along the line of action, N.
    pub force_n: f64,
    /// Motor current then, A.
    pub current_a: f64,
}

/// What one event did.
#[derive(Clone, Copy, Debug, Default)]
struct Brief {
    drive: Blow,
    coast: Blow,
    ground_n: f64,
}

/// Results by the content that they come from, so that none is computed twice: simulations, and the chances of sets of
/// causes.
#[derive(Debug, Default)]
pub struct Memo {
    known: Mutex<HashMap<Key, Brief>>,
    pub(crate) chances: Mutex<HashMap<Content, Chances>>,
}

/// The blows of one case.
#[derive(Clone, Debug)]
pub struct CasePeaks {
    /// The case.
    pub case: Case,
    /// Hardest blow on the drive flank.
    pub drive: Blow,
    /// Hardest blow on the coast flank.
    pub coast: Blow,
    /// Largest ground force, N.
    pub ground_n: f64,
    /// Every phase's blows (both flanks): what shears the joints need not be the hardest.
    pub blows: Vec<Blow>,
}

impl CasePeaks {
    /// The harder of the two flanks' blows.
    pub fn hardest(&self) -> Blow {
        if self.drive.force_n >= self.coast.force_n { self.drive } else { self.coast }
    }
}

/// Which phases a landing is run at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Phases {
    /// All of [`LASH_PHASES`].
    Worst,
    /// All of them, each run once at a coarser tolerance: to learn from, not to be shown.
    Surveyed,
    /// One phase, drawn.
    Drawn(f64),
}

/// The event of a case as this driver drives it.
pub fn event(case: Case, driver: &Driver, phase: Option<f64>) -> Event {
    Event {
        case,
        drop_height_m: driver.drop_height.to_m(),
        landing_speed_m_s: driver.landing_speed.to_m_per_s(),
        start_speed_m_s: driver.brake_from_speed.map(|speed| speed.to_m_per_s()),
        lash_phase: phase,
        duration_s: None,
    }
}

/// One truck whose blows are asked for.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// Its build.
    pub build: &'a Build,
    /// Its gear bay.
    pub bay: &'a Bay,
    /// The cases.
    pub cases: &'a [Case],
    /// Where in the lash landings come.
    pub phases: Phases,
}

/// Runs every case of a build.
pub fn peaks(build: &Build, bay: &Bay, phases: Phases, memo: &Memo) -> Result<Vec<CasePeaks>, Error> {
    let mut peaks = peaks_of(&[Asked { build, bay, cases: &Case::ALL, phases }], memo);
    peaks.pop().unwrap_or_else(|| Ok(Vec::new()))
}

/// The blows of many trucks, in their order; all of their events are simulated together.
pub fn peaks_of(trucks: &[Asked<'_>], memo: &Memo) -> Vec<Result<Vec<CasePeaks>, Error>> {
    let shots: Vec<Vec<Shot>> = trucks.par_iter().map(Asked::shots).collect();
    let mut briefs = simulate_all(&shots.concat(), memo).into_iter();
    let own = |shots: &Vec<Shot>| {
        let own: Vec<Result<Brief, Error>> = briefs.by_ref().take(shots.len()).collect();
        let own: Vec<Brief> = own.into_iter().collect::<Result<_, Error>>()?;
        Ok(by_case(shots, own))
    };
    shots.iter().map(own).collect()
}

/// Hardest force on the drive and on the coast flank, N.
pub(crate) type Flanks = [f64; 2];

/// What each of a truck's events does, truck by truck; all of them are simulated together.
pub(crate) fn flanks_of(trucks: &[(Parameters, Vec<Event>)], memo: &Memo) -> Vec<Result<Vec<Flanks>, Error>> {
    let shot =
        |parameters: &Parameters, event: &Event| Shot { parameters: parameters.clone(), event: *event, options: QUICK };
    let of = |(parameters, events): &(Parameters, Vec<Event>)| -> Vec<Shot> {
        events.iter().map(|event| shot(parameters, event)).collect()
    };
    let shots: Vec<Shot> = trucks.iter().flat_map(of).collect();
    let mut briefs = simulate_all(&shots, memo).into_iter();
    let flanks = |brief: Brief| [brief.drive.force_n, brief.coast.force_n];
    trucks
        .iter()
        .map(|(_, events)| briefs.by_ref().take(events.len()).map(|brief| brief.map(flanks)).collect())
        .collect()
}

/// One event of one truck.
#[derive(Clone)]
struct Shot {
    parameters: Parameters,
    event: Event,
    options: Options,
}

impl Asked<'_> {
    fn shots(&self) -> Vec<Shot> {
        let parameters = self.bay.parameters(self.build);
        let options = if self.phases == Phases::Worst { Options::default() } else { QUICK };
        let shot = |event| Shot { parameters: parameters.clone(), event, options };
        let driver = &self.build.driver;
        let at = |case: Case| match self.phases {
            _ if !case.is_landing() => vec![event(case, driver, None)],
            Phases::Worst | Phases::Surveyed => {
                LASH_PHASES.iter().map(|phase| event(case, driver, Some(*phase))).collect()
            }
            Phases::Drawn(phase) => vec![event(case, driver, Some(phase))],
        };
        self.cases.iter().flat_map(|case| at(*case)).map(shot).collect()
    }
}

/// What each event did, in their order: the one place where events are simulated. Each is run once, known ones not again.
fn simulate_all(shots: &[Shot], memo: &Memo) -> Vec<Result<Brief, Error>> {
    let keys: Vec<Key> = shots.iter().map(Shot::key).collect();
    let mut results = memo.known(&keys);
    let mut met = HashSet::new();
    let fresh: Vec<usize> =
        (0..shots.len()).filter(|at| !results.contains_key(&keys[*at]) && met.insert(keys[*at])).collect();
    let [least, most] = SIDE_BY_SIDE;
    let share = fresh.len().div_ceil(rayon::current_num_threads()).clamp(least, most);
    let run: Vec<(Key, Result<Brief, Error>)> =
        fresh.par_chunks(share).flat_map_iter(|some| side_by_side(shots, &keys, some)).collect();
    memo.learn(&run);
    results.extend(run);
    keys.iter().filter_map(|key| results.get(key).cloned()).collect()
}

/// Events that are simulated side by side at once: enough for the processor's lanes, few enough for every core.
const SIDE_BY_SIDE: [usize; 2] = [8, 48];

/// Some of the events, those of like options together.
fn side_by_side(shots: &[Shot], keys: &[Key], some: &[usize]) -> Vec<(Key, Result<Brief, Error>)> {
    let mut results = Vec::with_capacity(some.len());
    for alike in some.chunk_by(|a, b| shots[*a].options == shots[*b].options) {
        let events: Vec<_> = alike.iter().map(|at| (&shots[*at].parameters, shots[*at].event)).collect();
        let outcomes = driveline::simulate_all(&events, &shots[alike[0]].options);
        let briefs = outcomes.into_iter().map(|outcome| Ok(Brief::of(&outcome?)));
        results.extend(alike.iter().map(|at| keys[*at]).zip(briefs));
    }
    results
}

/// The blows of each case from what its events did.
fn by_case(shots: &[Shot], briefs: Vec<Brief>) -> Vec<CasePeaks> {
    let harder = |a: Blow, b: Blow| if b.force_n > a.force_n { b } else { a };
    let mut cases: Vec<CasePeaks> = Vec::new();
    for (Shot { event, .. }, Brief { drive, coast, ground_n }) in shots.iter().zip(briefs) {
        match cases.last_mut().filter(|last| last.case == event.case) {
            Some(last) => {
                last.drive = harder(last.drive, drive);
                last.coast = harder(last.coast, coast);
                last.ground_n = last.ground_n.max(ground_n);
                last.blows.extend([drive, coast]);
            }
            None => cases.push(CasePeaks { case: event.case, drive, coast, ground_n, blows: vec![drive, coast] }),
        }
    }
    cases
}

impl Memo {
    /// What is known of these.
    fn known(&self, keys: &[Key]) -> HashMap<Key, Result<Brief, Error>> {
        let Ok(known) = self.known.lock() else { return HashMap::new() };
        keys.iter().filter_map(|key| known.get(key).map(|brief| (*key, Ok(*brief)))).collect()
    }

    fn learn(&self, run: &[(Key, Result<Brief, Error>)]) {
        let Ok(mut known) = self.known.lock() else { return };
        known.extend(run.iter().filter_map(|(key, brief)| Some((*key, *brief.as_ref().ok()?))));
    }
}

impl Shot {
    /// What the result depends on, to the bit.
    fn key(&self) -> Key {
        let event = &self.event;
        let drop = if event.case.is_landing() { [event.drop_height_m, event.landing_speed_m_s] } else { [0.0, 0.0] };
        let phase = event.lash_phase.map_or(u64::MAX, f64::to_bits);
        let start = event.start_speed_m_s.filter(|_| !event.case.is_landing()).map_or(u64::MAX, f64::to_bits);
        let [height, speed] = drop.map(f64::to_bits);
        let settle = u64::from(self.options.settle);
        (self.parameters.bits(), [event.case as u64, height, speed, start, phase, settle])
    }
}

impl Brief {
    fn of(outcome: &Outcome) -> Self {
        let blow = |blow: driveline::Blow| Blow { force_n: blow.force_n, current_a: blow.current_a };
        Brief {
            drive: blow(outcome.peak_drive_flank),
            coast: blow(outcome.peak_coast_flank),
            ground_n: outcome.peak_ground_force_n,
        }
    }
}
