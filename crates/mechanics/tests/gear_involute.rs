//! The involute function against printed tables.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::gear::{inv, inv_inverse};
use toothsayer_quantity::Angle;

/// Half a unit of a table's seventh decimal.
const PRINTED_7: f64 = 0.5e-7;
/// Half a unit of the tenth decimal.
const PRINTED_10: f64 = 0.5e-10;
/// Half a unit of the sixth decimal of an angle in degrees.
const PRINTED_DEG: f64 = 0.5e-6;
/// A round trip loses a few units of the last place.
const ROUND_TRIP_RAD: f64 = 1e-13;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn inv_deg(angle_deg: f64) -> f64 {
    inv(Angle::deg(angle_deg)).unwrap()
}

// Machinery handbooks' "table of involute functions": 20 deg as printed there, the other rows from memory.
#[test]
fn the_function_agrees_with_the_handbook_table() {
    for (angle_deg, printed) in [
        (14.5, 0.0055448),
        (15.0, 0.0061498),
        (20.0, 0.0149044),
        (22.5, 0.0215145),
        (25.0, 0.0299753),
        (30.0, 0.0537515),
    ] {
        check(inv_deg(angle_deg), printed, PRINTED_7);
    }
}

// Own calculation of tan a - a in double precision, ten decimals.
#[test]
fn other_angles_agree_with_tan_less_angle() {
    for (angle_deg, expected) in
        [(17.5, 0.0098661698), (27.5, 0.0406015063), (35.0, 0.0893423000), (40.0, 0.1409679304)]
    {
        check(inv_deg(angle_deg), expected, PRINTED_10);
    }
}

// A page of the open web prints inv 14.5 deg = 0.00540; the right value is 0.0055448.
#[test]
fn a_misprinted_table_is_not_reproduced() {
    assert!((inv_deg(14.5) - 0.00540).abs() > 1e-4);
}

// Own calculation; for methods see Lopez Rosado et al., Mathematical Problems in Engineering 2019, 3586012.
#[test]
fn the_inverse_agrees_with_values_to_a_millionth_of_a_degree() {
    for (value, angle_deg) in [(0.005, 14.016655), (0.02, 21.981102), (0.05, 29.337720), (0.1, 36.191422)] {
        check(inv_inverse(value).unwrap().to_deg(), angle_deg, PRINTED_DEG);
    }
}

#[test]
fn function_and_inverse_undo_each_other_from_half_a_degree_to_eighty() {
    for step in 1..=160 {
        let angle = Angle::deg(0.5 * f64::from(step));
        check(inv_inverse(inv(angle).unwrap()).unwrap().to_rad(), angle.to_rad(), ROUND_TRIP_RAD);
    }
    check(inv_inverse(0.0).unwrap().to_rad(), 0.0, 0.0);
}

#[test]
fn what_has_no_involute_is_refused() {
    for angle_deg in [-1.0, 90.0, f64::NAN] {
        assert!(inv(Angle::deg(angle_deg)).is_err());
    }
    for value in [-0.01, f64::INFINITY, f64::NAN] {
        assert!(inv_inverse(value).is_err());
    }
}
