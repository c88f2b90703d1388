//! Flank pressure and what the flank bears (ISO 6336-2): an indicator of wear.

use super::{Member, Pair, limits};
use crate::Error;
use crate::material::GearMaterial;
use std::f64::consts::PI;
use toothsayer_quantity::{Force, Hardness, Length, Pressure};

/// Product of the lubricant film factors ZL ZR Zv where none is given.
pub const FILM_FACTORS: f64 = 0.85;

/// The load on a flank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlankLoad {
    /// Force along the line of action, Fn.
    pub normal_force: Force,
    /// Common width of both faces, b.
    pub face_width: Length,
    /// Face load factor KHbeta, at least 1.
    pub k_h_beta: f64,
}

/// Zone factor ZH = sqrt(2 cos aw/(cos² a sin aw)), clause 6.
pub fn zone_factor(pair: &Pair) -> f64 {
    let (alpha, working) = (pair.spec().pressure_angle.to_rad(), pair.working_pressure_angle().to_rad());
    (2.0 * working.cos() / (alpha.cos().powi(2) * working.sin())).sqrt()
}

/// Elasticity factor ZE = sqrt(1/(pi ((1 - nu1²)/E1 + (1 - nu2²)/E2))), clause 7; sqrt(Pa).
pub fn elasticity_factor(pinion: &GearMaterial, spur: &GearMaterial) -> f64 {
    let soft = |material: &GearMaterial| (1.0 - material.poisson.powi(2)) / material.modulus.to_pa();
    (1.0 / (PI * (soft(pinion) + soft(spur)))).sqrt()
}

/// Single contact factor ZB = max(1, M1), clause 6; the contact ratio not below 1.
pub fn single_contact_factor(pair: &Pair) -> f64 {
    let reach = |member: Member| {
        let tooth = pair.tooth(member);
        ((tooth.tip_radius() / tooth.base_radius()).powi(2) - 1.0).max(0.0).sqrt()
    };
    let step = |member: Member| 2.0 * PI / pair.tooth(member).z();
    let eps = pair.contact_ratio().max(1.0);
    let inner = reach(Member::Pinion) - step(Member::Pinion);
    let outer = reach(Member::Spur) - (eps - 1.0) * step(Member::Spur);
    let product = inner * outer;
    if product > 0.0 { (pair.working_pressure_angle().to_rad().tan() / product.sqrt()).max(1.0) } else { 1.0 }
}

/// sigmaH = ZB ZH ZE Zeps sqrt(Ft/(d1 b) (u + 1)/u KHbeta), Ft = Fn cos alpha, Zeps = sqrt((4 - eps)/3), 1 for
/// eps <= 1 (ISO 6336-2:2006, clause 5).
pub fn flank_pressure(pair: &Pair, materials: [&GearMaterial; 2], load: &FlankLoad) -> Result<Pressure, Error> {
    let force_n = limits::TOOTH_FORCE_N.check(load.normal_force.to_n())?;
    limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    limits::FACE_FACTOR.check(load.k_h_beta)?;
    let eps = limits::STRENGTH_CONTACT_RATIO.check(pair.contact_ratio())?;
    let sharing = if eps > 1.0 { ((4.0 - eps) / 3.0).sqrt() } else { 1.0 };
    let u = pair.ratio();
    let tangential_n = force_n * pair.spec().pressure_angle.to_rad().cos();
    let d1_m = 2.0 * pair.tooth(Member::Pinion).reference_radius().to_m();
    let line = tangential_n / (d1_m * load.face_width.to_m()) * (u + 1.0) / u * load.k_h_beta;
    let factors = single_contact_factor(pair) * zone_factor(pair) * elasticity_factor(materials[0], materials[1]);
    Ok(Pressure::pa(factors * sharing * line.sqrt()))
}

/// Work hardening factor ZW of a flank against a harder, surface-hardened mate: 1.2 - (HB - 130)/1700 between
/// 130 and 470 HB, 1.2 below, 1 above and against any other mate (ISO 6336-2:2006, clause 13).
pub fn hardness_factor(own: Hardness, own_surface_hardened: bool, mate_surface_hardened: bool) -> f64 {
    const BRINELL_PER_VICKERS: f64 = 0.95;
    if own_surface_hardened || !mate_surface_hardened {
        return 1.0;
    }
    let brinell = own.to_hv() * BRINELL_PER_VICKERS;
    1.2 - (brinell.clamp(130.0, 470.0) - 130.0) / 1700.0
}

/// What a flank is asked to bear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlankDuty {
    /// Its hardness.
    pub hardness: Hardness,
    /// Load cycles; 1 for a single peak.
    pub cycles: f64,
    /// ZW.
    pub hardness_factor: f64,
    /// ZL ZR Zv.
    pub film_factors: f64,
}

/// sigmaHG = sigmaHlim ZNT ZW ZL ZR Zv (ISO 6336-2:2006, clause 5).
pub fn flank_strength(material: &GearMaterial, duty: &FlankDuty) -> Result<Pressure, Error> {
    limits::FILM_FACTORS.check(duty.film_factors)?;
    let life = material.z_nt(duty.cycles);
    Ok(material.sigma_h_lim(duty.hardness) * (life * duty.hardness_factor * duty.film_factors))
}
