//! By what the errors of the states are measured.

use super::Parameters;
use super::derived::GRAVITY_M_S2;
use super::state::{self, State};

/// Speed along the line of action by which errors of the turning parts are measured, m/s; blows close at 0.1 to 5.
const CLOSING_SPEED_M_S: f64 = 0.1;

/// Tooth force that a blow at that speed gives, N: the tolerance is a part of it.
pub(super) fn force_n(truck: &Parameters) -> f64 {
    CLOSING_SPEED_M_S * (truck.mesh_stiffness_n_m * truck.mesh_mass_kg()).sqrt()
}

/// Error of each state that weighs as much as a tolerance of 1.
pub(super) fn of(truck: &Parameters) -> State {
    let spur_rad_s = CLOSING_SPEED_M_S / truck.spur_base_radius_m;
    let mut scales = [0.0; state::COUNT];
    scales[state::MESH] = CLOSING_SPEED_M_S / truck.mesh_frequency_rad_s();
    scales[state::TWIST] = spur_rad_s / truck.shaft_frequency_rad_s();
    scales[state::ROTOR_SPEED] = CLOSING_SPEED_M_S / truck.pinion_base_radius_m;
    scales[state::SPUR_SPEED] = spur_rad_s;
    scales[state::WHEEL_SPEED] = spur_rad_s / truck.ratio_after_spur;
    scales[state::TRUCK_SPEED] = 0.1;
    scales[state::CURRENT] = 3.0;
    scales[state::TYRE_FORCE] = 0.1 * truck.truck_mass_kg * GRAVITY_M_S2;
    scales[state::SPRUNG_HEIGHT] = 1e-4;
    scales[state::SPRUNG_SPEED] = 1e-2;
    scales[state::UNSPRUNG_HEIGHT] = 1e-4;
    scales[state::UNSPRUNG_SPEED] = 1e-2;
    scales
}
