//! Bearing life against the standard's tables and textbook examples.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::bearing::{AxialFactors, BEARINGS, DutyStep, Life, LifeParameters, Load, find, mean_duty};
use toothsayer_quantity::{AngularSpeed, Force};

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn life(rating_n: f64, load_n: f64) -> Life {
    Life::basic(LifeParameters { rating: Force::n(rating_n), load: Force::n(load_n) }).unwrap().unwrap()
}

fn load(radial_n: f64, axial_n: f64) -> Load {
    Load { radial: Force::n(radial_n), axial: Force::n(axial_n) }
}

// ISO 281:2007, table 3, radial contact (from memory).
const TABLE: [(f64, f64, f64); 9] = [
    (0.172, 0.19, 2.30),
    (0.345, 0.22, 1.99),
    (0.689, 0.26, 1.71),
    (1.03, 0.28, 1.55),
    (1.38, 0.30, 1.45),
    (2.07, 0.34, 1.31),
    (3.45, 0.38, 1.15),
    (5.17, 0.42, 1.04),
    (6.89, 0.44, 1.00),
];

#[test]
fn axial_factors_are_the_standards_table() {
    for (relative, limit, axial) in TABLE {
        let factors = AxialFactors::of(relative).unwrap();
        check(factors.limit, limit, 1e-12);
        check(factors.axial, axial, 1e-12);
    }
    for pair in TABLE.windows(2) {
        let factors = AxialFactors::of((pair[0].0 + pair[1].0) / 2.0).unwrap();
        check(factors.limit, (pair[0].1 + pair[1].1) / 2.0, 1e-12);
        check(factors.axial, (pair[0].2 + pair[1].2) / 2.0, 1e-12);
    }
    assert_eq!(AxialFactors::of(0.0), AxialFactors::of(0.172));
}

// Jindal, example 18-9: 3, 4 and 5 kN at 1440, 1080 and 720 rpm for 1/4, 1/2 and 1/4 of the time; mean 3954.3 N;
// 10 000 h need C = 34 219 N.
#[test]
fn the_textbooks_changing_duty_has_the_textbooks_mean_load_and_life() {
    let step =
        |load_kn, rpm, time_share| DutyStep { load: Force::kn(load_kn), speed: AngularSpeed::rpm(rpm), time_share };
    let steps = [step(3.0, 1440.0, 0.25), step(4.0, 1080.0, 0.5), step(5.0, 720.0, 0.25)];
    let mean = mean_duty(&steps).unwrap().unwrap();
    check(mean.load.to_n(), 3954.3, 0.05);
    check(mean.speed.to_rpm(), 1080.0, 1e-9);
    check(life(34_219.0, mean.load.to_n()).at(mean.speed).unwrap().to_h(), 10_000.0, 1.0);
    assert_eq!(mean_duty(&[]), Ok(None));
    assert_eq!(mean_duty(&[step(3.0, 1440.0, 0.0)]), Ok(None));
}

// Shigley's Mechanical Engineering Design, example 11-1: 2.278 kN for 540 million revolutions at 90 % need C10 =
// 18.59 kN; its Weibull curve (0.02, 4.459, 1.483) puts 90 % at 0.9935 of L10. With 19.5 kN, 0.919 survive.
#[test]
fn the_handbooks_reliability_example_comes_out_though_its_weibull_curve_is_another() {
    /// Between the handbook's Weibull curve and the standard's.
    const CURVES: f64 = 0.002;
    check(life(18_592.0, 2278.0).million_revolutions() * 0.9935, 540.0, 0.5);
    let basic = life(19_500.0, 2278.0);
    let reached = |reliability: f64| basic.reached_by(reliability).unwrap().million_revolutions();
    let (mut low, mut high) = (0.9, 0.99);
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        (low, high) = if reached(middle) > 540.0 { (middle, high) } else { (low, middle) };
    }
    check(low, 0.919, CURVES);
}

// The rounded factors let X Fr + Y Fa dip under Fr by 1 % at e.
#[test]
fn the_equivalent_load_rises_with_both_loads_and_never_lies_below_the_radial() {
    for row in BEARINGS {
        let limit_n = 6.8 / row.balls.static_factor().unwrap() * row.static_rating.to_n();
        for radial_step in 0..20 {
            let radial_n = f64::from(radial_step) * 0.02 * row.dynamic_rating.to_n();
            let mut before_n = 0.0;
            for axial_step in 0..=200 {
                let axial_n = limit_n * f64::from(axial_step) / 200.0;
                let got_n = row.equivalent_dynamic(&load(radial_n, axial_n)).unwrap().to_n();
                assert!(got_n >= radial_n && got_n >= before_n - 0.015 * before_n, "{} {radial_n} {axial_n}", row.name);
                before_n = got_n;
            }
        }
    }
}

#[test]
fn life_falls_with_the_cube_of_the_load() {
    for thousandths in 1..=250 {
        let load_n = f64::from(thousandths);
        let (single, double) = (life(1000.0, load_n), life(1000.0, 2.0 * load_n));
        check(single.million_revolutions() / double.million_revolutions(), 8.0, 1e-9);
    }
}

#[test]
fn an_idle_bearing_has_no_end_of_life() {
    let row = find("8x16x5").unwrap();
    assert_eq!(row.life(&load(0.0, 0.0)), Ok(None));
    assert!(row.life(&load(10.0, 0.0)).unwrap().is_some());
}

#[test]
fn loads_and_speeds_outside_their_range_are_refused_by_name() {
    let row = find("8x16x5").unwrap();
    let message = |radial_n, axial_n| row.life(&load(radial_n, axial_n)).unwrap_err().to_string();
    assert_eq!(message(-1.0, 0.0), "bearing load is -1 N, outside 0 to 1000000 N");
    assert_eq!(message(0.0, -1.0), "bearing load is -1 N, outside 0 to 1000000 N");
    assert!(message(f64::NAN, 0.0).starts_with("bearing load is NaN N"));
    assert_eq!(message(1254.0, 0.0), "load over dynamic rating P/C is 1, outside 0 to 0.5");
    assert!(message(10.0, 400.0).starts_with("relative axial load f0 Fa/C0 is "), "{}", message(10.0, 400.0));
    let life = life(1000.0, 100.0);
    assert_eq!(
        life.at(AngularSpeed::ZERO).unwrap_err().to_string(),
        "bearing speed is 0 rpm, outside 0.001 to 300000 rpm"
    );
    assert_eq!(life.reached_by(1.0).unwrap_err().to_string(), "reliability is 1, outside 0.9 to 0.9995");
}
