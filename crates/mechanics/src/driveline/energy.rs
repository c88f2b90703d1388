//! The book of energy: what was put in is stored or lost.

use super::branches::Motion;
use super::derived::GRAVITY_M_S2;
use super::equations::{self as at, Plant, Sums};
use super::state::{self, State};
use super::system::System;

/// Energy put in, stored and lost over an event, J.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EnergyBook {
    /// Put in by the motor's current: integral of Kt I wm; negative where it brakes.
    pub put_in_j: f64,
    /// Kinetic energy, springs and height at the start.
    pub stored_at_start_j: f64,
    /// The same at the end.
    pub stored_at_end_j: f64,
    /// Lost, by part.
    pub lost: Losses,
    /// What is missing, |start + in - end - lost| over the largest of the four.
    pub residual: f64,
}

/// Energy lost, by part, J.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Losses {
    /// Motor turning without load.
    pub no_load_j: f64,
    /// Damper of the mesh.
    pub mesh_j: f64,
    /// Damper of the shaft.
    pub shaft_j: f64,
    /// Slipping clutch.
    pub clutch_j: f64,
    /// Damper of the suspension.
    pub suspension_j: f64,
    /// Vertical dampers of the tyres.
    pub tyre_j: f64,
    /// Damper of the slap.
    pub slap_j: f64,
    /// Tyres slipping on the road.
    pub slip_j: f64,
    /// Air.
    pub drag_j: f64,
    /// Taken by an outside stop of the wheels.
    pub wheel_stop_j: f64,
}

impl Losses {
    /// All losses together, J.
    pub fn total_j(&self) -> f64 {
        let turning_j = self.no_load_j + self.mesh_j + self.shaft_j + self.clutch_j + self.wheel_stop_j;
        turning_j + self.suspension_j + self.tyre_j + self.slap_j + self.slip_j + self.drag_j
    }

    fn of(sums: &Sums) -> Self {
        Self {
            no_load_j: sums[at::NO_LOAD],
            mesh_j: sums[at::MESH_DAMPER],
            shaft_j: sums[at::SHAFT_DAMPER],
            clutch_j: sums[at::CLUTCH],
            suspension_j: sums[at::SUSPENSION_DAMPER],
            tyre_j: sums[at::TYRE_DAMPER],
            slap_j: sums[at::SLAP_DAMPER],
            slip_j: sums[at::TYRE_SLIP],
            drag_j: sums[at::DRAG],
            wheel_stop_j: sums[at::WHEEL_STOP],
        }
    }
}

impl EnergyBook {
    pub(super) fn close(system: &System, start: &State, end: &State, sums: &Sums) -> Self {
        let (stored_at_start_j, stored_at_end_j) = (stored_j(system, start), stored_j(system, end));
        let (put_in_j, lost) = (sums[at::PUT_IN], Losses::of(sums));
        let missing_j = stored_at_start_j + put_in_j - stored_at_end_j - lost.total_j();
        let entries = [put_in_j, stored_at_start_j, stored_at_end_j, lost.total_j()];
        let largest_j = entries.iter().fold(0.0_f64, |largest, entry| largest.max(entry.abs()));
        let residual = if largest_j > 0.0 { missing_j.abs() / largest_j } else { 0.0 };
        Self { put_in_j, stored_at_start_j, stored_at_end_j, lost, residual }
    }
}

/// Kinetic energy, springs and height at a state, J.
fn stored_j(system: &System, s: &State) -> f64 {
    let kinetic = |mass: f64, speed: usize| 0.5 * mass * s[speed] * s[speed];
    let motion = Motion::of(&Plant::new(system), s);
    let height_j = GRAVITY_M_S2
        * (system.sprung_mass_kg * s[state::SPRUNG_HEIGHT] + system.unsprung_mass_kg * s[state::UNSPRUNG_HEIGHT]);
    kinetic(system.rotor_inertia, state::ROTOR_SPEED)
        + kinetic(system.spur_inertia, state::SPUR_SPEED)
        + kinetic(system.wheel_inertia, state::WHEEL_SPEED)
        + kinetic(system.road_mass_kg, state::TRUCK_SPEED)
        + kinetic(system.sprung_mass_kg, state::SPRUNG_SPEED)
        + kinetic(system.unsprung_mass_kg, state::UNSPRUNG_SPEED)
        + system.mesh.stored(motion.mesh.0)
        + system.shaft.contact.stored(motion.shaft.0)
        + system.ground.stored(motion.ground.0)
        + system.slap.stored(motion.slap.0)
        + system.suspension.stored_j(motion.suspension.0)
        + height_j
}
