//! Root bending stress and what the root bears (ISO 6336-3, method B).

use toothsayer_quantity::{Force, Hardness, Length, Pressure};

use super::{Pair, ToothRoot, limits};
use crate::Error;
use crate::material::GearMaterial;

/// Stress correction factor YST of the standard's test gears.
pub(super) const TEST_GEAR_STRESS_FACTOR: f64 = 2.0;
/// Mean stress factor YM for a tooth loaded on both flanks (ISO 6336-3, annex B).
const BOTH_FLANKS: f64 = 0.7;
/// Contact ratio above which deep teeth share better (ISO 6336-3, clause 10, from memory).
const DEEP_TOOTH: f64 = 2.05;

/// The load on a tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootLoad {
    /// Force along the line of action, Fn.
    pub normal_force: Force,
    /// Width that carries, b: the common width of both faces.
    pub face_width: Length,
    /// Face load factor KFbeta, at least 1.
    pub k_f_beta: f64,
    /// Rim factor YB times deep tooth factor YDT; 1 for solid gears of ordinary accuracy.
    pub rim_and_depth: f64,
}

/// sigmaF = Ft/(b m) YF YS KFbeta YB YDT with Ft = Fn cos alpha (ISO 6336-3, clause 5, KA = Kv = 1 in a peak force).
pub fn root_stress(pair: &Pair, root: &ToothRoot, load: &RootLoad) -> Result<Pressure, Error> {
    limits::TOOTH_FORCE_N.check(load.normal_force.to_n())?;
    limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    limits::FACE_FACTOR.check(load.k_f_beta)?;
    limits::RIM_AND_DEPTH.check(load.rim_and_depth)?;
    let tangential_n = load.normal_force.to_n() * pair.spec().pressure_angle.to_rad().cos();
    let nominal_pa = tangential_n / (load.face_width.to_m() * pair.spec().module.to_m());
    Ok(Pressure::pa(nominal_pa * root.form_factor * root.stress_factor * load.k_f_beta * load.rim_and_depth))
}

/// The ring that carries the teeth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rim {
    /// Rim thickness below the tooth root, sR.
    pub thickness: Length,
    /// Tooth height, ht.
    pub tooth_height: Length,
}

/// Rim factor YB of an external gear (ISO 6336-3, clause 9, from memory): 1 from sR/ht = 1.2 up,
/// 1.6 ln(2.242 ht/sR) below; under 0.5 a range error, as the standard says to avoid it.
pub fn rim_factor(rim: Rim) -> Result<f64, Error> {
    let ratio = limits::RIM_RATIO.check(rim.thickness / rim.tooth_height)?;
    Ok(if ratio >= 1.2 { 1.0 } else { 1.6 * (2.242 / ratio).ln() })
}

/// Deep tooth factor YDT (ISO 6336-3, clause 10, from memory): 2.366 - 0.666 eps above 2.05 for accuracy grades up
/// to 4, else 1. Shop gears are coarser, so that it is 1 for them.
pub fn deep_tooth_factor(contact_ratio: f64, grade_4_or_finer: bool) -> Result<f64, Error> {
    let eps = limits::STRENGTH_CONTACT_RATIO.check(contact_ratio)?;
    Ok(if grade_4_or_finer && eps > DEEP_TOOTH { 2.366 - 0.666 * eps } else { 1.0 })
}

/// What the root's strength is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootDuty {
    /// Hardness of the tooth; not read for materials without a hardness line.
    pub hardness: Hardness,
    /// Load cycles of one tooth; 1 for a single peak.
    pub cycles: f64,
    /// Whether both flanks are loaded in turn; a question of endurance, so false for a static peak.
    pub both_flanks: bool,
}

/// sigmaFG = sigmaFlim YST YNT YM (ISO 6336-3, clause 5): YST = 2, YNT from the material's line, YM = 0.7 where both
/// flanks are loaded, else 1.
///
/// YdeltarelT, YRrelT and YX are taken as 1: static peaks, modules below 5 mm, an ordinary finish.
pub fn root_strength(material: &GearMaterial, duty: &RootDuty) -> Result<Pressure, Error> {
    let endurance = material.sigma_f_lim(duty.hardness)?;
    let life = material.y_nt(duty.cycles)?;
    let mean = if duty.both_flanks { BOTH_FLANKS } else { 1.0 };
    Ok(endurance * (TEST_GEAR_STRESS_FACTOR * life * mean))
}
