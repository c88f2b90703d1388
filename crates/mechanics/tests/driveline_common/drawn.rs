//! Trucks drawn around the example, some with two driven wheels.

use super::common::example;
use toothsayer_mechanics::driveline::Parameters;

/// Trucks drawn around the example, each value within a wide factor of its own; some with a clutch, some that slap.
pub fn drawn(count: u64) -> Vec<Parameters> {
    (1..=count).map(|seed| draw(seed, example())).collect()
}

fn draw(seed: u64, mut p: Parameters) -> Parameters {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15);
    let mut unit = || {
        // A multiplicative congruential generator (Steele and Vigna 2021, multiplier from memory): even enough for drawing builds.
        state = state.wrapping_mul(0xD133_7C83_3D2D_4E65).wrapping_add(0x9E37_79B9_7F4A_7C15);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut by = |factor: f64| factor.powf(2.0 * unit() - 1.0);
    let size = by(3.0);
    p.truck_mass_kg *= size * by(1.3);
    p.wheel_mass_kg *= size * by(1.3);
    p.rotor_inertia_kg_m2 *= size * by(2.0);
    p.spur_inertia_kg_m2 *= size * by(2.0);
    p.battery_voltage_v *= by(1.6);
    p.motor_kv_rad_s_v *= by(1.4);
    p.drive_current_a *= size * by(1.5);
    p.brake_current_a *= size * by(1.5);
    p.normal_backlash_m *= by(6.0);
    p.mesh_stiffness_n_m *= by(3.0);
    p.mesh_damping_ratio *= by(2.0);
    p.shaft_stiffness_n_m_rad *= size * by(3.0);
    p.shaft_damping_ratio *= by(2.0);
    p.lash_rad *= by(3.0);
    p.ratio_after_spur *= by(1.5);
    p.grip *= by(1.4);
    p.suspension_stiffness_n_m *= size * by(1.5);
    p.suspension_damping_n_s_m *= size * by(2.0);
    p.tyre_stiffness_n_m *= size * by(2.0);
    p.tyre_damping_n_s_m *= size * by(2.0);
    p.brake_strength = 0.5 + 0.5 * by(2.0).min(2.0) / 2.0;
    p.clutch_torque_n_m = (by(2.0) > 1.2).then_some(6.0 * size);
    if by(2.0) > 1.3 {
        (p.driven_wheels, p.driven_load_share) = (2, 0.4 + 0.2 * by(1.0));
    }
    p.chassis_clearance_m = (by(2.0) > 1.2).then_some(0.09);
    p
}
