//! The steady motor and the truck's speeds against published figures and closed forms.

#[path = "driveline_common/mod.rs"]
mod common;

use toothsayer_mechanics::driveline::Parameters;
use toothsayer_mechanics::driveline::derived::GRAVITY_M_S2;
use toothsayer_mechanics::motor::{LaunchLimit, MotorParameters, Steady, TruckSpeeds, run_up};
use toothsayer_quantity::{AngularSpeed, Current, MotorConstant, Resistance, Time, Voltage};

/// Half a unit of the last printed digit, five digits printed.
const PRINTED: f64 = 5e-5;
/// Roundings of a few operations.
const ROUNDING: f64 = 1e-12;
/// Simpson's rule over 500 steps, where the controller's limit lets go within one of them.
const INTEGRATED: f64 = 2e-5;

#[track_caller]
fn check(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "got {got}, expected {expected} within {relative}");
}

/// A motor behind a pack without resistance.
fn motor(voltage_v: f64, kv_rpm_v: f64, resistance_ohm: f64, no_load_a: f64) -> Steady {
    Steady::new(MotorParameters {
        voltage: Voltage::v(voltage_v),
        kv: MotorConstant::rpm_per_v(kv_rpm_v),
        resistance: Resistance::ohm(resistance_ohm),
        battery_resistance: Resistance::ZERO,
        no_load_current: Current::a(no_load_a),
        current_limit: Current::a(5000.0),
    })
    .unwrap()
}

// Kt = 60/(2 pi Kv): "Motor constants" of the encyclopaedias, values from the formula.
#[test]
fn torque_per_current_is_the_inverse_of_kv() {
    for (kv_rpm_v, constant) in
        [(580.0, 0.016464), (650.0, 0.014691), (800.0, 0.011937), (1000.0, 0.0095493), (2000.0, 0.0047746)]
    {
        check(motor(10.0, kv_rpm_v, 0.02, 0.0).torque_constant_n_m_a(), constant, PRINTED);
    }
}

// The same articles' worked example: 5700 rpm/V on 11.1 V turn 63 270 rpm without load.
#[test]
fn the_encyclopaedias_motor_turns_at_its_no_load_speed() {
    check(motor(11.1, 5700.0, 0.02, 0.0).no_load_speed().to_rpm(), 63_270.0, ROUNDING);
}

// 22.2 V, 800 rpm/V, 20 mohm, 3 A: worked by hand from w = (V - I R)/K, T = K (I - I0).
#[test]
fn a_motor_worked_by_hand_comes_out() {
    let motor = motor(22.2, 800.0, 0.02, 3.0);
    check(motor.no_load_speed().to_rpm(), 17_712.0, PRINTED);
    check(motor.stall_current().to_a(), 1110.0, ROUNDING);
    check(motor.stall_torque().to_n_m(), 13.214, PRINTED);
    let best = motor.best_efficiency().unwrap();
    check(best.current.to_a(), 57.706, PRINTED);
    check(best.efficiency, 0.89873, PRINTED);
    let there = motor.at(best.speed).unwrap();
    check(there.current.to_a(), best.current.to_a(), 1e-9);
    check(there.efficiency, best.efficiency, 1e-9);
}

#[test]
fn no_speed_is_more_efficient_than_the_best() {
    let motor = motor(22.2, 800.0, 0.02, 3.0);
    let best = motor.best_efficiency().unwrap().efficiency;
    let mut highest = 0.0_f64;
    for rpm in (0..17_700).step_by(10) {
        let point = motor.at(AngularSpeed::rpm(f64::from(rpm))).unwrap();
        assert!((0.0..=best * (1.0 + ROUNDING)).contains(&point.efficiency), "{point:?}");
        highest = highest.max(point.efficiency);
    }
    check(highest, best, 1e-5);
}

// Without drag and at a steady current the truck gains speed evenly: v = F t/m', with m' of the launch's acceleration.
#[test]
fn a_run_up_at_the_controllers_limit_is_even() {
    let truck = Parameters { drag_area_m2: 0.0, drive_current_a: 40.0, ..common::example() };
    let run = run_up(&truck, 1.0, Time::s(1.5)).unwrap();
    let expected_m_s2 = truck.launch_acceleration_m_s2(40.0 - truck.no_load_current_a);
    check(run.end_speed.to_m_per_s(), 1.5 * expected_m_s2, INTEGRATED);
    check(run.distance.to_m(), 0.5 * expected_m_s2 * 1.5 * 1.5, INTEGRATED);
    check(run.rms_current.to_a(), 40.0, INTEGRATED);
}

// At steady spinning the tyres push with mu m g: v' = mu g.
#[test]
fn a_run_up_at_the_grip_gains_speed_with_it() {
    let truck = Parameters { drag_area_m2: 0.0, ..common::example() };
    let run = run_up(&truck, 0.5, Time::s(1.0)).unwrap();
    check(run.end_speed.to_m_per_s(), 0.9 * 0.5 * GRAVITY_M_S2, INTEGRATED);
    assert_eq!(TruckSpeeds::of(&truck, 0.5).unwrap().launch.ruled_by, LaunchLimit::Grip);
}
