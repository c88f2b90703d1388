//! The involute function and its inverse.

use toothsayer_quantity::Angle;

use super::limits;
use crate::Error;

/// inv t = tan t - t (ISO 21771, 4.3.2), in rad.
///
/// Valid for 0 to 89.9 deg; outside that a range error.
/// inv 20 deg = 0.014 904.
pub fn inv(angle: Angle) -> Result<f64, Error> {
    limits::INVOLUTE_ANGLE_DEG.check(angle.to_deg())?;
    Ok(inv_rad(angle.to_rad()))
}

/// The angle whose involute function is `value`; valid for 0 to 100, outside that a range error.
pub fn inv_inverse(value: f64) -> Result<Angle, Error> {
    limits::INVOLUTE.check(value)?;
    Ok(Angle::rad(inv_inverse_rad(value)))
}

pub(super) fn inv_rad(angle_rad: f64) -> f64 {
    angle_rad.tan() - angle_rad
}

/// Newton's method on u - atan u = value with u = tan t.
///
/// The left side is convex and rises from 0, so from any u > 0 the second step lies above the root and the following
/// ones fall onto it; the start (3 value)^(1/3) is the series' first term and a lower bound.
pub(super) fn inv_inverse_rad(value: f64) -> f64 {
    if value <= 0.0 {
        return 0.0;
    }
    let mut u = (3.0 * value).cbrt();
    for _ in 0..60 {
        let square = u * u;
        let step = (u - u.atan() - value) * (1.0 + square) / square;
        u -= step;
        if step.abs() <= 4.0 * f64::EPSILON * u {
            break;
        }
    }
    u.atan()
}
