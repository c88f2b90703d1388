//! Bearing ratings by the ISO formulas against published tables, row by row.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::bearing::{
    BEARINGS, BallSet, Bearing, Load, ORDINARY_GREASE_LIMIT_MM_PER_MIN, Origin, SPECIAL_GREASE_LIMIT_MM_PER_MIN, find,
};
use toothsayer_quantity::{AngularSpeed, Force, Length};

/// Published ratings are rounded to two or three digits and their ball sets inferred.
const PUBLISHED: f64 = 0.006;
/// Estimated rows are the formulas' own results; how the factors are read between the tables' points moves them.
const BETWEEN_POINTS: f64 = 0.003;
/// Ratings of assumed ball sets against a separate estimate of the same sizes.
const BALL_SET: f64 = 0.15;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn bearing(name: &str) -> &'static Bearing {
    find(name).unwrap()
}

// ISO 281 clause 5 and ISO 76 clause 5; the published rows hold the tables of fc and f0, which are from memory.
#[test]
fn every_row_carries_the_ratings_that_the_iso_formulas_give() {
    for row in BEARINGS {
        let dynamic_n = row.balls.dynamic_rating().unwrap().to_n();
        let static_n = row.balls.static_rating().unwrap().to_n();
        let tolerance = match row.origin {
            Origin::Published => PUBLISHED,
            Origin::Estimated => BETWEEN_POINTS,
        };
        check(row.dynamic_rating.to_n() / dynamic_n, 1.0, tolerance);
        check(row.static_rating.to_n() / static_n, 1.0, tolerance);
    }
}

#[test]
fn every_row_is_named_for_its_dimensions_and_has_room_for_its_balls() {
    for row in BEARINGS {
        let [bore, outside, width] = [row.bore, row.outside, row.width].map(Length::to_mm);
        assert_eq!(row.name, format!("{bore:.0}x{outside:.0}x{width:.0}"));
        assert_eq!(find(row.name), Some(row));
        let ball_mm = row.balls.diameter.to_mm();
        assert!(ball_mm < 0.7 * (outside - bore) / 2.0 && ball_mm < 0.7 * width, "{}", row.name);
        check(row.balls.pitch_diameter.to_mm(), (bore + outside) / 2.0, 1e-9);
        let filled = f64::from(row.balls.count) * ball_mm / (std::f64::consts::PI * (bore + outside) / 2.0);
        assert!((0.35..0.62).contains(&filled), "{}: balls fill {filled} of the circle", row.name);
        assert!(!row.origin.words().is_empty());
    }
    let sizes = |row: &Bearing| (row.bore.to_mm(), row.outside.to_mm(), row.width.to_mm());
    assert!(BEARINGS.windows(2).all(|pair| sizes(&pair[0]) < sizes(&pair[1])), "rows by bore, outside and width");
}

// The same table: C and C0 in N.
#[test]
fn published_rows_print_the_published_ratings() {
    for (name, dynamic_n, static_n) in [
        ("10x15x3", 855.0, 435.0),
        ("10x19x5", 1830.0, 925.0),
        ("10x22x6", 2700.0, 1270.0),
        ("10x26x8", 4550.0, 1960.0),
        ("12x18x4", 930.0, 530.0),
        ("12x21x5", 1920.0, 1040.0),
    ] {
        let row = bearing(name);
        assert_eq!((row.dynamic_rating, row.static_rating), (Force::n(dynamic_n), Force::n(static_n)));
        assert_eq!(row.origin, Origin::Published);
    }
}

// A separate estimate of the sizes asked for most, ball sets assumed: accept 15 %.
#[test]
fn estimated_rows_agree_with_a_separate_estimate() {
    for (name, dynamic_n, static_n) in [
        ("5x11x4", 716.0, 283.0),
        ("6x12x4", 715.0, 293.0),
        ("8x16x5", 1254.0, 591.0),
        ("10x15x4", 857.0, 435.0),
        ("8x22x7", 3296.0, 1368.0),
    ] {
        let row = bearing(name);
        check(row.dynamic_rating.to_n() / dynamic_n, 1.0, BALL_SET);
        check(row.static_rating.to_n() / static_n, 1.0, BALL_SET);
        assert_eq!(row.origin, Origin::Estimated);
    }
}

// ISO 281:2007, table 2 and ISO 76, table 1 (from memory), at the tables' own points: one ball of 1 mm times Z.
#[test]
fn the_factors_are_the_tables_at_their_points_and_between_them() {
    let set = |ratio: f64| BallSet { diameter: Length::mm(1.0), count: 8, pitch_diameter: Length::mm(1.0 / ratio) };
    for (ratio, fc) in [(0.10, 55.5), (0.15, 59.2), (0.20, 59.9), (0.26, 58.2)] {
        check(set(ratio).dynamic_rating().unwrap().to_n(), 1.3 * fc * 4.0, 1e-9);
    }
    for (ratio, f0) in [(0.07, 16.1), (0.085, 16.4), (0.12, 15.9), (0.19, 14.2), (0.26, 12.5)] {
        check(set(ratio).static_rating().unwrap().to_n(), f0 * 8.0, 1e-9);
    }
}

// ISO 76, clause 6: P0 = max(Fr, 0.6 Fr + 0.5 Fa).
#[test]
fn the_static_load_is_the_larger_of_radial_and_combined() {
    for (radial_n, axial_n, expected_n) in
        [(100.0, 0.0, 100.0), (100.0, 80.0, 100.0), (100.0, 100.0, 110.0), (0.0, 100.0, 50.0), (0.0, 0.0, 0.0)]
    {
        let load = Load { radial: Force::n(radial_n), axial: Force::n(axial_n) };
        check(load.equivalent_static().unwrap().to_n(), expected_n, 1e-12);
    }
    let load = Load { radial: Force::n(295.5), axial: Force::ZERO };
    check(bearing("8x16x5").static_safety(&load).unwrap().unwrap(), 2.0, 1e-12);
    let idle = Load { radial: Force::ZERO, axial: Force::ZERO };
    assert_eq!(bearing("8x16x5").static_safety(&idle), Ok(None));
}

// n dm from speeds that a published table allows with grease and with oil, rpm.
#[test]
fn the_speed_factor_is_speed_times_mean_diameter() {
    for (name, grease_rpm, oil_rpm, grease, oil) in [
        ("10x19x5", 32e3, 38e3, 464e3, 551e3),
        ("10x26x8", 29e3, 34e3, 522e3, 612e3),
        ("12x21x5", 29e3, 34e3, 479e3, 561e3),
    ] {
        let factor = |rpm| bearing(name).speed_factor_mm_per_min(AngularSpeed::rpm(rpm)).unwrap();
        check(factor(grease_rpm), grease, 600.0);
        check(factor(oil_rpm), oil, 600.0);
        // makers allow small open bearings more than the rule of thumb does
        assert!(factor(grease_rpm) > SPECIAL_GREASE_LIMIT_MM_PER_MIN, "{name}");
    }
    let pinion_shaft = bearing("8x16x5").speed_factor_mm_per_min(AngularSpeed::rpm(12_000.0)).unwrap();
    assert!(pinion_shaft < ORDINARY_GREASE_LIMIT_MM_PER_MIN);
}

#[test]
fn a_bearing_is_found_as_the_bench_writes_it_or_not_at_all() {
    assert_eq!(find(" 8X16x5 ").map(|row| row.name), Some("8x16x5"));
    for unknown in ["", "8x16", "8x16x6", "x"] {
        assert_eq!(find(unknown), None);
    }
}

#[test]
fn impossible_ball_sets_are_refused_by_name() {
    let set = |diameter_mm, count, pitch_mm| BallSet {
        diameter: Length::mm(diameter_mm),
        count,
        pitch_diameter: Length::mm(pitch_mm),
    };
    for (balls, message) in [
        (set(2.0, 2, 12.0), "number of balls is 2, outside 3 to 40"),
        (set(0.2, 8, 2.0), "ball diameter is 0.2 mm, outside 0.3 to 25.4 mm"),
        (set(4.0, 8, 10.0), "ball over pitch diameter is 0.4, outside 0.06 to 0.28"),
    ] {
        assert_eq!(balls.dynamic_rating().unwrap_err().to_string(), message);
        assert_eq!(balls.static_rating().unwrap_err().to_string(), message);
    }
    assert!(set(2.0, 8, 0.0).dynamic_rating().is_err() && set(f64::NAN, 8, 10.0).static_rating().is_err());
}
