//! Teeth worn past a point: their flanks meet below the old tip, so the tooth is shorter.

use std::f64::consts::PI;

use toothsayer_quantity::Length;

use super::involute::{inv_inverse_rad, inv_rad};
use super::{GearError, ToothSpec, limits};
use crate::Error;

/// Left of the height so that rounding never makes the point negative, in modules.
const ROUNDING: f64 = 1e-9;

/// Tip shortening k of a gear whose thinned flanks meet inside its nominal tip circle, in modules; the gear's own where
/// its tip keeps some width, or would be pointed without any thinning.
///
/// Flanks meet where s = 0: inv t = s_ref/(2 r_ref) + inv alpha, r = rb/cos t; k = (ra - r)/m (ISO 21771, 4 and 5).
/// Errors: a thinning out of its range, and one that leaves no tooth outside the base circle.
pub fn worn_tip_shortening(spec: &ToothSpec) -> Result<f64, Error> {
    let gear = spec.gear;
    limits::THINNING_MODULES.check(gear.thinning / spec.module)?;
    let point_m = |thinning: Length| point_radius_m(&ToothSpec { gear: super::Gear { thinning, ..gear }, ..*spec });
    let m = spec.module.to_m();
    let reference_m = 0.5 * m * f64::from(gear.teeth);
    let tip_m = reference_m + m * (spec.rack.addendum + gear.shift - gear.tip_shortening);
    let pointed_when_new = point_m(Length::ZERO).is_some_and(|radius_m| radius_m < tip_m);
    let Some(radius_m) = point_m(gear.thinning) else {
        let base_m = reference_m * spec.pressure_angle.to_rad().cos();
        let root_m = reference_m - m * (spec.rack.dedendum - gear.shift);
        return Err(GearError::NoFlank { teeth: gear.teeth, tip_m: base_m, base_m, root_m }.into());
    };
    if pointed_when_new || radius_m >= tip_m {
        return Ok(gear.tip_shortening);
    }
    Ok(gear.tip_shortening + (tip_m - radius_m) / m + ROUNDING)
}

/// Where the two flanks of a tooth meet; none where nothing of it stands outside the base circle.
fn point_radius_m(spec: &ToothSpec) -> Option<f64> {
    let (m, alpha_rad, gear) = (spec.module.to_m(), spec.pressure_angle.to_rad(), spec.gear);
    let reference_m = 0.5 * m * f64::from(gear.teeth);
    let thickness_m = m * (PI / 2.0 + 2.0 * gear.shift * alpha_rad.tan()) - gear.thinning.to_m();
    let base_half_angle_rad = thickness_m / (2.0 * reference_m) + inv_rad(alpha_rad);
    (base_half_angle_rad > 0.0).then(|| reference_m * alpha_rad.cos() / inv_inverse_rad(base_half_angle_rad).cos())
}
