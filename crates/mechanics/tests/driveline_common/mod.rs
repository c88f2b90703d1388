//! The example truck, and trucks drawn around it.

use toothsayer_mechanics::driveline::Parameters;

/// The example truck as its job file describes it: module 1 mm, 19/53 teeth, 20 degrees, centre distance 36.05 mm.
///
/// Backlash from ISO 21771's thickness formula; mesh stiffness from ISO 6336-1 (17.2 N/(mm um), 10 mm of face) in series
/// with the supported motor shaft (about 5.1e7 N/m), worked by hand and rounded.
pub fn example() -> Parameters {
    Parameters {
        truck_mass_kg: 10.4,
        wheel_count: 4,
        driven_wheels: 4,
        driven_load_share: 1.0,
        wheel_mass_kg: 0.41,
        tyre_radius_m: 0.094,
        gyration_ratio: 0.8,
        grip: 0.9,
        drag_area_m2: 0.065,
        battery_voltage_v: 7.0 * 3.9,
        battery_resistance_ohm: 0.011,
        motor_kv_rad_s_v: 980.0 * std::f64::consts::TAU / 60.0,
        motor_resistance_ohm: 0.014,
        no_load_current_a: 3.0,
        rotor_inertia_kg_m2: 3.4e-5,
        current_lag_s: 0.002,
        drive_current_a: 170.0,
        brake_current_a: 140.0,
        brake_strength: 1.0,
        throttle_strength: 1.0,
        pinion_base_radius_m: 0.0095 * 20.0_f64.to_radians().cos(),
        spur_base_radius_m: 0.0265 * 20.0_f64.to_radians().cos(),
        normal_backlash_m: 34.4e-6,
        mesh_stiffness_n_m: 3.8e7,
        mesh_damping_ratio: 0.07,
        spur_inertia_kg_m2: 3e-5,
        ratio_after_spur: 5.1,
        shaft_stiffness_n_m_rad: 36.0,
        shaft_damping_ratio: 0.06,
        lash_rad: 5.0_f64.to_radians(),
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
