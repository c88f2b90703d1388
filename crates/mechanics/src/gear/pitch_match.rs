//! Two gears run together only on one base pitch.

use toothsayer_quantity::{Angle, Length};

use super::{GearError, limits};
use crate::Error;

/// Relative slack: a module is a caliper's or a catalogue's number, exact to its digits.
const SAME: f64 = 1e-9;

/// What decides a gear's base pitch, pi m cos alpha.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PitchOf {
    /// Module.
    pub module: Length,
    /// Pressure angle.
    pub pressure_angle: Angle,
}

impl PitchOf {
    /// Base pitch pi m cos alpha (ISO 21771, 4.4).
    pub fn base_pitch(&self) -> Length {
        self.module * (std::f64::consts::PI * self.pressure_angle.to_rad().cos())
    }
}

/// Refuses gears of different module or pressure angle, with both base pitches and the pitch error per tooth.
pub fn check_same_pitch(a: PitchOf, b: PitchOf) -> Result<(), Error> {
    for pitch in [a, b] {
        limits::MODULE_MM.check(pitch.module.to_mm())?;
        limits::PRESSURE_ANGLE_DEG.check(pitch.pressure_angle.to_deg())?;
    }
    let same = |ratio: f64| (ratio - 1.0).abs() <= SAME;
    if same(a.module / b.module) && same(a.pressure_angle / b.pressure_angle) {
        return Ok(());
    }
    let (base_pitch_a_m, base_pitch_b_m) = (a.base_pitch().to_m(), b.base_pitch().to_m());
    let error_per_tooth_m = base_pitch_b_m - base_pitch_a_m;
    Err(GearError::PitchMismatch { base_pitch_a_m, base_pitch_b_m, error_per_tooth_m }.into())
}
