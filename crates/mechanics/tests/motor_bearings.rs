//! Bearings of motor and input shaft against a published table by ISO dimension and textbook problems.

use toothsayer_mechanics::bearing::{
    BallSet, Bearing, Life, LifeParameters, ORDINARY_GREASE_LIMIT_MM_PER_MIN, Origin, SPECIAL_GREASE_LIMIT_MM_PER_MIN,
    find, reliability_factor,
};
use toothsayer_quantity::{AngularSpeed, Force, Length};

/// Published ratings are rounded to three digits.
const PUBLISHED: f64 = 0.006;
/// The standard's factors are read between their rows.
const BETWEEN_ROWS: f64 = 0.012;
/// The handbook's Weibull curve and the standard's differ by about a hundredth of the rating.
const CURVES: f64 = 0.012;

#[track_caller]
fn check(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "got {got}, expected {expected} within {relative}");
}

fn bearing(name: &str) -> &'static Bearing {
    find(name).unwrap()
}

// A published table by ISO dimension: 12x24x6 C 2.89, C0 1.46 kN, f0 14.5.
#[test]
fn the_row_of_12_by_24_is_the_published_one() {
    let row = bearing("12x24x6");
    assert_eq!(row.origin, Origin::Published);
    check(row.dynamic_rating.to_n(), 2890.0, 1e-9);
    check(row.static_rating.to_n(), 1460.0, 1e-9);
    check(row.balls.static_factor().unwrap(), 14.5, PUBLISHED);
    check(row.balls.dynamic_rating().unwrap().to_n(), 2890.0, PUBLISHED);
}

// The same table's 10x30x9 and 12x28x8: C 5.10, C0 2.39 kN, f0 13.2; eight balls of 4.762 mm on a circle of 20 mm inferred.
#[test]
fn larger_sizes_follow_from_their_balls() {
    let balls = BallSet { diameter: Length::mm(4.762), count: 8, pitch_diameter: Length::mm(20.0) };
    check(balls.dynamic_rating().unwrap().to_n(), 5100.0, PUBLISHED);
    check(balls.static_rating().unwrap().to_n(), 2390.0, BETWEEN_ROWS);
    check(balls.static_factor().unwrap(), 13.2, BETWEEN_ROWS);
}

// The same table's speeds: open with grease 30 000 and 27 000 rpm for 10x22x6 and 12x24x6; sealed by contact 24 000,
// 21 000, 21 000, 20 000, 19 000 rpm. A motor's bearings run beyond ordinary grease.
#[test]
fn published_speeds_lie_about_the_grease_limits() {
    let factor = |(name, rpm): (&str, f64)| bearing(name).speed_factor_mm_per_min(AngularSpeed::rpm(rpm)).unwrap();
    for sealed in [("10x19x5", 24e3), ("10x22x6", 21e3), ("10x26x8", 21e3), ("12x21x5", 20e3), ("12x24x6", 19e3)] {
        let n_dm = factor(sealed);
        assert!((ORDINARY_GREASE_LIMIT_MM_PER_MIN..SPECIAL_GREASE_LIMIT_MM_PER_MIN).contains(&n_dm), "{n_dm}");
    }
    check(factor(("10x22x6", 30e3)), 480_000.0, 1e-9);
    check(factor(("12x24x6", 27e3)), 486_000.0, 1e-9);
}

// Shigley's Mechanical Engineering Design, problems of chapter 11 (as worked in published solutions): 2.5 kN x 1.2,
// 25 000 h at 350 rpm: 525 million turns, C10 24.3 kN at 90 %; 18 000 h at 470 rpm and 95 %: C10 28.1 kN.
#[test]
fn textbook_bearings_need_the_rating_that_the_textbook_finds() {
    for (hours, rpm, reliability, rating_kn) in [(25e3, 350.0, 0.9, 24.3), (18e3, 470.0, 0.95, 28.1)] {
        let basic_hours = hours / reliability_factor(reliability).unwrap();
        let life = |rating_kn: f64| {
            let parameters = LifeParameters { rating: Force::kn(rating_kn), load: Force::kn(3.0) };
            Life::basic(parameters).unwrap().unwrap().at(AngularSpeed::rpm(rpm)).unwrap().to_h()
        };
        let (mut low, mut high) = (10.0, 100.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if life(middle) < basic_hours { low = middle } else { high = middle }
        }
        check(low, rating_kn, CURVES);
    }
}
