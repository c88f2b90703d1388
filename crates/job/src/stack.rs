//! Where the gears lie along the motor's shaft, from the lengths that stand on it; m, from the mount's face outwards.

/// Width on which the pinion's and the spur's faces meet, m; below 0 they miss each other.
///
/// Measured where `value` has `stack.overlap`, else from the ends of both faces.
pub(crate) fn overlap_m<E>(value: impl Fn(&'static str) -> Result<f64, E>) -> Result<f64, E> {
    if let Ok(measured) = value("stack.overlap") {
        return Ok(measured);
    }
    let pinion_start = value("stack.spacer")? + value("stack.pinion_face_start")?;
    let spur_start = value("stack.spur_face_start")?;
    let pinion_end = pinion_start + value("gears.pinion.face_width")?;
    let spur_end = spur_start + value("gears.spur.face_width")?;
    Ok(pinion_end.min(spur_end) - pinion_start.max(spur_start))
}

/// Gap between the pinion's outer end and the bearing in the cover, m; below 0 they press on each other.
///
/// Measured where `value` has `stack.bearing_gap`, else what the pinion leaves of the room before the bearing.
pub(crate) fn gap_m<E>(value: impl Fn(&'static str) -> Result<f64, E>) -> Result<f64, E> {
    if let Ok(measured) = value("stack.bearing_gap") {
        return Ok(measured);
    }
    Ok(value("stack.cover_bearing")? - value("stack.spacer")? - value("stack.pinion_length")?)
}
