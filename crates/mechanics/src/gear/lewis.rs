//! The Lewis bending stress: an older and independent check beside ISO 6336.

use toothsayer_quantity::{Force, Length, Pressure, Speed};

use super::limits;
use crate::Error;

/// Lewis form factor Y by tooth count, 20 degree full depth teeth, load at the tip
/// (machine design handbooks, e.g. Shigley table 14-2; from memory). The last row's count stands for a rack.
static FORM_FACTORS: &[(f64, f64)] = &[
    (12.0, 0.245),
    (13.0, 0.261),
    (14.0, 0.277),
    (15.0, 0.290),
    (16.0, 0.296),
    (17.0, 0.303),
    (18.0, 0.309),
    (19.0, 0.314),
    (20.0, 0.322),
    (21.0, 0.328),
    (22.0, 0.331),
    (24.0, 0.337),
    (26.0, 0.346),
    (28.0, 0.353),
    (30.0, 0.359),
    (34.0, 0.371),
    (38.0, 0.384),
    (43.0, 0.397),
    (50.0, 0.409),
    (60.0, 0.422),
    (75.0, 0.435),
    (100.0, 0.447),
    (150.0, 0.460),
    (300.0, 0.472),
    (f64::INFINITY, 0.485),
];

/// The form factor Y, read from the table and interpolated between its rows; from 300 teeth on by 1/z to the rack.
///
/// For 20 degree full depth teeth of 12 teeth and more; fewer are a range error.
pub fn lewis_form_factor(teeth: u32) -> Result<f64, Error> {
    let z = limits::LEWIS_TEETH.check(f64::from(teeth))?;
    let upper = FORM_FACTORS.partition_point(|row| row.0 < z).max(1);
    let ((z_low, y_low), (z_high, y_high)) = (FORM_FACTORS[upper - 1], FORM_FACTORS[upper]);
    let share = if z_high.is_finite() { (z - z_low) / (z_high - z_low) } else { 1.0 - z_low / z };
    Ok(y_low + share * (y_high - y_low))
}

/// What the Lewis stress is computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LewisLoad {
    /// Tangential force Ft at the reference circle.
    pub tangential_force: Force,
    /// Face width b.
    pub face_width: Length,
    /// Module m.
    pub module: Length,
    /// Tooth count.
    pub teeth: u32,
    /// Velocity factor, 1 where the force is a simulated peak.
    pub velocity_factor: f64,
}

/// sigma = Kv Ft/(b m Y): bending without stress concentration, load at the tip.
pub fn lewis_stress(load: &LewisLoad) -> Result<Pressure, Error> {
    limits::TOOTH_FORCE_N.check(load.tangential_force.to_n())?;
    limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    limits::MODULE_MM.check(load.module.to_mm())?;
    limits::FACE_FACTOR.check(load.velocity_factor)?;
    let area_m2 = load.face_width.to_m() * load.module.to_m() * lewis_form_factor(load.teeth)?;
    Ok(Pressure::pa(load.velocity_factor * load.tangential_force.to_n() / area_m2))
}

/// How the teeth were made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToothFinish {
    /// Cast.
    Cast,
    /// Cut or milled.
    Cut,
    /// Hobbed or shaped.
    Hobbed,
    /// Shaved or ground.
    Ground,
}

/// Barth's velocity factor (handbooks, e.g. Shigley eq. 14-4 and 14-6, at least 1): (3.05 + v)/3.05 cast,
/// (6.1 + v)/6.1 cut, (3.56 + sqrt v)/3.56 hobbed, sqrt((5.56 + sqrt v)/5.56) ground, v in m/s.
pub fn velocity_factor(finish: ToothFinish, speed: Speed) -> Result<f64, Error> {
    let v = limits::SPEED_M_PER_S.check(speed.to_m_per_s())?;
    Ok(match finish {
        ToothFinish::Cast => (3.05 + v) / 3.05,
        ToothFinish::Cut => (6.1 + v) / 6.1,
        ToothFinish::Hobbed => (3.56 + v.sqrt()) / 3.56,
        ToothFinish::Ground => ((5.56 + v.sqrt()) / 5.56).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_table_is_read_back_and_the_factor_rises() {
        for pair in FORM_FACTORS.windows(2) {
            assert!(pair[1].0 > pair[0].0 && pair[1].1 > pair[0].1, "{pair:?}");
            assert_eq!(lewis_form_factor(pair[0].0 as u32).unwrap(), pair[0].1);
        }
    }
}
