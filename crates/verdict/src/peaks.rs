//! The hardest blow of every load case, from simulations that are each run once.

use crate::Error;
use crate::bay::Bay;
use rayon::prelude::*;
use std::collections::HashMap;
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

/// Results of simulations by their input, so that none is run twice.
#[derive(Debug, Default)]
pub struct Memo {
    known: Mutex<HashMap<Key, Brief>>,
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

fn key(parameters: &Parameters, event: &Event, options: &Options) -> Key {
    let drop = if event.case.is_landing() { [event.drop_height_m, event.landing_speed_m_s] } else { [0.0, 0.0] };
    let phase = event.lash_phase.map_or(u64::MAX, f64::to_bits);
    let start = event.start_speed_m_s.filter(|_| !event.case.is_landing()).map_or(u64::MAX, f64::to_bits);
    (
        parameters.bits(),
        [event.case as u64, drop[0].to_bits(), drop[1].to_bits(), start, phase, u64::from(options.settle)],
    )
}

/// Runs every case of a build.
pub fn peaks(build: &Build, bay: &Bay, phases: Phases, memo: &Memo) -> Result<Vec<CasePeaks>, Error> {
    let jobs = events(&build.driver, phases, &Case::ALL);
    let options = if phases == Phases::Worst { Options::default() } else { QUICK };
    run(&bay.parameters(build), jobs, &options, memo)
}

/// Runs some cases of a build, landings at one phase of the lash.
pub fn peaks_of(build: &Build, bay: &Bay, cases: &[Case], phase: f64, memo: &Memo) -> Result<Vec<CasePeaks>, Error> {
    let jobs = events(&build.driver, Phases::Drawn(phase), cases);
    run(&bay.parameters(build), jobs, &QUICK, memo)
}

fn events(driver: &Driver, phases: Phases, cases: &[Case]) -> Vec<Event> {
    let at = |case: Case| match phases {
        _ if !case.is_landing() => vec![event(case, driver, None)],
        Phases::Worst => LASH_PHASES.iter().map(|phase| event(case, driver, Some(*phase))).collect(),
        Phases::Drawn(phase) => vec![event(case, driver, Some(phase))],
    };
    cases.iter().flat_map(|case| at(*case)).collect()
}

fn run(parameters: &Parameters, events: Vec<Event>, options: &Options, memo: &Memo) -> Result<Vec<CasePeaks>, Error> {
    let briefs: Vec<Brief> =
        events.par_iter().map(|event| memo.brief(parameters, event, options)).collect::<Result<_, _>>()?;
    let mut cases: Vec<CasePeaks> = Vec::new();
    for (event, brief) in events.iter().zip(briefs) {
        let harder = |a: Blow, b: Blow| if b.force_n > a.force_n { b } else { a };
        let both = [brief.drive, brief.coast];
        match cases.last_mut().filter(|last| last.case == event.case) {
            Some(last) => {
                last.drive = harder(last.drive, brief.drive);
                last.coast = harder(last.coast, brief.coast);
                last.ground_n = last.ground_n.max(brief.ground_n);
                last.blows.extend(both);
            }
            None => cases.push(CasePeaks {
                case: event.case,
                drive: brief.drive,
                coast: brief.coast,
                ground_n: brief.ground_n,
                blows: both.to_vec(),
            }),
        }
    }
    Ok(cases)
}

impl Memo {
    fn brief(&self, parameters: &Parameters, event: &Event, options: &Options) -> Result<Brief, Error> {
        let key = key(parameters, event, options);
        if let Some(known) = self.known.lock().ok().and_then(|known| known.get(&key).copied()) {
            return Ok(known);
        }
        let outcome = driveline::simulate_with(parameters, event, options)?;
        let brief = Brief::of(&outcome);
        if let Ok(mut known) = self.known.lock() {
            known.insert(key, brief);
        }
        Ok(brief)
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
