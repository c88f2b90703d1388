//! The solver against closed solutions of two inertias in a gap.

use super::super::case::{Segment, Wheels};
use super::super::motor::Command;
use super::super::{Case, Event, Options, Parameters, state};
use super::*;

/// Two inertias on a gear pair of equal radii; everything else far away.
fn pair(rotor_kg_m2: f64, spur_kg_m2: f64, stiffness_n_m_rad: f64) -> Parameters {
    let radius_m = 0.01;
    Parameters {
        truck_mass_kg: 10.0,
        wheel_count: 4,
        driven_wheels: 4,
        driven_load_share: 1.0,
        wheel_mass_kg: 0.4,
        tyre_radius_m: 0.1,
        gyration_ratio: 0.8,
        grip: 0.0,
        drag_area_m2: 0.0,
        battery_voltage_v: 100.0,
        battery_resistance_ohm: 0.0,
        motor_kv_rad_s_v: 100.0,
        motor_resistance_ohm: 0.01,
        no_load_current_a: 0.0,
        rotor_inertia_kg_m2: rotor_kg_m2,
        current_lag_s: 0.002,
        drive_current_a: 40.0,
        brake_current_a: 40.0,
        brake_strength: 1.0,
        throttle_strength: 1.0,
        pinion_base_radius_m: radius_m,
        spur_base_radius_m: radius_m,
        normal_backlash_m: 1e-4,
        mesh_stiffness_n_m: stiffness_n_m_rad / (radius_m * radius_m),
        mesh_damping_ratio: 0.0,
        spur_inertia_kg_m2: spur_kg_m2,
        ratio_after_spur: 1.0,
        shaft_stiffness_n_m_rad: 1.0,
        shaft_damping_ratio: 0.0,
        lash_rad: 3.2,
        clutch_torque_n_m: None,
        suspension_stiffness_n_m: 5e3,
        suspension_damping_n_s_m: 200.0,
        suspension_travel_m: 0.1,
        stop_stiffness_n_m: 6e4,
        tyre_stiffness_n_m: 1e4,
        tyre_damping_n_s_m: 30.0,
        chassis_clearance_m: None,
        slap_stiffness_n_m: 1e5,
        slap_damping_n_s_m: 200.0,
        tyre_slip_stiffness: 10.0,
        tyre_slip_shape: 1.4,
        relaxation_length_m: 0.08,
    }
}

/// Runs the pair from a speed of the rotor against the resting spur, the flank just touching.
fn outcome(truck: &Parameters, speed_rad_s: f64, current_a: f64, command: Command) -> Outcome {
    let event = Event { duration_s: Some(0.004), ..Event::usual(Case::Launch) };
    let mut start = event.start(truck);
    start[state::MESH] = 0.5 * truck.normal_backlash_m;
    start[state::ROTOR_SPEED] = speed_rad_s;
    start[state::CURRENT] = current_a;
    let segment = Segment { until_s: 0.004, command, wheels: Wheels::Driven };
    through(Run::with(truck, &event, &Options::default(), 1e-4, start, [Some(segment), None]))
}

/// One run alone.
struct Alone(Option<Run>, Option<Outcome>);

impl Queue for Alone {
    fn next(&mut self) -> Option<(usize, Run)> {
        self.0.take().map(|run| (0, run))
    }

    fn done(&mut self, _: usize, result: Result<Outcome, DrivelineError>) -> Option<Run> {
        self.1 = Some(result.unwrap());
        None
    }
}

fn through(run: Run) -> Outcome {
    let mut queue = Alone(Some(run), None);
    run_single(&mut queue);
    queue.1.unwrap()
}

/// The solver's local errors at a tolerance of 1e-4 and the rounding of printed values.
const REL_TOL: f64 = 2e-5;

//   rotor J1 --)( gap )-- J2 spur      speed w of J1 against J2 becomes twist: 0.5 Je w^2 = 0.5 k q^2, T = w sqrt(k Je)
#[test]
fn two_inertias_closing_a_gap_reach_speed_times_root_of_stiffness_and_effective_inertia() {
    // Backlash shock of two inertias: J 2e-5 and 8e-4 kg m2, k 40 N m/rad, 100 rad/s give 2.79372 N m (analytic).
    let truck = pair(2e-5, 8e-4, 40.0);
    let outcome = outcome(&truck, 100.0, 0.0, Command::Coast);
    check(outcome.peak_drive_flank.force_n * truck.pinion_base_radius_m, 2.79372);
    let closing_m_s = 100.0 * truck.pinion_base_radius_m;
    check(outcome.peak_drive_flank.force_n, closing_m_s * (truck.mesh_stiffness_n_m * truck.mesh_mass_kg()).sqrt());
    check(outcome.largest_closing_speed_m_s, closing_m_s);
    // Half a period of 227.875 Hz until the flanks part, a quarter until the peak.
    check(outcome.peak_drive_flank.time_s, 0.25 / 227.875);
}

//   with a torque T on J1: the swing is about Ts = T J2/(J1 + J2), so T = Ts + sqrt(Ts^2 + w^2 k Je)
#[test]
fn a_driving_torque_adds_to_the_shock_as_the_closed_solution_says() {
    let truck = pair(2e-5, 8e-4, 40.0);
    let drive_n_m = 40.0 * truck.motor_constant();
    let outcome = outcome(&truck, 100.0, 40.0, Command::Drive);
    let steady_n_m = drive_n_m * 8e-4 / 8.2e-4;
    let shock_n_m = 100.0 * (40.0 * truck.mesh_mass_kg() * 1e-4_f64).sqrt();
    let expected_n_m = steady_n_m + (steady_n_m * steady_n_m + shock_n_m * shock_n_m).sqrt();
    check(outcome.peak_drive_flank.force_n * truck.pinion_base_radius_m, expected_n_m);
}

//   rotor --km-- spur --Kd-- wheels, all closed under a steady torque, the mesh pressed 1.3 times too deep: it rings
#[test]
fn the_closed_driveline_rings_at_its_natural_frequency() {
    let mut truck = pair(2e-5, 4e-5, 4000.0);
    (truck.lash_rad, truck.shaft_stiffness_n_m_rad, truck.mesh_damping_ratio) = (0.0, 40.0, 1e-3);
    let behind = [truck.spur_inertia_kg_m2, truck.wheel_inertia_kg_m2()];
    let drive_n_m = 40.0 * truck.motor_constant();
    let all = truck.rotor_inertia_kg_m2 + behind[0] + behind[1];
    let event = Event { duration_s: Some(0.01), ..Event::usual(Case::Launch) };
    let mut start = event.start(&truck);
    let mesh_n = drive_n_m / truck.pinion_base_radius_m * (behind[0] + behind[1]) / all;
    start[state::MESH] = 0.5 * truck.normal_backlash_m + 1.3 * mesh_n / truck.mesh_stiffness_n_m;
    start[state::TWIST] = drive_n_m * behind[1] / all / truck.shaft_stiffness_n_m_rad;
    start[state::CURRENT] = 40.0;
    let options = Options { mesh_history: true, ..Options::default() };
    let segment = Segment { until_s: 0.01, command: Command::Drive, wheels: Wheels::Driven };
    let history = through(Run::with(&truck, &event, &options, 1e-5, start, [Some(segment), None])).mesh_history;
    let crossings: Vec<f64> = history
        .windows(2)
        .filter(|two| two[0].force_n < mesh_n && two[1].force_n >= mesh_n)
        .map(|two| {
            let share = (mesh_n - two[0].force_n) / (two[1].force_n - two[0].force_n);
            two[0].time_s + share * (two[1].time_s - two[0].time_s)
        })
        .collect();
    assert!(crossings.len() > 20, "{} crossings", crossings.len());
    let period_s = (crossings[crossings.len() - 1] - crossings[0]) / (crossings.len() - 1) as f64;
    let (got, expected) = (std::f64::consts::TAU / period_s, truck.torsion_modes().mesh_rad_s);
    // The slow mode, set off a little as well, shifts the first and the last crossing.
    assert!((got - expected).abs() < 2e-3 * expected, "{got} rad/s, expected {expected} rad/s");
}

#[track_caller]
fn check(got: f64, expected: f64) {
    assert!((got - expected).abs() <= REL_TOL * expected.abs(), "{got}, expected {expected}");
}
