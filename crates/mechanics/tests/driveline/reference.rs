//! The same equations written again, plainly, and integrated by the classical Runge-Kutta method with tiny steps.

use crate::example::{random_truck, run, truck};
use toothsayer_mechanics::driveline::{Case, Parameters};

/// The first blow: the solver's promise.
const FIRST_BLOW: f64 = 1e-3;
/// A peak after some rebounds, each of which multiplies small differences.
const LATE_BLOW: f64 = 1e-2;
/// Forces below this are no blows, N.
const NO_BLOW_N: f64 = 2.0;
/// Step of the reference, s: halving it moves its peaks by less than 0.02 %.
const STEP_S: f64 = 4e-7;

/// Rotor, spur, wheels (angle, speed each), truck speed, current, tyre force, sprung and unsprung height and speed,
/// clutch slip.
type Plain = [f64; 14];

struct Case0 {
    start: Plain,
    brake_until_s: f64,
    drives: bool,
    coasts: bool,
    stop_from: Option<f64>,
    duration_s: f64,
}

fn clip(k: f64, c: f64, half: f64, x: f64, dx: f64) -> f64 {
    if x > half {
        (k * (x - half) + c * dx).max(0.0)
    } else if x < -half {
        (k * (x + half) + c * dx).min(0.0)
    } else {
        0.0
    }
}

fn forces(p: &Parameters, s: &Plain) -> (f64, f64, f64) {
    let me = 1.0
        / (p.pinion_base_radius_m.powi(2) / p.rotor_inertia_kg_m2
            + p.spur_base_radius_m.powi(2) / p.spur_inertia_kg_m2);
    let cm = 2.0 * p.mesh_damping_ratio * (p.mesh_stiffness_n_m * me).sqrt();
    let x = p.pinion_base_radius_m * s[0] - p.spur_base_radius_m * s[2];
    let dx = p.pinion_base_radius_m * s[1] - p.spur_base_radius_m * s[3];
    let mesh = clip(p.mesh_stiffness_n_m, cm, p.normal_backlash_m / 2.0, x, dx);
    let jw = f64::from(p.wheel_count) * p.wheel_mass_kg * (p.gyration_ratio * p.tyre_radius_m).powi(2);
    let u = p.spur_base_radius_m / p.pinion_base_radius_m;
    let jd = 1.0 / (1.0 / (p.spur_inertia_kg_m2 + p.rotor_inertia_kg_m2 * u * u) + p.ratio_after_spur.powi(2) / jw);
    let cd = 2.0 * p.shaft_damping_ratio * (p.shaft_stiffness_n_m_rad * jd).sqrt();
    let y = s[2] - p.ratio_after_spur * s[4] - s[13];
    let dy = s[3] - p.ratio_after_spur * s[5];
    let law = clip(p.shaft_stiffness_n_m_rad, cd, p.ratio_after_spur * p.lash_rad / 2.0, y, dy);
    let limit = p.clutch_torque_n_m.unwrap_or(f64::INFINITY);
    let shaft = law.clamp(-limit, limit);
    (mesh, shaft, (law - shaft) / cd)
}

fn rates(p: &Parameters, case: &Case0, t: f64, s: &Plain) -> Plain {
    let n = f64::from(p.wheel_count);
    let (mesh, shaft, slip_speed) = forces(p, s);
    let (wm, ww, v) = (s[1], s[5], s[6]);
    let k = 1.0 / p.motor_kv_rad_s_v;
    let command = if case.coasts {
        0.0
    } else if t < case.brake_until_s {
        -p.brake_strength * p.brake_current_a.min(k * wm.abs() / p.motor_resistance_ohm) * wm.signum()
    } else if case.drives {
        let free = (p.battery_voltage_v - k * wm) / (p.motor_resistance_ohm + p.battery_resistance_ohm);
        p.throttle_strength * free.min(p.drive_current_a).max(0.0)
    } else {
        0.0
    };
    let torque = k * (s[7] - p.no_load_current_a * (wm / 50.0).tanh());
    let ground =
        if s[11] < 0.0 { (n * (-p.tyre_stiffness_n_m * s[11] - p.tyre_damping_n_s_m * s[12])).max(0.0) } else { 0.0 };
    let reference = v.abs().max((p.tyre_radius_m * ww).abs()).max(1.0);
    let slip = (p.tyre_radius_m * ww - v) / reference;
    let target = p.grip * ground * (p.tyre_slip_shape * (p.tyre_slip_stiffness * slip).atan()).sin();
    let c = s[11] - s[9];
    let mut spring = if c < 0.0 { p.stop_stiffness_n_m * c } else { p.suspension_stiffness_n_m * c };
    if c > p.suspension_travel_m {
        spring += p.stop_stiffness_n_m * (c - p.suspension_travel_m);
    }
    let suspension = spring + p.suspension_damping_n_s_m * (s[12] - s[10]);
    let slap = match p.chassis_clearance_m {
        Some(h) if s[9] < -h => (p.slap_stiffness_n_m * (-s[9] - h) - p.slap_damping_n_s_m * s[10]).max(0.0),
        _ => 0.0,
    };
    let unsprung = n * p.wheel_mass_kg;
    let sprung = p.truck_mass_kg - unsprung;
    let jw = unsprung * (p.gyration_ratio * p.tyre_radius_m).powi(2);
    let wheel = match case.stop_from {
        Some(w0) => {
            if t < 0.01 {
                -w0 / 0.01
            } else {
                0.0
            }
        }
        None => (p.ratio_after_spur * shaft - p.tyre_radius_m * s[8]) / jw,
    };
    [
        wm,
        (torque - mesh * p.pinion_base_radius_m) / p.rotor_inertia_kg_m2,
        s[3],
        (mesh * p.spur_base_radius_m - shaft) / p.spur_inertia_kg_m2,
        ww,
        wheel,
        (s[8] - 0.6 * p.drag_area_m2 * v * v.abs()) / p.truck_mass_kg,
        (command - s[7]) / p.current_lag_s,
        (target - s[8]) * reference / p.relaxation_length_m,
        s[10],
        (suspension + slap) / sprung - 9.81,
        s[12],
        (ground - suspension) / unsprung - 9.81,
        slip_speed,
    ]
}

fn start(p: &Parameters, case: Case, phase: f64) -> Case0 {
    let landing = case.is_landing();
    let top = 0.9 * p.loaded_top_speed_m_s();
    let v = match case {
        Case::Launch => 0.0,
        _ if landing => 8.0,
        _ => top,
    };
    let ww = match case {
        Case::LandingOnThrottle => 0.95 * p.no_load_wheel_speed_rad_s(),
        Case::LandingOnBrake => 0.0,
        _ => v / p.tyre_radius_m,
    };
    let flank = if matches!(case, Case::Launch | Case::LandingOnThrottle | Case::WheelStop) { 1.0 } else { -1.0 };
    let u = p.spur_base_radius_m / p.pinion_base_radius_m;
    let mut s = [0.0; 14];
    s[5] = ww;
    s[3] = ww * p.ratio_after_spur;
    s[1] = s[3] * u;
    s[6] = v;
    s[2] = flank * (1.0 - 2.0 * phase) * p.ratio_after_spur * p.lash_rad / 2.0;
    s[0] = (flank * (1.0 - 2.0 * phase) * p.normal_backlash_m / 2.0 + p.spur_base_radius_m * s[2])
        / p.pinion_base_radius_m;
    if landing {
        s[10] = -(2.0 * 9.81 * 0.8_f64).sqrt();
        s[12] = s[10];
    } else {
        let n = f64::from(p.wheel_count);
        s[11] = -p.truck_mass_kg * 9.81 / (n * p.tyre_stiffness_n_m);
        let weight = (p.truck_mass_kg - n * p.wheel_mass_kg) * 9.81;
        let free = weight / p.suspension_stiffness_n_m;
        let (ks, kb, travel) = (p.suspension_stiffness_n_m, p.stop_stiffness_n_m, p.suspension_travel_m);
        s[9] = s[11] - if free <= travel { free } else { (weight + kb * travel) / (ks + kb) };
    }
    Case0 {
        start: s,
        brake_until_s: match case {
            Case::FullBrake | Case::LandingOnBrake => 9.0,
            Case::Reversal => 0.25,
            _ => 0.0,
        },
        drives: matches!(case, Case::Launch | Case::LandingOnThrottle | Case::Reversal),
        coasts: matches!(case, Case::LandingCoasting | Case::WheelStop),
        stop_from: (case == Case::WheelStop).then_some(ww),
        duration_s: if case == Case::Reversal { 0.6 } else { 0.3 },
    }
}

/// Peaks on drive and coast flank.
fn integrate(p: &Parameters, case: &Case0) -> (f64, f64) {
    let mut s = case.start;
    let (mut drive, mut coast) = (0.0_f64, 0.0_f64);
    let n = (case.duration_s / STEP_S).round() as u64;
    let add = |a: &Plain, k: &Plain, h: f64| -> Plain { std::array::from_fn(|i| a[i] + h * k[i]) };
    for step in 0..n {
        let t = step as f64 * STEP_S;
        let k1 = rates(p, case, t, &s);
        let k2 = rates(p, case, t + STEP_S / 2.0, &add(&s, &k1, STEP_S / 2.0));
        let k3 = rates(p, case, t + STEP_S / 2.0, &add(&s, &k2, STEP_S / 2.0));
        let k4 = rates(p, case, t + STEP_S, &add(&s, &k3, STEP_S));
        s = std::array::from_fn(|i| s[i] + STEP_S / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]));
        let mesh = forces(p, &s).0;
        drive = drive.max(mesh);
        coast = coast.max(-mesh);
    }
    (drive, coast)
}

#[track_caller]
fn check(p: &Parameters, case: Case, phase: f64) {
    let (drive, coast) = integrate(p, &start(p, case, phase));
    let got = run(p, case, Some(phase));
    for (flank, blow, expected) in [("drive", got.peak_drive_flank, drive), ("coast", got.peak_coast_flank, coast)] {
        let share = if blow.impacts_before >= 2 { LATE_BLOW } else { FIRST_BLOW };
        let near = (blow.force_n - expected).abs() <= share * expected + NO_BLOW_N;
        assert!(near, "{} at {phase}, {flank} flank: {blow:?}, expected {expected} N", case.name());
    }
}

#[test]
fn the_examples_peaks_agree_with_the_plain_integration() {
    for (case, phase) in [
        (Case::Launch, 0.5),
        (Case::FullBrake, 1.0),
        (Case::LandingOnThrottle, 0.0),
        (Case::LandingOnThrottle, 1.0),
        (Case::LandingOnBrake, 0.5),
        (Case::LandingCoasting, 1.0),
        (Case::Reversal, 1.0),
        (Case::WheelStop, 0.0),
    ] {
        check(&truck(), case, phase);
    }
}

#[test]
fn other_trucks_agree_too() {
    for seed in 1..=8 {
        let truck = random_truck(seed);
        check(&truck, Case::Launch, 0.5);
        check(&truck, Case::FullBrake, 1.0);
        check(&truck, Case::LandingOnThrottle, 0.25);
        check(&truck, Case::LandingOnBrake, 0.0);
    }
}

// SciPy 1.17 (LSODA and DOP853 with event splitting, tolerance 1e-9) on the same equations, one run each.
#[test]
fn the_examples_peaks_agree_with_a_general_library() {
    for (case, phase, drive_n, coast_n) in [
        (Case::Launch, 0.5, 311.5, 0.0),
        (Case::FullBrake, 1.0, 0.0, 360.7),
        (Case::LandingOnThrottle, 0.0, 395.4, 0.0),
        (Case::LandingOnThrottle, 0.75, 583.0, 0.0),
        (Case::LandingOnThrottle, 1.0, 649.7, 0.4),
        (Case::LandingOnBrake, 0.0, 0.0, 331.7),
        (Case::LandingOnBrake, 1.0, 0.0, 521.2),
        (Case::LandingCoasting, 1.0, 0.0, 41.5),
        (Case::Reversal, 1.0, 338.0, 360.7),
        (Case::WheelStop, 0.0, 1773.8, 1522.6),
    ] {
        let got = run(&truck(), case, Some(phase));
        for (force_n, expected_n) in [(got.peak_drive_flank.force_n, drive_n), (got.peak_coast_flank.force_n, coast_n)]
        {
            assert!(
                (force_n - expected_n).abs() <= FIRST_BLOW * expected_n + 0.1,
                "{} {phase}: {force_n}",
                case.name()
            );
        }
    }
}
