//! Span over several teeth: what a caliper or plate micrometer reads, and what wear it tells of.

use std::f64::consts::PI;

use toothsayer_quantity::Length;

use super::involute::inv_rad;
use super::{GearError, Tooth, limits};
use crate::Error;

/// A span measurement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Teeth between the jaws.
    pub teeth: u32,
    /// Distance between the jaws, Wk.
    pub length: Length,
}

/// How many teeth to span so that the jaws touch near half height (ISO 21771, annex; handbook form):
/// k = z/pi (tan ax - inv alpha - 2 x tan(alpha)/z) + 0.5, rounded, cos ax = z cos alpha/(z + 2x).
pub fn teeth_to_span(tooth: &Tooth) -> u32 {
    let (z, x, alpha) = (tooth.z(), tooth.spec().gear.shift, tooth.alpha_rad);
    let touch_rad = (z * alpha.cos() / (z + 2.0 * x)).min(1.0).acos();
    let k = z / PI * (touch_rad.tan() - inv_rad(alpha) - 2.0 * x * alpha.tan() / z) + 0.5;
    // A hair up, so that the classic k = z/9 + 0.5 rounds its exact halves upward.
    (k + 1e-9).round().clamp(1.0, z) as u32
}

/// Span over `teeth` teeth: Wk = m cos alpha (pi (k - 0.5) + z inv alpha) + 2 x m sin alpha - As cos alpha.
///
/// Error where the jaws would touch off the involute (sqrt(rb^2 + (Wk/2)^2) outside form and tip circle).
pub fn span_measurement(tooth: &Tooth, teeth: u32) -> Result<Span, Error> {
    let length_m = full_span_m(tooth, teeth) - tooth.thinning_m() * tooth.alpha_rad.cos();
    check_touch(tooth, length_m)?;
    Ok(Span { teeth, length: Length::m(length_m) })
}

/// The thinning As that a measured span tells of: (Wk without thinning - reading)/cos alpha.
///
/// The tooth's own thinning is not read. Errors: a reading out of range or off the involute.
pub fn thinning_from_span(tooth: &Tooth, measured: Span) -> Result<Length, Error> {
    limits::SPAN_READING_MM.check(measured.length.to_mm())?;
    check_touch(tooth, measured.length.to_m())?;
    Ok(Length::m((full_span_m(tooth, measured.teeth) - measured.length.to_m()) / tooth.alpha_rad.cos()))
}

fn full_span_m(tooth: &Tooth, teeth: u32) -> f64 {
    let (alpha, x) = (tooth.alpha_rad, tooth.spec().gear.shift);
    let in_modules = alpha.cos() * (PI * (f64::from(teeth) - 0.5) + tooth.z() * inv_rad(alpha)) + 2.0 * x * alpha.sin();
    tooth.module_m * in_modules
}

fn check_touch(tooth: &Tooth, length_m: f64) -> Result<(), GearError> {
    let radius_m = tooth.base_m.hypot(0.5 * length_m);
    if length_m > 0.0 && (tooth.form_m..=tooth.tip_m).contains(&radius_m) {
        return Ok(());
    }
    Err(GearError::OffFlank { radius_m, from_m: tooth.form_m, to_m: tooth.tip_m })
}
