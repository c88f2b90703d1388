//! Shock: closing a gap, free fall, frequencies, the tyre's curve.

use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::driveline::Parameters;
use toothsayer_mechanics::driveline::derived::fall_speed_m_s;

const SUBJECT: &str = "Shock and vehicle";

/// A truck of round numbers, for the formulas that read a few of its values.
pub(super) fn truck() -> Parameters {
    Parameters {
        truck_mass_kg: 10.0,
        wheel_count: 4,
        driven_wheels: 4,
        driven_load_share: 1.0,
        wheel_mass_kg: 0.4,
        tyre_radius_m: 0.1,
        gyration_ratio: 0.8,
        grip: 1.0,
        drag_area_m2: 0.06,
        battery_voltage_v: 22.2,
        battery_resistance_ohm: 0.0,
        motor_kv_rad_s_v: 80.0,
        motor_resistance_ohm: 0.02,
        no_load_current_a: 3.0,
        rotor_inertia_kg_m2: 2e-5,
        current_lag_s: 2e-3,
        drive_current_a: 200.0,
        brake_current_a: 150.0,
        brake_strength: 1.0,
        throttle_strength: 1.0,
        pinion_base_radius_m: 0.01,
        spur_base_radius_m: 0.01,
        normal_backlash_m: 1e-4,
        mesh_stiffness_n_m: 1e8,
        mesh_damping_ratio: 0.07,
        spur_inertia_kg_m2: 2e-5,
        ratio_after_spur: 1.0,
        shaft_stiffness_n_m_rad: 40.0,
        shaft_damping_ratio: 0.06,
        lash_rad: 0.05,
        clutch_torque_n_m: None,
        suspension_stiffness_n_m: 5000.0,
        suspension_damping_n_s_m: 250.0,
        suspension_travel_m: 0.06,
        stop_stiffness_n_m: 60e3,
        tyre_stiffness_n_m: 9000.0,
        tyre_damping_n_s_m: 30.0,
        chassis_clearance_m: None,
        slap_stiffness_n_m: 100e3,
        slap_damping_n_s_m: 200.0,
        tyre_slip_stiffness: 10.0,
        tyre_slip_shape: 1.9,
        relaxation_length_m: 0.08,
    }
}

pub(super) fn rows() -> Vec<Check> {
    [closing(), disc(), fall(), tyre()].concat()
}

/// Two inertias J1 = 2e-5 and J2 = 8e-4 kg m² over 40 N m/rad, closing at 100 rad/s.
fn closing() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "two inertias (2e-5, 8e-4 kg·m²) over 40 N·m/rad closing at 100 rad/s: T = Δω √(k Je)",
        status: Status::Calculated,
        unit: "N·m",
        tolerance: 0.5e-5,
        because: "half of the last digit",
    };
    // Rotor and spur as one on a ratio of 1 are J1 = 2e-5; the wheels' inertia is set to J2 by their gyration.
    let gyration_ratio = (8e-4 / (4.0 * 0.4 * 0.01f64)).sqrt();
    let pair = Parameters { rotor_inertia_kg_m2: 1e-5, spur_inertia_kg_m2: 1e-5, gyration_ratio, ..truck() };
    let reduced = pair.shaft_inertia_kg_m2();
    vec![
        table.with("kg·m²", 0.5e-10).sure("reduced inertia", 1.95122e-5, reduced),
        table.sure("peak torque", 2.79372, 100.0 * (pair.shaft_stiffness_n_m_rad * reduced).sqrt()),
        table.with("Hz", 0.5e-3).sure("frequency", 227.875, pair.shaft_frequency_rad_s() / std::f64::consts::TAU),
    ]
}

/// A disc of 0.2 m and 0.05 m of steel on a wire of 2 mm and 0.9 m.
fn disc() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "McLean and Nelson, Engineering Mechanics, example 19-11 (disc on a wire, G 80 GPa)",
        status: Status::Printed,
        unit: "Hz",
        tolerance: 0.5e-2,
        because: "half of the last printed digit",
    };
    let mass = 7850.0 * std::f64::consts::PI * 0.1f64.powi(2) * 0.05;
    let inertia = 0.5 * mass * 0.1f64.powi(2);
    let stiffness = 80e9 * std::f64::consts::PI * 0.002f64.powi(4) / 32.0 / 0.9;
    // The wheels as the disc, hung on a driveline whose other end hardly moves.
    let wheels = Parameters {
        wheel_count: 1,
        driven_wheels: 1,
        wheel_mass_kg: mass,
        tyre_radius_m: 0.1,
        gyration_ratio: 0.5f64.sqrt(),
        shaft_stiffness_n_m_rad: stiffness,
        rotor_inertia_kg_m2: 1e3 * inertia,
        spur_inertia_kg_m2: 1e3 * inertia,
        ..truck()
    };
    vec![book.sure("frequency", 0.24, wheels.shaft_frequency_rad_s() / std::f64::consts::TAU)]
}

fn fall() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "free fall, √(2 g h), g 9.81 m/s²",
        status: Status::Calculated,
        unit: "m/s",
        tolerance: 0.5e-3,
        because: "half of the last digit",
    };
    let rows = [(0.2, 1.981), (0.8, 3.962), (1.0, 4.429), (2.0, 6.264)];
    rows.iter().map(|(h, v)| table.sure(format!("{h} m"), *v, fall_speed_m_s(*h))).collect()
}

/// The published sets have a curvature factor; with E = 0 the peak and the shape's end remain.
fn tyre() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Pacejka's formula, set \"dry\" (B 10, C 1.9, D 1) with E = 0: sin(1.9 atan(10 κ))",
        status: Status::Calculated,
        unit: "",
        tolerance: 0.5e-5,
        because: "half of the last digit",
    };
    let at = |slip: f64| truck().tyre().target_force_n(1.0, slip);
    let rows = [(0.05, 0.77133), (0.1, 0.99692), (0.2, 0.86140)];
    rows.iter().map(|(slip, force)| table.sure(format!("slip {slip}"), *force, at(*slip))).collect()
}
