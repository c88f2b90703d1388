//! The involute function against printed tables.

use toothsayer_mechanics::gear::{inv, inv_inverse};
use toothsayer_quantity::Angle;

/// A round trip loses a few units of the last place.
const ROUND_TRIP_RAD: f64 = 1e-13;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
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
