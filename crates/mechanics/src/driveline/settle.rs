//! Whether an event's peaks have settled: runs at ever tighter tolerances until they agree.

use super::run::Run;
use super::{Case, DrivelineError, Event, Options, Outcome, Parameters, limits, scales};

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
/// Part of the allowed change at which two runs agree.
const SETTLED_SHARE: f64 = 0.3;
/// Runs that have to agree with the one before on end. A peak after so many impacts that a grain of rounding decides it
/// agrees by luck now and then; each further two dozen of impacts ask for one more.
const AGREEMENTS: u32 = 2;
const IMPACTS_AN_AGREEMENT: u32 = 24;
/// Part of the largest tooth force by which a peak may always change: a flank that is only grazed has no exact peak.
const GRAZE: f64 = 3e-4;
/// Part of the allowed change at which one agreement is enough before two dozen impacts: two runs may agree by luck, hardly
/// so closely.
const CLOSE_SHARE: f64 = 0.1;
/// Largest residual of the energy book.
const ENERGY_RESIDUAL: f64 = 1e-6;

/// An event that is run until it has settled.
pub(super) struct Settling<'a> {
    truck: &'a Parameters,
    event: &'a Event,
    options: Options,
    tolerance: f64,
    last: Option<Outcome>,
    /// Runs on end that agreed with the one before.
    agreements: u32,
}

impl<'a> Settling<'a> {
    /// Of a checked truck and event.
    pub fn new(truck: &'a Parameters, event: &'a Event, options: &Options) -> Self {
        Self { truck, event, options: *options, tolerance: options.tolerance, last: None, agreements: 0 }
    }

    /// The next run.
    pub fn run(&self) -> Run {
        Run::new(self.truck, self.event, &self.options, self.tolerance)
    }

    /// Judges a run: the answer, or none where another run is needed.
    pub fn after(&mut self, outcome: Outcome) -> Option<Result<Outcome, DrivelineError>> {
        let Some(coarse) = self.last.take() else {
            if !self.options.settle {
                return Some(Ok(outcome));
            }
            let blows = largest_tooth_force_n(&outcome) / (FULL_BLOWS * scales::force_n(self.truck));
            self.tolerance *= blows.clamp(LEAST_SHARE, 1.0);
            self.tighten(outcome);
            return None;
        };
        let worst = worst_change(&coarse, &outcome);
        let effort = outcome.effort.and(coarse.effort);
        let outcome = Outcome { effort, settled: Some(worst.over_allowed), ..outcome };
        let residual = outcome.energy.residual;
        let agrees = worst.over_allowed <= SETTLED_SHARE && residual < ENERGY_RESIDUAL;
        self.agreements = if agrees { self.agreements + 1 } else { 0 };
        if self.agreements >= agreements_wanted(&outcome, worst.over_allowed) {
            return Some(Ok(outcome));
        }
        if effort.runs >= MAX_RUNS || self.tolerance <= limits::TOLERANCE.min {
            return Some(Err(refusal(self.event.case, &worst, residual)));
        }
        self.tighten(outcome);
        None
    }

    fn tighten(&mut self, outcome: Outcome) {
        self.tolerance = (self.tolerance * TIGHTEN).max(limits::TOLERANCE.min);
        self.last = Some(outcome);
    }
}

/// Agreements on end that an outcome needs.
fn agreements_wanted(outcome: &Outcome, over_allowed: f64) -> u32 {
    let flanks = [&outcome.peak_drive_flank, &outcome.peak_coast_flank];
    let grazed_n = GRAZE * largest_tooth_force_n(outcome);
    let impacts = flanks.into_iter().filter(|blow| blow.force_n > grazed_n).map(|blow| blow.impacts_before).max();
    let late = impacts.unwrap_or(0) / IMPACTS_AN_AGREEMENT;
    if late == 0 && over_allowed <= CLOSE_SHARE { 1 } else { AGREEMENTS + late }
}

fn largest_tooth_force_n(outcome: &Outcome) -> f64 {
    outcome.peak_drive_flank.force_n.max(outcome.peak_coast_flank.force_n)
}

fn refusal(case: Case, worst: &Change, residual: f64) -> DrivelineError {
    if residual >= ENERGY_RESIDUAL && worst.over_allowed <= SETTLED_SHARE {
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
        let text = refusal(Case::Launch, &worst, 0.0).to_string();
        assert!(text.starts_with("peak on the drive flank of launch is not settled"), "{text}");
    }
}
