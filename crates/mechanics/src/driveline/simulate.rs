//! An event at successive tolerances, until its peaks have settled.

use super::{Case, DrivelineError, Event, Outcome, Parameters, limits, solve};
use crate::Error;

/// How an event is computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// Local tolerance of the first run; the next runs tighten it.
    pub tolerance: f64,
    /// Whether to run again at tighter tolerances until the peaks agree, and to refuse what does not settle.
    pub settle: bool,
    /// Points of the trace at even times; 0 for none.
    pub trace_points: u32,
    /// Whether the tooth force's whole history is kept.
    pub mesh_history: bool,
    /// Bound on the steps of one run.
    pub max_steps: u32,
}

impl Default for Options {
    fn default() -> Self {
        Self { tolerance: 2e-3, settle: true, trace_points: 0, mesh_history: false, max_steps: 500_000 }
    }
}

/// Each run's tolerance over that of the run before.
const TIGHTEN: f64 = 0.2;
/// Largest tooth force, in units of what the tolerance is measured by, from which on the tolerance holds as it is; below it
/// shrinks with the force, down to a least share, so that a light blow is resolved as well as a heavy one.
const FULL_BLOWS: f64 = 3.0;
const LEAST_SHARE: f64 = 1e-3;
/// Runs after which an unsettled event is refused; late rebounds, each after a dozen others, have needed eight.
const MAX_RUNS: u32 = 10;
/// Largest relative change of a peak of the first blows.
const FIRST_BLOWS: f64 = 1e-3;
/// Impacts after which a peak is one of many rebounds, and the largest relative change allowed then.
const MANY_IMPACTS: u32 = 3;
const REBOUNDS: f64 = 1e-2;
/// Part of the allowed change at which a peak counts as settled; over 2100 drawn events it left no first blow further
/// from the converged one than allowed.
const SETTLED_SHARE: f64 = 0.3;
/// Part of the largest tooth force by which a peak may always change: a flank that is only grazed has no exact peak.
const GRAZE: f64 = 3e-4;
/// Largest residual of the energy book.
const ENERGY_RESIDUAL: f64 = 1e-6;

/// Simulates an event until its peaks have settled to 0.1 %, 1 % after the third impact; see [`simulate_with`].
pub fn simulate(truck: &Parameters, event: &Event) -> Result<Outcome, Error> {
    simulate_with(truck, event, &Options::default())
}

/// Simulates an event.
///
/// With `settle` the run is repeated at tighter tolerances until each peak is within 0.1 % of the converged one, a peak
/// after the third impact within 1 %; a flank that is only grazed within 0.03 % of the largest tooth force.
///
/// Errors: a value outside its range, more steps than allowed, and, with `settle`, peaks or an energy book that
/// do not settle: an answer that cannot be trusted is not given.
pub fn simulate_with(truck: &Parameters, event: &Event, options: &Options) -> Result<Outcome, Error> {
    truck.check()?;
    event.check()?;
    limits::TOLERANCE.check(options.tolerance)?;
    let mut tolerance = options.tolerance;
    let mut outcome = solve::run(truck, event, options, tolerance)?;
    if !options.settle {
        return Ok(outcome);
    }
    tolerance *= (largest_tooth_force_n(&outcome) / (FULL_BLOWS * solve::force_scale_n(truck))).clamp(LEAST_SHARE, 1.0);
    loop {
        tolerance = (tolerance * TIGHTEN).max(limits::TOLERANCE.min);
        let coarse = outcome;
        outcome = solve::run(truck, event, options, tolerance)?;
        outcome.effort = outcome.effort.and(coarse.effort);
        let worst = worst_change(&coarse, &outcome);
        outcome.settled = Some(worst.over_allowed);
        let residual = outcome.energy.residual;
        if worst.over_allowed <= SETTLED_SHARE && residual < ENERGY_RESIDUAL {
            return Ok(outcome);
        }
        if outcome.effort.runs >= MAX_RUNS || tolerance <= limits::TOLERANCE.min {
            return Err(refusal(event.case, &worst, residual).into());
        }
    }
}

fn largest_tooth_force_n(outcome: &Outcome) -> f64 {
    outcome.peak_drive_flank.force_n.max(outcome.peak_coast_flank.force_n)
}

fn refusal(case: Case, worst: &Change, residual: f64) -> DrivelineError {
    if worst.over_allowed <= SETTLED_SHARE {
        return DrivelineError::EnergyLost { case, residual, max: ENERGY_RESIDUAL };
    }
    let Change { what, coarse, fine, unit, .. } = *worst;
    DrivelineError::NotConverged { case, what, coarse, fine, unit }
}

/// A peak of two runs.
#[derive(Clone, Copy)]
struct Change {
    what: &'static str,
    coarse: f64,
    fine: f64,
    unit: &'static str,
    over_allowed: f64,
}

impl Change {
    fn of(what: &'static str, unit: &'static str, [coarse, fine]: [f64; 2], allowed: f64) -> Self {
        let off = (coarse - fine).abs();
        let over_allowed = if off > 0.0 { off / allowed } else { 0.0 };
        Self { what, coarse, fine, unit, over_allowed }
    }
}

/// The peak that changed most, measured by what is allowed for it.
fn worst_change(coarse: &Outcome, fine: &Outcome) -> Change {
    let floor_n = GRAZE * largest_tooth_force_n(fine);
    let share = |impacts: u32| if impacts >= MANY_IMPACTS { REBOUNDS } else { FIRST_BLOWS };
    let flank = |what, coarse: &super::Blow, fine: &super::Blow| {
        let allowed_n = (share(fine.impacts_before) * fine.force_n).max(floor_n);
        Change::of(what, "N", [coarse.force_n, fine.force_n], allowed_n)
    };
    let plain = |what, unit, coarse: f64, fine: f64, share: f64| Change::of(what, unit, [coarse, fine], share * fine);
    let changes = [
        flank("peak on the drive flank", &coarse.peak_drive_flank, &fine.peak_drive_flank),
        flank("peak on the coast flank", &coarse.peak_coast_flank, &fine.peak_coast_flank),
        plain("peak shaft torque", "N*m", coarse.peak_shaft_torque_n_m, fine.peak_shaft_torque_n_m, FIRST_BLOWS),
        plain("peak ground force", "N", coarse.peak_ground_force_n, fine.peak_ground_force_n, FIRST_BLOWS),
        plain("peak current", "A", coarse.peak_current_a, fine.peak_current_a, FIRST_BLOWS),
    ];
    changes
        .into_iter()
        .fold(changes[0], |worst, next| if next.over_allowed > worst.over_allowed { next } else { worst })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::driveline::Blow;

    fn outcome(drive_n: f64, impacts_before: u32) -> Outcome {
        let blow = Blow { force_n: drive_n, impacts_before, ..Blow::default() };
        let lost = crate::driveline::Losses {
            no_load_j: 0.0,
            mesh_j: 0.0,
            shaft_j: 0.0,
            clutch_j: 0.0,
            suspension_j: 0.0,
            tyre_j: 0.0,
            slap_j: 0.0,
            slip_j: 0.0,
            drag_j: 0.0,
            wheel_stop_j: 0.0,
        };
        let energy = crate::driveline::EnergyBook {
            put_in_j: 0.0,
            stored_at_start_j: 0.0,
            stored_at_end_j: 0.0,
            lost,
            residual: 0.0,
        };
        Outcome {
            peak_drive_flank: blow,
            peak_coast_flank: Blow::default(),
            peak_shaft_torque_n_m: 0.0,
            peak_ground_force_n: 0.0,
            peak_current_a: 0.0,
            impacts: 0,
            largest_closing_speed_m_s: 0.0,
            energy,
            final_truck_speed_m_s: 0.0,
            final_wheel_speed_rad_s: 0.0,
            final_rotor_speed_rad_s: 0.0,
            wheel_turn_rad: 0.0,
            clutch_slip_rad: 0.0,
            trace: Vec::new(),
            mesh_history: Vec::new(),
            settled: None,
            effort: crate::driveline::Effort::default(),
        }
    }

    #[test]
    fn a_late_rebound_may_change_ten_times_as_much_as_a_first_blow() {
        check(1000.2, 0, true);
        check(1000.4, 0, false);
        check(1002.0, 3, true);
        check(1004.0, 3, false);
    }

    #[track_caller]
    fn check(coarse_n: f64, impacts_before: u32, is_settled: bool) {
        let worst = worst_change(&outcome(coarse_n, impacts_before), &outcome(1000.0, impacts_before));
        assert_eq!(worst.over_allowed <= SETTLED_SHARE, is_settled, "{}", worst.over_allowed);
        if !is_settled {
            let text = refusal(Case::Launch, &worst, 0.0).to_string();
            assert!(text.starts_with("peak on the drive flank of launch is not settled"), "{text}");
        }
    }
}
