//! The torsional shock model of the driveline: what pinion and spur feel when backlash closes at speed.
//!
//! Rotor, spur with input shaft, all driven wheels as one, the truck, and its sprung and unsprung height; between
//! them mesh, shaft with lash (and slipper clutch), tyres and suspension. Left out: pitch and roll, separate axles
//! and differentials, the change of stiffness from tooth to tooth, tyre growth, electrical ripple.

mod case;
mod clutch;
mod contact;
mod derived;
mod error;
mod limits;
mod model;
mod motor;
mod outcome;
mod parameters;
mod peak;
mod run;
mod runge_kutta;
mod state;
mod suspension;
mod tyre;

pub use case::{Case, DROP_HEIGHT_M, Event, LANDING_SPEED_M_S};
pub use derived::{AIR_DENSITY_KG_M3, GRAVITY_M_S2, fall_speed_m_s};
pub use error::DrivelineError;
pub use limits::{LIMITS, Limit, PARAMETER_COUNT};
pub use outcome::{Blow, Effort, EnergyBook, Outcome, TracePoint};
pub use parameters::Parameters;

use crate::Error;

/// How an event is computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// Local tolerance of a step, as a share of each state's usual size; 1e-9 to 0.1.
    pub tolerance: f64,
    /// Whether the course of the event is kept.
    pub trace: bool,
    /// Whether the event is run a second time at a tenth of the tolerance, and refused where the peaks differ.
    pub verify: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self { tolerance: TOLERANCE, trace: false, verify: false }
    }
}

/// Tolerance at which peaks are within 0.1 % of the converged ones (see the tests).
pub const TOLERANCE: f64 = 1e-6;
/// How far the first blows of two runs may differ.
const FIRST_BLOW_SHARE: f64 = 1e-3;
/// How far a peak after the third impact may differ: rebounds multiply small differences.
const LATE_BLOW_SHARE: f64 = 1e-2;
/// Forces below this are no blows, N.
const NO_BLOW_N: f64 = 1.0;
/// Largest residual of the energy book.
const MOST_ENERGY_OPEN: f64 = 1e-6;
/// Factor on the tolerance where the energy book stays open, and the finest that is tried.
const REFINEMENT: f64 = 0.1;
const FINEST_TOLERANCE: f64 = 0.9e-9;

/// Runs one event at point values.
///
/// # Errors
/// Parameters or event outside their ranges; too many steps; peaks or energy that do not settle.
pub fn simulate(truck: &Parameters, event: &Event) -> Result<Outcome, Error> {
    simulate_with(truck, event, &Options::default())
}

/// Runs one event as the options say.
///
/// # Errors
/// As [`simulate`].
pub fn simulate_with(truck: &Parameters, event: &Event, options: &Options) -> Result<Outcome, Error> {
    truck.check()?;
    event.check()?;
    limits::TOLERANCE.check(options.tolerance)?;
    let outcome = balanced(truck, event, options)?;
    if options.verify {
        let fine = run::run(truck, event, options.tolerance / 10.0, false)?;
        settled(event.case, "peak on the drive flank", outcome.peak_drive_flank, fine.peak_drive_flank)?;
        settled(event.case, "peak on the coast flank", outcome.peak_coast_flank, fine.peak_coast_flank)?;
    }
    Ok(outcome)
}

/// The event with its energy book closed: where the tolerance leaves it open, a finer one is taken.
fn balanced(truck: &Parameters, event: &Event, options: &Options) -> Result<Outcome, Error> {
    let mut tolerance = options.tolerance;
    loop {
        let outcome = run::run(truck, event, tolerance, options.trace)?;
        let residual = outcome.energy.residual();
        if residual <= MOST_ENERGY_OPEN {
            return Ok(outcome);
        }
        tolerance *= REFINEMENT;
        if tolerance < FINEST_TOLERANCE {
            return Err(DrivelineError::EnergyLost { case: event.case, residual, max: MOST_ENERGY_OPEN }.into());
        }
    }
}

fn settled(case: Case, what: &'static str, coarse: Blow, fine: Blow) -> Result<(), Error> {
    let share = if fine.impacts_before >= 3 { LATE_BLOW_SHARE } else { FIRST_BLOW_SHARE };
    if (coarse.force_n - fine.force_n).abs() <= share * fine.force_n + NO_BLOW_N {
        return Ok(());
    }
    Err(DrivelineError::NotConverged { case, what, coarse: coarse.force_n, fine: fine.force_n, unit: "N" }.into())
}
