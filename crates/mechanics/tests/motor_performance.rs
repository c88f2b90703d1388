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
    let run = run_up(&truck, Time::s(1.5)).unwrap();
    let expected_m_s2 = truck.launch_acceleration_m_s2(40.0 - truck.no_load_current_a);
    check(run.end_speed.to_m_per_s(), 1.5 * expected_m_s2, INTEGRATED);
    check(run.distance.to_m(), 0.5 * expected_m_s2 * 1.5 * 1.5, INTEGRATED);
    check(run.rms_current.to_a(), 40.0, INTEGRATED);
}

// At steady spinning the tyres push with mu m g: v' = mu g.
#[test]
fn a_run_up_at_the_grip_gains_speed_with_it() {
    let truck = Parameters { drag_area_m2: 0.0, ..common::example() };
    let run = run_up(&truck, Time::s(1.0)).unwrap();
    check(run.end_speed.to_m_per_s(), 0.9 * GRAVITY_M_S2, INTEGRATED);
    assert_eq!(TruckSpeeds::of(&truck).unwrap().launch.ruled_by, LaunchLimit::Grip);
    // Two driven wheels with half of the weight: mu m g/2 on the truck and the two wheels that roll along.
    let rear = Parameters { driven_wheels: 2, driven_load_share: 0.5, ..truck };
    let rolling = 1.0 + 2.0 * 0.41 * 0.8 * 0.8 / 10.4;
    check(run_up(&rear, Time::s(1.0)).unwrap().end_speed.to_m_per_s(), 0.45 * GRAVITY_M_S2 / rolling, INTEGRATED);
}

// Without the controller's limit, grip or drag: v = v0 (1 - e^(-t/T)), I = I0 + (Is - I0) e^(-t/T) with
// T = m' R (r/i)²/K²; the mean square of I by its antiderivative.
#[test]
fn a_run_up_without_limits_follows_the_exponential() {
    let truck = Parameters {
        drag_area_m2: 0.0,
        motor_resistance_ohm: 0.35,
        battery_resistance_ohm: 0.05,
        grip: 3.0,
        drive_current_a: 5000.0,
        ..common::example()
    };
    let [stall_a, idle_a] = [27.3 / 0.4, 3.0];
    let volts_per_speed = truck.motor_constant() * truck.overall_ratio() / truck.tyre_radius_m;
    let constant_s = 0.4 / (volts_per_speed * truck.launch_acceleration_m_s2(1.0));
    let end_m_s = (27.3 - 0.4 * idle_a) / volts_per_speed;
    for duration_s in [0.3, 2.0, 30.0] {
        let run = run_up(&truck, Time::s(duration_s)).unwrap();
        let left = (-duration_s / constant_s).exp();
        check(run.end_speed.to_m_per_s(), end_m_s * (1.0 - left), INTEGRATED);
        check(run.distance.to_m(), end_m_s * (duration_s - constant_s * (1.0 - left)), INTEGRATED);
        let swing_a = stall_a - idle_a;
        let squares = idle_a * idle_a * duration_s
            + 2.0 * idle_a * swing_a * constant_s * (1.0 - left)
            + swing_a * swing_a * constant_s / 2.0 * (1.0 - left * left);
        check(run.rms_current.to_a(), (squares / duration_s).sqrt(), INTEGRATED);
    }
}

#[test]
fn a_long_stretch_ends_at_the_top_speed_and_its_current() {
    let truck = common::example();
    let run = run_up(&truck, Time::s(20_000.0)).unwrap();
    let speeds = TruckSpeeds::of(&truck).unwrap();
    check(run.end_speed.to_m_per_s(), speeds.top_speed.to_m_per_s(), 1e-5);
    check(run.rms_current.to_a(), speeds.at_top_speed.current.to_a(), 0.01);
}

#[test]
fn the_least_of_grip_motor_and_clutch_rules_the_launch() {
    let ruled = |truck: &Parameters| TruckSpeeds::of(truck).unwrap().launch;
    let truck = common::example();
    assert_eq!(ruled(&truck).ruled_by, LaunchLimit::Grip);
    let weak = Parameters { drive_current_a: 40.0, ..common::example() };
    assert_eq!(ruled(&weak).ruled_by, LaunchLimit::Motor);
    check(ruled(&weak).force.to_n(), truck.motor_constant() * 37.0 * truck.overall_ratio() / 0.094, ROUNDING);
    let slipping = Parameters { clutch_torque_n_m: Some(1.0), ..common::example() };
    assert_eq!(ruled(&slipping).ruled_by, LaunchLimit::Clutch);
    check(ruled(&slipping).force.to_n(), 5.1 / 0.094, 1e-9);
    // On the grip the mass alone is accelerated by mu m g: the push of the motor turns the rotating parts too.
    let launch = ruled(&truck);
    let road_m_s2 = truck.launch_acceleration_m_s2(launch.current().to_a() - truck.no_load_current_a);
    check(road_m_s2, 0.9 * GRAVITY_M_S2, 1e-9);
    let rear = Parameters { driven_wheels: 2, driven_load_share: 0.5, ..truck };
    assert!(launch.grip_current > ruled(&rear).grip_current);
}

#[test]
fn top_speed_is_where_force_and_drag_are_equal() {
    let truck = common::example();
    let speeds = TruckSpeeds::of(&truck).unwrap();
    let push_n = speeds.at_top_speed.torque.to_n_m() * truck.overall_ratio() / truck.tyre_radius_m;
    check(push_n, truck.drag_n(speeds.top_speed.to_m_per_s()), 1e-6);
    assert!(speeds.top_speed < speeds.no_load_top_speed);
    check(speeds.wheels_in_the_air.to_rad_per_s() * 0.094, speeds.no_load_top_speed.to_m_per_s(), ROUNDING);
    assert!(speeds.wheels_in_the_air.to_rad_per_s() < truck.no_load_wheel_speed_rad_s(), "the no-load loss counts");
}

// The power that leaves the cells is lost in pack and winding, in the no-load loss, or is at the shaft.
#[test]
fn power_from_the_cells_is_all_accounted_for() {
    for (limit_a, battery_ohm) in [(5000.0, 0.011), (120.0, 0.011), (120.0, 0.0), (60.0, 0.05)] {
        let motor = Steady::new(MotorParameters {
            voltage: Voltage::v(27.3),
            kv: MotorConstant::rpm_per_v(980.0),
            resistance: Resistance::ohm(0.014),
            battery_resistance: Resistance::ohm(battery_ohm),
            no_load_current: Current::a(3.0),
            current_limit: Current::a(limit_a),
        })
        .unwrap();
        for rpm in [0.0, 4000.0, 15_000.0, 24_000.0] {
            let point = motor.at(AngularSpeed::rpm(rpm)).unwrap();
            let [motor_a, pack_a] = [point.current.to_a(), point.pack_current.to_a()];
            let idle_w = 3.0 * motor.torque_constant_n_m_a() * point.speed.to_rad_per_s();
            let spent_w = point.shaft_power_w + idle_w + 0.014 * motor_a * motor_a + battery_ohm * pack_a * pack_a;
            check(spent_w, point.electrical_power_w, 1e-9);
            assert!(pack_a <= motor_a * (1.0 + ROUNDING), "{point:?}");
        }
    }
}

#[test]
fn a_motor_that_cannot_turn_itself_stands_and_nonsense_is_refused() {
    let stuck = motor(2.0, 800.0, 1.0, 3.0);
    assert_eq!(stuck.no_load_speed(), AngularSpeed::ZERO);
    assert_eq!(stuck.best_efficiency(), None);
    assert_eq!(stuck.stall_torque().to_n_m(), 0.0);
    let message = motor(20.0, 800.0, 0.02, 3.0).at(AngularSpeed::rad_per_s(f64::NAN)).unwrap_err().to_string();
    assert!(message.starts_with("rotor speed is NaN rad/s"), "{message}");
    let none = MotorParameters {
        voltage: Voltage::v(20.0),
        kv: MotorConstant::rpm_per_v(800.0),
        resistance: Resistance::ZERO,
        battery_resistance: Resistance::ZERO,
        no_load_current: Current::ZERO,
        current_limit: Current::a(10.0),
    };
    assert!(Steady::new(none).unwrap_err().to_string().starts_with("motor resistance is 0 ohm"));
    let still = Parameters { drive_current_a: 1.0, ..common::example() };
    let run = run_up(&still, Time::s(5.0)).unwrap();
    assert_eq!([run.end_speed.to_m_per_s(), run.distance.to_m(), run.rms_current.to_a()], [0.0, 0.0, 1.0]);
    assert!(run_up(&still, Time::s(-1.0)).is_err());
}
