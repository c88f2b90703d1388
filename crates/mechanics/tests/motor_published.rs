//! The motor against figures that textbooks, an open standard library and exercises print.

use toothsayer_mechanics::motor::{MotorParameters, Steady, resistance_at};
use toothsayer_quantity::{AngularSpeed, Current, MotorConstant, Resistance, Temperature, Voltage};

/// Half a unit of the last of three or four printed digits.
const PRINTED: f64 = 6e-4;
/// Exact arithmetic on small numbers.
const EXACT: f64 = 1e-9;
/// Printed to two or three digits after rounded steps.
const ROUNDED_ON_THE_WAY: f64 = 6e-3;

/// Printed to two digits: half a unit of the last is 2 %.
const TWO_DIGITS: f64 = 0.02;

#[track_caller]
fn check(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "got {got}, expected {expected} within {relative}");
}

/// A motor by its volts per rad/s, behind a source without resistance.
fn motor(voltage_v: f64, constant: f64, resistance_ohm: f64, no_load_a: f64) -> Steady {
    Steady::new(MotorParameters {
        voltage: Voltage::v(voltage_v),
        kv: MotorConstant::rad_per_s_v(1.0 / constant),
        resistance: Resistance::ohm(resistance_ohm),
        battery_resistance: Resistance::ZERO,
        no_load_current: Current::a(no_load_a),
        current_limit: Current::a(5000.0),
    })
    .unwrap()
}

// Modelica Standard Library, record DcPermanentMagnetData and its DC machine examples: 100 V, 100 A, 0.05 ohm, 1425 rpm
// loaded with 63.66 N m, 1500 rpm without load; the losses are off.
#[test]
fn the_standard_librarys_permanent_magnet_machine_comes_out() {
    let speed = AngularSpeed::rpm(1425.0);
    let machine = motor(100.0, (100.0 - 100.0 * 0.05) / speed.to_rad_per_s(), 0.05, 0.0);
    check(machine.no_load_speed().to_rpm(), 1500.0, EXACT);
    let point = machine.at(speed).unwrap();
    check(point.current.to_a(), 100.0, EXACT);
    check(point.torque.to_n_m(), 63.66, PRINTED);
    check(point.efficiency, 0.95, EXACT);
}

// Kosow, Electric Machinery and Transformers, example 1-13: 125 V, 0.25 ohm, 60 A: 110 V of counter emf.
// Textbook companion no. 1445, chapter 8, example 27: 200 V, 0.1 ohm, 20 kW: 190 V, 19 kW developed.
#[test]
fn textbook_motors_have_their_counter_emf_and_developed_power() {
    for (voltage_v, resistance_ohm, current_a, emf_v, developed_kw) in
        [(125.0, 0.25, 60.0, 110.0, 6.6), (200.0, 0.1, 100.0, 190.0, 19.0)]
    {
        // With 1 V s/rad the speed in rad/s is the emf in V.
        let point = motor(voltage_v, 1.0, resistance_ohm, 0.0).at(AngularSpeed::rad_per_s(emf_v)).unwrap();
        check(point.current.to_a(), current_a, EXACT);
        check(point.shaft_power_w, 1000.0 * developed_kw, EXACT);
        check(point.electrical_power_w, voltage_v * current_a, EXACT);
    }
}

// Salam, Fundamentals of Electrical Machines, example 5.3: 0.7 ohm, 5 A without and 35 A with load: the emf falls by 21 V.
#[test]
fn the_emf_falls_with_the_load_as_the_textbook_prints() {
    let machine = motor(120.0, 1.0, 0.7, 5.0);
    let idle_v = machine.no_load_speed().to_rad_per_s();
    let loaded = machine.at(AngularSpeed::rad_per_s(idle_v - 21.0)).unwrap();
    check(loaded.current.to_a(), 35.0, EXACT);
    check(loaded.torque.to_n_m(), 30.0, EXACT);
}

// Textbook companion no. 1892, example 4.4 (its note says that the book misprints): 0.12 N m/A on 48 V: 3819.7 rpm.
// An exercise's 12 V motor: 3800 rpm without load, 30 mN m stalled; at 2500 rpm 30 (1 - 2500/3800) = 10.26 mN m.
#[test]
fn small_permanent_magnet_motors_have_their_speed_and_torque() {
    check(motor(48.0, 0.12, 0.3, 0.0).no_load_speed().to_rpm(), 3819.7, 1e-5);
    let constant = 12.0 / AngularSpeed::rpm(3800.0).to_rad_per_s();
    let small = motor(12.0, constant, 12.0 * constant / 0.030, 0.0);
    check(small.stall_torque().to_n_m(), 0.030, EXACT);
    check(small.at(AngularSpeed::rpm(2500.0)).unwrap().torque.to_n_m(), 10.26e-3, PRINTED);
}

// Fitzgerald, Kingsley, Umans, Electric Machinery, the chapter on dc machines, permanent-magnet example (from memory):
// 1.03 ohm, 50 V, 2100 rpm at 1.25 A: 0.22 V s/rad and 61 W lost; on 48 V at 1700 rpm 8.35 A.
#[test]
fn a_motor_known_by_its_no_load_point_comes_out_loaded() {
    let constant = (50.0 - 1.25 * 1.03) / AngularSpeed::rpm(2100.0).to_rad_per_s();
    check(constant, 0.22, TWO_DIGITS);
    let idle = motor(50.0, constant, 1.03, 1.25);
    check(idle.no_load_speed().to_rpm(), 2100.0, EXACT);
    check(1.25 * constant * idle.no_load_speed().to_rad_per_s(), 61.0, ROUNDED_ON_THE_WAY);
    let loaded = motor(48.0, constant, 1.03, 1.25).at(AngularSpeed::rpm(1700.0)).unwrap();
    check(loaded.current.to_a(), 8.35, ROUNDED_ON_THE_WAY);
}

// An exercise's winding: 80 ohm at 20 °C, 100 ohm after four hours, coefficient 1/234.5 at 0 °C: 83.63 °C.
// IEC 60034-1's correction to 75 °C, (235 + 75)/(235 + 20) = 1.2157; 0.00393/K at 100 °C: 1.3144 (handbooks).
#[test]
fn windings_gain_resistance_as_printed() {
    let ratio = |celsius: f64| resistance_at(Resistance::ohm(1.0), Temperature::k(273.15 + celsius)).unwrap().to_ohm();
    check(80.0 * ratio(83.63), 100.0, PRINTED);
    check(ratio(75.0), 1.2157, PRINTED);
    check(ratio(100.0), 1.3144, 1e-6);
}
