//! Size over pins (or balls) laid into opposite gaps.

use std::f64::consts::PI;

use toothsayer_quantity::Length;

use super::involute::{inv_inverse_rad, inv_rad};
use super::{GearError, Tooth, limits};
use crate::Error;

/// The pin that touches the flanks at the radius r + x m, near half height: D = 2 rb (tan phi - tan ay),
/// phi = tan ay + half gap angle at the base circle, cos ay = rb/(r + x m).
pub fn best_pin(tooth: &Tooth) -> Result<Length, Error> {
    let touch_m = (tooth.reference_m + tooth.spec().gear.shift * tooth.module_m).clamp(tooth.form_m, tooth.tip_m);
    let touch_tan = (tooth.base_m / touch_m).min(1.0).acos().tan();
    let phi_rad = touch_tan + PI / tooth.z() - tooth.base_half_angle_rad;
    let pin_m = 2.0 * tooth.base_m * (phi_rad.tan() - touch_tan);
    limits::PIN_MODULES.check(pin_m / tooth.module_m)?;
    Ok(Length::m(pin_m))
}

/// Size over two pins of diameter D (ISO 21771, annex; handbook form).
///
/// inv phi = D/db + (half tooth angle at the base circle) - pi/z, M = db/cos phi + D for even z,
/// db cos(90 deg/z)/cos phi + D for odd z. Thinning counts through the tooth's angle.
/// Errors: pin out of range, touching off the involute, or below the tips.
pub fn size_over_pins(tooth: &Tooth, pin: Length) -> Result<Length, Error> {
    limits::PIN_MODULES.check(pin.to_m() / tooth.module_m)?;
    let inv_phi = pin.to_m() / (2.0 * tooth.base_m) + tooth.base_half_angle_rad - PI / tooth.z();
    let phi_rad = inv_inverse_rad(inv_phi);
    check_touch(tooth, pin.to_m(), phi_rad)?;
    Ok(Length::m(2.0 * tooth.base_m * odd_factor(tooth) / phi_rad.cos() + pin.to_m()))
}

/// The thinning As that a measured size over pins tells of; the tooth's own thinning is not read.
///
/// cos phi = db (cos(90 deg/z) for odd z)/(M - D), then size over pins read backwards.
pub fn thinning_from_pins(tooth: &Tooth, pin: Length, size: Length) -> Result<Length, Error> {
    limits::PIN_MODULES.check(pin.to_m() / tooth.module_m)?;
    let span_m = (size - pin).to_m();
    let cos_phi = 2.0 * tooth.base_m * odd_factor(tooth) / span_m;
    if !(0.0..1.0).contains(&cos_phi) {
        let radius_m = 0.5 * span_m;
        return Err(GearError::OffFlank { radius_m, from_m: tooth.form_m, to_m: tooth.tip_m }.into());
    }
    let phi_rad = cos_phi.acos();
    check_touch(tooth, pin.to_m(), phi_rad)?;
    let half_angle_rad = inv_rad(phi_rad) + PI / tooth.z() - pin.to_m() / (2.0 * tooth.base_m);
    let missing_rad = tooth.base_half_angle_rad - half_angle_rad;
    Ok(Length::m(2.0 * tooth.reference_m * missing_rad) + tooth.spec().gear.thinning)
}

/// Pins of an odd gear do not face each other.
fn odd_factor(tooth: &Tooth) -> f64 {
    if tooth.teeth().is_multiple_of(2) { 1.0 } else { (PI / (2.0 * tooth.z())).cos() }
}

fn check_touch(tooth: &Tooth, pin_m: f64, phi_rad: f64) -> Result<(), GearError> {
    let line_m = tooth.base_m * phi_rad.tan() - 0.5 * pin_m;
    let radius_m = tooth.base_m.hypot(line_m);
    if line_m < 0.0 || !(tooth.form_m..=tooth.tip_m).contains(&radius_m) {
        let radius_m = if line_m < 0.0 { tooth.base_m } else { radius_m };
        return Err(GearError::OffFlank { radius_m, from_m: tooth.form_m, to_m: tooth.tip_m });
    }
    let below_m = tooth.tip_m - tooth.base_m / phi_rad.cos() - 0.5 * pin_m;
    if below_m >= 0.0 { Err(GearError::PinTooSmall { pin_m, below_m }) } else { Ok(()) }
}
