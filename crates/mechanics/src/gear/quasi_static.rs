//! Tooth forces and the dynamic factor without a simulation.

use super::{Member, Pair, limits};
use crate::Error;
use toothsayer_quantity::{Force, Speed, Torque};

/// Forces on one tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothForces {
    /// At the reference circle, Ft = 2 T/d.
    pub tangential: Force,
    /// Along the line of action, Fn = T/rb.
    pub normal: Force,
    /// Pushing the axes apart, Fr = Fn sin aw.
    pub radial: Force,
}

/// Forces of a torque on the pinion.
pub fn tooth_forces(pair: &Pair, pinion_torque: Torque) -> Result<ToothForces, Error> {
    let torque_n_m = limits::TORQUE_N_M.check(pinion_torque.to_n_m())?;
    let tooth = pair.tooth(Member::Pinion);
    let normal_n = torque_n_m / tooth.base_radius().to_m();
    Ok(ToothForces {
        tangential: Force::n(torque_n_m / tooth.reference_radius().to_m()),
        normal: Force::n(normal_n),
        radial: Force::n(normal_n * pair.working_pressure_angle().to_rad().sin()),
    })
}

/// K1 by accuracy grade 6 to 12 (ISO 6336-1:2006, table 8, spur gears, from memory).
static K1: [f64; 7] = [14.9, 26.8, 39.1, 52.8, 76.6, 102.6, 146.3];
/// K2 of spur gears.
const K2: f64 = 0.0193;
/// Line load below which the method is not stated, N/mm.
const LEAST_LINE_LOAD_N_MM: f64 = 100.0;

/// What the dynamic factor depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PitchLine {
    /// Accuracy grade, ISO 1328-1, 6 to 12.
    pub grade: u8,
    /// Pitch-line speed, v.
    pub speed: Speed,
    /// KA Ft/b, N/mm.
    pub line_load_n_mm: f64,
}

/// The dynamic factor, and whether the teeth are loaded enough for the method.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DynamicFactor {
    /// Kv.
    pub k_v: f64,
    /// Whether KA Ft/b reaches 100 N/mm; small light gears often lie below.
    pub within_validity: bool,
}

/// Kv = 1 + (K1/(KA Ft/b) + K2) (v z1/100) K3 sqrt(u²/(1 + u²)), K3 = 2.0 up to 0.2 of the argument
/// (v z1/100) sqrt(u²/(1 + u²)), else 2.071 - 0.357 of it; KA Ft/b not below 100 N/mm (ISO 6336-1:2006, method C).
pub fn dynamic_factor(pair: &Pair, line: &PitchLine) -> Result<DynamicFactor, Error> {
    let grade = limits::GRADE.check(f64::from(line.grade))?;
    let v = limits::SPEED_M_PER_S.check(line.speed.to_m_per_s())?;
    let u = pair.ratio();
    let argument = v * pair.tooth(Member::Pinion).z() / 100.0 * (u * u / (1.0 + u * u)).sqrt();
    let k3 = if argument <= 0.2 { 2.0 } else { 2.071 - 0.357 * argument };
    let k1 = K1[(grade as usize) - 6];
    let k_v = 1.0 + (k1 / line.line_load_n_mm.max(LEAST_LINE_LOAD_N_MM) + K2) * argument * k3.max(0.0);
    Ok(DynamicFactor { k_v, within_validity: line.line_load_n_mm >= LEAST_LINE_LOAD_N_MM })
}
