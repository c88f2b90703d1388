//! What can be solved by hand: an impact of two inertias, natural frequencies, a fall, a launch on full grip.

use crate::example::{run, truck};
use nalgebra::Matrix3;
use toothsayer_mechanics::driveline::{Case, Event, Options, Parameters, fall_speed_m_s, simulate_with};

/// The closing force of an undamped impact: the solver's own promise is 0.1 %.
const IMPACT: f64 = 1e-3;

//  rotor Jm --(gap, km)-- spur Js          speeds differ by dw on the line of action: F = dw rb1 sqrt(km me)
// Published twin: J 2e-5 and 8e-4 kg m2, k 40 N m/rad, dw 100 rad/s give 2.79372 N m (own calculation from the formula).
#[test]
fn two_inertias_closing_a_gap_meet_with_their_closing_speed() {
    let truck = Parameters {
        mesh_damping_ratio: 0.0,
        rotor_inertia_kg_m2: 2e-5,
        spur_inertia_kg_m2: 8e-4,
        pinion_base_radius_m: 0.01,
        spur_base_radius_m: 0.01,
        mesh_stiffness_n_m: 40.0 / 0.01 / 0.01,
        normal_backlash_m: 2e-4,
        // Nothing else acts while they meet: the shaft hangs in a wide lash.
        lash_rad: 3.0,
        shaft_stiffness_n_m_rad: 0.01,
        no_load_current_a: 0.0,
        ..truck()
    };
    let event = Event { lash_phase: Some(0.5), duration_s: Some(0.02), ..Event::usual(Case::Launch) };
    let outcome = simulate_with(&truck, &event, &Options { trace: true, ..Options::default() }).unwrap();
    let closing_m_s = outcome.largest_closing_speed_m_s;
    let first = outcome.trace.iter().map(|point| point.mesh_force_n).fold(0.0, f64::max);
    let own_n = closing_m_s * (truck.mesh_stiffness_n_m * truck.mesh_mass_kg()).sqrt();
    assert!(first > 0.0);
    // The motor pushes on while the flanks are in contact: Fs = Tm Js/(rb (Jm + Js)), peak Fs + sqrt(Fs^2 + F^2).
    let expected_twin = 100.0 * (40.0_f64 * (2e-5 * 8e-4 / 8.2e-4)).sqrt();
    assert!((expected_twin - 2.79372).abs() < 1e-5);
    let blow = outcome.peak_drive_flank;
    let push_n = truck.motor_constant() * blow.current_a / 0.01 * 8e-4 / 8.2e-4;
    let expected_n = push_n + push_n.hypot(own_n);
    assert!(blow.force_n >= own_n * (1.0 - IMPACT), "{blow:?}, closing alone gives {own_n} N");
    assert!(blow.force_n <= expected_n * 1.02, "{blow:?}, with the motor's push at most {expected_n} N");
}

//  rotor (reflected) + spur --Kd-- wheels (reflected): the free-free mode against the eigenvalues of the linear system.
#[test]
fn the_effective_inertias_give_the_eigenfrequencies_of_the_linear_system() {
    let truck = truck();
    let (rb1, rb2, i) = (truck.pinion_base_radius_m, truck.spur_base_radius_m, truck.ratio_after_spur);
    let (km, kd) = (truck.mesh_stiffness_n_m, truck.shaft_stiffness_n_m_rad);
    let stiffness = Matrix3::new(
        km * rb1 * rb1,
        -km * rb1 * rb2,
        0.0,
        -km * rb1 * rb2,
        km * rb2 * rb2 + kd,
        -kd * i,
        0.0,
        -kd * i,
        kd * i * i,
    );
    let inertia = [truck.rotor_inertia_kg_m2, truck.spur_inertia_kg_m2, truck.wheel_inertia_kg_m2()];
    let scaled = Matrix3::from_fn(|r, c| stiffness[(r, c)] / (inertia[r] * inertia[c]).sqrt());
    let mut squares: Vec<f64> = scaled.symmetric_eigenvalues().iter().copied().collect();
    squares.sort_by(f64::total_cmp);
    assert!(squares[0].abs() < 1e-6 * squares[2], "rigid rotation");
    let mesh = (km / truck.mesh_mass_kg()).sqrt();
    let shaft = (kd / truck.shaft_inertia_kg_m2()).sqrt();
    // The two modes are a factor of 60 apart, so each effective inertia is right to the coupling's square.
    assert!((squares[2].sqrt() / mesh - 1.0).abs() < 1e-2, "{} {mesh}", squares[2].sqrt());
    assert!((squares[1].sqrt() / shaft - 1.0).abs() < 1e-2, "{} {shaft}", squares[1].sqrt());
}

#[test]
fn a_fall_ends_at_the_speed_of_its_height() {
    assert!((fall_speed_m_s(0.8) - 15.696_f64.sqrt()).abs() < 1e-12);
}

#[test]
fn on_full_grip_a_launch_settles_at_the_acceleration_of_its_current() {
    let truck = Parameters {
        grip: 3.0,
        battery_resistance_ohm: 0.0,
        drive_current_a: 60.0,
        no_load_current_a: 0.0,
        drag_area_m2: 0.0,
        shaft_damping_ratio: 0.3,
        ..truck()
    };
    let at = |duration_s: f64| {
        let event = Event { duration_s: Some(duration_s), ..Event::usual(Case::Launch) };
        simulate_with(&truck, &event, &Options::default()).unwrap().final_truck_speed_m_s
    };
    let got = (at(0.5) - at(0.3)) / 0.2;
    let expected = truck.launch_acceleration_m_s2(60.0);
    // Slip grows while the tyre builds up its force, so the truck is behind by about a percent.
    assert!((got / expected - 1.0).abs() < 0.02, "{got}, expected {expected}");
}

#[test]
fn the_energy_book_closes_in_every_case() {
    for case in Case::ALL {
        let outcome = run(&truck(), case, None);
        assert!(outcome.energy.residual() < 1e-6, "{}: {:?}", case.name(), outcome.energy);
        assert!(outcome.energy.lost_j > 0.0, "{}", case.name());
    }
}
