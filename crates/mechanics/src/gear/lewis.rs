//! Bending stress after Lewis, the handbook's independent check.

use super::limits;
use crate::Error;
use toothsayer_quantity::{Force, Length, Pressure, Speed};

/// Lewis form factor Y of 20 degree full-depth teeth by tooth count; the last row is the rack.
/// Source: Shigley's Mechanical Engineering Design, 9th edition, table 14-2 (from memory).
static TABLE: &[(f64, f64)] = &[
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
];
/// Form factor of the rack.
const RACK: f64 = 0.485;

/// Y for a tooth count from 12 up, linear in 1/z between the rows.
pub fn lewis_form_factor(teeth: f64) -> Result<f64, Error> {
    limits::LEWIS_TEETH.check(teeth)?;
    let upper = TABLE.partition_point(|(count, _)| *count < teeth);
    let (z0, y0) = TABLE[upper.saturating_sub(1)];
    let (inverse1, y1) = TABLE.get(upper).map_or((0.0, RACK), |(count, y)| (1.0 / count, *y));
    if teeth <= z0 {
        return Ok(y0);
    }
    Ok(y0 + (1.0 / teeth - 1.0 / z0) / (inverse1 - 1.0 / z0) * (y1 - y0))
}

/// How the teeth were made, for the velocity factor.
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

/// Velocity factor Kv >= 1 at a pitch-line speed V in m/s: (3.05 + V)/3.05 cast, (6.1 + V)/6.1 cut,
/// (3.56 + sqrt V)/3.56 hobbed, sqrt((5.56 + sqrt V)/5.56) ground (Shigley, equations 14-6, from memory).
pub fn velocity_factor(finish: ToothFinish, speed: Speed) -> Result<f64, Error> {
    let v = limits::SPEED_M_PER_S.check(speed.to_m_per_s())?;
    Ok(match finish {
        ToothFinish::Cast => (3.05 + v) / 3.05,
        ToothFinish::Cut => (6.1 + v) / 6.1,
        ToothFinish::Hobbed => (3.56 + v.sqrt()) / 3.56,
        ToothFinish::Ground => ((5.56 + v.sqrt()) / 5.56).sqrt(),
    })
}

/// The load of a Lewis check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LewisLoad {
    /// Tangential force, Ft.
    pub tangential_force: Force,
    /// Face width, b.
    pub face_width: Length,
    /// Module, m.
    pub module: Length,
    /// Velocity factor Kv.
    pub velocity_factor: f64,
}

/// sigma = Kv Ft/(b m Y) (Shigley, equation 14-8).
pub fn lewis_stress(teeth: f64, load: &LewisLoad) -> Result<Pressure, Error> {
    limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    limits::MODULE_MM.check(load.module.to_mm())?;
    let area_m2 = load.face_width.to_m() * load.module.to_m() * lewis_form_factor(teeth)?;
    Ok(Pressure::pa(load.velocity_factor * load.tangential_force.to_n() / area_m2))
}
