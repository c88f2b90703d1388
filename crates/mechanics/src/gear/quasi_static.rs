//! Tooth forces from a torque, and the dynamic factor for the path without a simulation.

use toothsayer_quantity::{Force, Length, Speed, Torque};

use super::{GearError, Member, Pair, limits};
use crate::Error;

/// The forces on a tooth; T = Fn rb = Ft d/2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothForces {
    /// Along the line of action, Fn = T/rb.
    pub normal: Force,
    /// At the reference circle, Ft = 2 T/d = Fn cos alpha.
    pub tangential: Force,
    /// Pushing the axes apart, Fr = Fn sin aw.
    pub radial: Force,
}

impl ToothForces {
    /// From the force along the line of action (ISO 6336-1, clause 4).
    pub fn from_normal(pair: &Pair, normal: Force) -> Result<Self, Error> {
        limits::TOOTH_FORCE_N.check(normal.to_n())?;
        Ok(Self {
            normal,
            tangential: normal * pair.spec().pressure_angle.to_rad().cos(),
            radial: normal * pair.working_pressure_angle().to_rad().sin(),
        })
    }

    /// From the torque on one of the gears.
    pub fn from_torque(pair: &Pair, member: Member, torque: Torque) -> Result<Self, Error> {
        limits::TORQUE_N_M.check(torque.to_n_m())?;
        Self::from_normal(pair, Force::n(torque.to_n_m() / pair.tooth(member).base_radius().to_m()))
    }
}

/// K1 by accuracy grade 6 to 12, spur gears (ISO 6336-1, method C; from memory).
const K1: [f64; 7] = [14.9, 26.8, 39.1, 52.8, 76.6, 102.6, 146.3];
/// K2 of spur gears.
const K2: f64 = 0.0193;
/// Least load per face width that the method takes, N/mm.
const LEAST_LINE_LOAD: f64 = 100.0;
/// The end of the method for spur gears, m/s (from memory); beyond it K3 would make the factor fall with speed.
const FASTEST_M_PER_S: f64 = 3.0;

/// A running mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DynamicLoad {
    /// Accuracy grade after ISO 1328, 6 to 12.
    pub accuracy_grade: u8,
    /// Application factor KA.
    pub application_factor: f64,
    /// Tangential force Ft.
    pub tangential_force: Force,
    /// Common width of both faces, b.
    pub face_width: Length,
    /// Speed at the pitch circle, v.
    pub pitch_line_speed: Speed,
}

/// The dynamic factor and whether the method holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DynamicFactor {
    /// Kv.
    pub k_v: f64,
    /// Whether KA Ft/b lay below 100 N/mm and was raised to it: light gears are outside the method, and to be told so.
    pub at_load_floor: bool,
}

/// Kv = 1 + (K1/(KA Ft/b) + K2) w K3, w = v z1/100 sqrt(u^2/(1 + u^2)) (ISO 6336-1, method C, spur gears).
///
/// K3 = 2 for w <= 0.2, else 2.071 - 0.357 w; KA Ft/b is taken at 100 N/mm where it is less.
/// Errors: ranges; w above 3 m/s. Not for peaks from the driveline's simulation, which hold the dynamics already.
pub fn dynamic_factor(pair: &Pair, load: &DynamicLoad) -> Result<DynamicFactor, Error> {
    let grade = limits::ACCURACY_GRADE.check(f64::from(load.accuracy_grade))?;
    let ka = limits::APPLICATION_FACTOR.check(load.application_factor)?;
    let force_n = limits::TOOTH_FORCE_N.check(load.tangential_force.to_n())?;
    let width_mm = limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    let speed = limits::SPEED_M_PER_S.check(load.pitch_line_speed.to_m_per_s())?;
    let u = pair.ratio();
    let w = speed * pair.tooth(Member::Pinion).z() / 100.0 * u / 1f64.hypot(u);
    if w > FASTEST_M_PER_S {
        return Err(GearError::TooFastForMethodC { speed_m_per_s: w, limit_m_per_s: FASTEST_M_PER_S }.into());
    }
    let line_load = ka * force_n / width_mm;
    let k3 = if w <= 0.2 { 2.0 } else { 2.071 - 0.357 * w };
    let k1 = K1[(grade - 6.0) as usize];
    let k_v = 1.0 + (k1 / line_load.max(LEAST_LINE_LOAD) + K2) * w * k3;
    Ok(DynamicFactor { k_v, at_load_floor: line_load < LEAST_LINE_LOAD })
}
