//! The example truck: an invented one.

use toothsayer_mechanics::driveline::{Case, Event, Outcome, Parameters, simulate};

/// A 10.4 kg truck on seven cells, 19 on 53 teeth of module 1, in good order.
pub fn truck() -> Parameters {
    Parameters {
        truck_mass_kg: 10.4,
        wheel_count: 4,
        wheel_mass_kg: 0.41,
        tyre_radius_m: 0.094,
        gyration_ratio: 0.8,
        grip: 0.9,
        drag_area_m2: 0.065,
        battery_voltage_v: 27.3,
        battery_resistance_ohm: 0.011,
        motor_kv_rad_s_v: 980.0 * std::f64::consts::TAU / 60.0,
        motor_resistance_ohm: 0.014,
        no_load_current_a: 3.0,
        rotor_inertia_kg_m2: 3.4e-5,
        current_lag_s: 2e-3,
        drive_current_a: 170.0,
        brake_current_a: 140.0,
        brake_strength: 1.0,
        throttle_strength: 1.0,
        pinion_base_radius_m: 0.008_927_079_897_466_13,
        spur_base_radius_m: 0.024_901_854_450_826_57,
        normal_backlash_m: 3.438_043_646_835_862e-5,
        mesh_stiffness_n_m: 35_560_777.573_074_7,
        mesh_damping_ratio: 0.07,
        spur_inertia_kg_m2: 3e-5,
        ratio_after_spur: 5.1,
        shaft_stiffness_n_m_rad: 36.0,
        shaft_damping_ratio: 0.06,
        lash_rad: 5_f64.to_radians(),
        clutch_torque_n_m: None,
        suspension_stiffness_n_m: 4800.0,
        suspension_damping_n_s_m: 240.0,
        suspension_travel_m: 0.06,
        stop_stiffness_n_m: 60e3,
        tyre_stiffness_n_m: 9000.0,
        tyre_damping_n_s_m: 30.0,
        chassis_clearance_m: None,
        slap_stiffness_n_m: 100e3,
        slap_damping_n_s_m: 200.0,
        tyre_slip_stiffness: 10.0,
        tyre_slip_shape: 1.4,
        relaxation_length_m: 0.08,
    }
}

pub fn run(truck: &Parameters, case: Case, phase: Option<f64>) -> Outcome {
    simulate(truck, &Event { lash_phase: phase, ..Event::usual(case) }).unwrap()
}

/// Trucks of all sorts around the example, by number.
pub fn random_truck(seed: u64) -> Parameters {
    let mut bits = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut between = |low: f64, high: f64| {
        bits ^= bits << 13;
        bits ^= bits >> 7;
        bits ^= bits << 17;
        low + (high - low) * ((bits >> 11) as f64 / (1_u64 << 53) as f64)
    };
    let usual = truck();
    let scale = between(0.3, 1.5);
    Parameters {
        truck_mass_kg: usual.truck_mass_kg * scale,
        wheel_mass_kg: usual.wheel_mass_kg * scale * between(0.6, 2.0),
        tyre_radius_m: between(0.05, 0.11),
        grip: between(0.4, 1.2),
        battery_voltage_v: between(7.0, 32.0),
        motor_kv_rad_s_v: between(60.0, 220.0),
        rotor_inertia_kg_m2: usual.rotor_inertia_kg_m2 * scale * between(0.5, 2.0),
        drive_current_a: between(60.0, 220.0),
        brake_current_a: between(40.0, 200.0),
        brake_strength: between(0.2, 1.0),
        normal_backlash_m: between(0.0, 4e-4),
        mesh_stiffness_n_m: between(8e6, 8e7),
        ratio_after_spur: between(3.0, 8.0),
        shaft_stiffness_n_m_rad: between(10.0, 120.0),
        lash_rad: between(0.0, 0.17),
        clutch_torque_n_m: (seed % 4 == 3).then_some(between(2.0, 6.0)),
        chassis_clearance_m: (seed % 3 == 2).then_some(0.07),
        suspension_travel_m: between(0.03, 0.08),
        ..usual
    }
}
