//! The shock model against laws that hold whatever the solver: energy, free fall, natural frequencies, acceleration.

#[path = "driveline_common/mod.rs"]
mod common;
#[path = "driveline_common/drawn.rs"]
mod drawn;

use nalgebra::DMatrix;
use toothsayer_mechanics::driveline::derived::fall_speed_m_s;
use toothsayer_mechanics::driveline::{Case, Event, Options, Parameters, simulate, simulate_with};

/// Largest residual of the energy book, as a part of its largest entry.
const ENERGY_RESIDUAL: f64 = 1e-6;
/// Closed solutions that leave out a small part of the truck, relative.
const IDEALISED: f64 = 2e-3;
/// Roundings of eigenvalues eight orders of magnitude apart, relative.
const EIGEN: f64 = 1e-7;

#[test]
fn energy_put_in_is_stored_or_lost_in_every_case_of_every_truck() {
    for truck in drawn::drawn(12).iter().chain([&common::example()]) {
        for case in Case::ALL {
            let energy = simulate(truck, &Event::usual(case)).unwrap().energy;
            assert!(energy.residual < ENERGY_RESIDUAL, "{}: {energy:?}", case.name());
            let losses = energy.lost;
            let dampers = [losses.mesh_j, losses.shaft_j, losses.clutch_j, losses.suspension_j, losses.tyre_j];
            assert!(dampers.iter().all(|lost_j| *lost_j >= -1e-9), "{}: {losses:?}", case.name());
        }
    }
}

#[test]
fn every_part_has_its_entry_in_the_book() {
    let truck = Parameters { clutch_torque_n_m: Some(3.0), chassis_clearance_m: Some(0.03), ..common::example() };
    let landing = simulate(&truck, &Event::usual(Case::LandingOnThrottle)).unwrap();
    let stop = simulate(&truck, &Event::usual(Case::WheelStop)).unwrap();
    let lost = landing.energy.lost;
    for lost_j in [
        lost.no_load_j,
        lost.shaft_j,
        lost.clutch_j,
        lost.suspension_j,
        lost.tyre_j,
        lost.slap_j,
        lost.slip_j,
        lost.drag_j,
    ] {
        assert!(lost_j > 0.01, "{lost:?}");
    }
    assert!(stop.energy.lost.wheel_stop_j > 0.0 && stop.energy.lost.mesh_j > 0.0, "{:?}", stop.energy);
    assert!(stop.clutch_slip_rad > 0.0, "the rotor overruns the stopped wheels through the clutch");
}

#[test]
fn the_clutch_bounds_the_shaft() {
    for torque_n_m in [1.0, 3.0, 6.0] {
        let truck = Parameters { clutch_torque_n_m: Some(torque_n_m), ..common::example() };
        for case in [Case::WheelStop, Case::LandingOnThrottle, Case::FullBrake] {
            let peak_n_m = simulate(&truck, &Event::usual(case)).unwrap().peak_shaft_torque_n_m;
            // The slip's begin is located on the step's interpolant, this close to the step itself.
            assert!(peak_n_m <= torque_n_m * (1.0 + 1e-4), "{}: {peak_n_m} of {torque_n_m} N m", case.name());
        }
    }
}

// Free fall from h: m g h = m v^2 / 2.
#[test]
fn a_fall_gathers_the_energy_of_its_height() {
    for height_m in [0.0, 0.2, 0.8, 2.0] {
        let speed_m_s = fall_speed_m_s(height_m);
        assert!((0.5 * speed_m_s * speed_m_s - 9.81 * height_m).abs() < 1e-12 * (1.0 + height_m), "{speed_m_s}");
    }
}

// A weight falling on a spring: P = W (1 + sqrt(1 + 2 h/d)), d = W/k. Wentzell, Machine Design, Ex 7.1, prints the factor
// 195.165 for W 500 lb, h 1 in and a rod of 2 in by 10 in; the truck here is nearly all wheels, so that it is one weight.
#[test]
fn a_weight_on_a_spring_without_damping_peaks_by_the_fall_factor() {
    let truck = Parameters {
        truck_mass_kg: 1.0,
        wheel_mass_kg: 0.24999,
        tyre_damping_n_s_m: 0.0,
        suspension_damping_n_s_m: 0.0,
        tyre_stiffness_n_m: 2500.0,
        ..common::example()
    };
    let weight_n = 9.81;
    for drop_height_m in [0.0, 0.1, 0.8] {
        let event = Event { drop_height_m, duration_s: Some(0.1), ..Event::usual(Case::LandingCoasting) };
        let got_n = simulate(&truck, &event).unwrap().peak_ground_force_n;
        let settled_m: f64 = weight_n / 10_000.0;
        near(got_n, weight_n * (1.0 + (1.0 + 2.0 * drop_height_m / settled_m).sqrt()), IDEALISED);
    }
    let rod_m: f64 = 500.0 * 10.0 / (std::f64::consts::PI * 30e6);
    near(1.0 + (1.0 + 2.0 / rod_m).sqrt(), 195.165, 1e-5);
}

#[test]
fn natural_frequencies_are_the_eigenvalues_of_the_linearised_system() {
    for truck in drawn::drawn(10).iter().chain([&common::example()]) {
        let (rb1, rb2, i) = (truck.pinion_base_radius_m, truck.spur_base_radius_m, truck.ratio_after_spur);
        let (km, kd) = (truck.mesh_stiffness_n_m, truck.shaft_stiffness_n_m_rad);
        let inertias = [truck.rotor_inertia_kg_m2, truck.spur_inertia_kg_m2, truck.wheel_inertia_kg_m2()];
        let stiffness = [
            [km * rb1 * rb1, -km * rb1 * rb2, 0.0],
            [-km * rb1 * rb2, km * rb2 * rb2 + kd, -kd * i],
            [0.0, -kd * i, kd * i * i],
        ];
        let scaled =
            DMatrix::from_fn(3, 3, |row, column| stiffness[row][column] / (inertias[row] * inertias[column]).sqrt());
        let mut squares: Vec<f64> = scaled.symmetric_eigenvalues().iter().copied().collect();
        squares.sort_by(f64::total_cmp);
        let modes = truck.torsion_modes();
        assert!(squares[0].abs() < EIGEN * squares[2], "turning as one has no frequency: {squares:?}");
        near(modes.shaft_rad_s, squares[1].sqrt(), EIGEN);
        near(modes.mesh_rad_s, squares[2].sqrt(), EIGEN);
    }
}

// Full grip and a stiff tyre curve: the launch accelerates mass and turning parts together at the limited current.
#[test]
fn a_steady_launch_accelerates_by_the_reflected_inertia() {
    let four = gripping(common::example());
    let two = Parameters { driven_wheels: 2, driven_load_share: 0.5, ..four.clone() };
    for truck in [four, two] {
        // The tyre's slip still grows a little with the speed, which the closed form leaves out.
        near(launch_m_s2(&truck), truck.launch_acceleration_m_s2(60.0), 0.01);
    }
}

// Two wheels that are not driven turn along: each adds its inertia over the radius squared to the mass, and nothing
// to what the driveline feels. By hand from the example's numbers: 10.4 + 2 x 0.41 x 0.8^2 = 10.9248 kg.
#[test]
fn wheels_that_are_not_driven_roll_along() {
    let four = common::example();
    let two = Parameters { driven_wheels: 2, ..four.clone() };
    near(two.road_mass_kg(), 10.9248, 1e-12);
    near(four.road_mass_kg(), 10.4, 1e-15);
    near(two.wheel_inertia_kg_m2(), 0.5 * four.wheel_inertia_kg_m2(), 1e-15);
}

// Spinning wheels: the tyre's curve is flat at full slip, so the truck takes off with mu wd m g sin(C pi/2) at most.
#[test]
fn the_share_of_the_load_bounds_a_spinning_launch() {
    let ice = Parameters { grip: 0.1, drag_area_m2: 0.0, tyre_slip_stiffness: 100.0, ..common::example() };
    for (driven, share) in [(4, 1.0), (2, 0.6)] {
        let truck = Parameters { driven_wheels: driven, driven_load_share: share, ..ice.clone() };
        let flat = (truck.tyre_slip_shape * std::f64::consts::FRAC_PI_2).sin();
        let expected_m_s2 = 0.1 * share * truck.truck_mass_kg * 9.81 * flat / truck.road_mass_kg();
        near(launch_m_s2(&truck), expected_m_s2, 0.02);
    }
}

fn gripping(truck: Parameters) -> Parameters {
    Parameters {
        grip: 3.0,
        tyre_slip_stiffness: 100.0,
        relaxation_length_m: 0.005,
        drag_area_m2: 0.0,
        no_load_current_a: 0.0,
        shaft_damping_ratio: 0.5,
        drive_current_a: 60.0,
        ..truck
    }
}

/// Acceleration over the last tenth of a second of a launch.
fn launch_m_s2(truck: &Parameters) -> f64 {
    let options = Options { trace_points: 301, ..Options::default() };
    let trace = simulate_with(truck, &Event::usual(Case::Launch), &options).unwrap().trace;
    assert_eq!(trace.len(), 301);
    let (from, to) = (trace[200], trace[300]);
    (to.truck_speed_m_s - from.truck_speed_m_s) / (to.time_s - from.time_s)
}

#[test]
fn the_loaded_top_speed_balances_motor_and_drag() {
    // Root of the same balance by SciPy 1.17.1 brentq, independent code: 18.310803621475046 m/s.
    near(common::example().loaded_top_speed_m_s(), 18.310803621475046, 1e-12);
}

#[track_caller]
fn near(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "{got}, expected {expected}");
}
