//! Flank pressure and what the flank bears (ISO 6336-2, method B): the sign of wear.

use std::f64::consts::PI;

use toothsayer_quantity::{Force, Hardness, Length, Pressure};

use super::{GearError, Member, Pair, limits};
use crate::Error;
use crate::material::{ElasticPair, GearMaterial};

/// Product of the lubricant film factors ZL ZR Zv where nothing better is known.
pub const FILM_FACTORS: f64 = 0.85;
/// Brinell over Vickers hardness below 650 HV (ISO 18265, table A.1).
const BRINELL_PER_VICKERS: f64 = 0.95;

/// The load on a pair's flanks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlankLoad {
    /// Force along the line of action, Fn.
    pub normal_force: Force,
    /// Common width of both faces, b.
    pub face_width: Length,
    /// Face load factor KHbeta, at least 1.
    pub k_h_beta: f64,
    /// Elasticity of both gears.
    pub elastic: ElasticPair,
}

/// sigmaH = ZB ZH ZE Zeps sqrt(Ft/(d1 b) (u + 1)/u KHbeta) with Ft = Fn cos alpha (ISO 6336-2, clause 5).
///
/// Zeps = sqrt((4 - eps)/3), 1 for eps <= 1. Valid for eps below 2.5; a mate that reaches inside a base circle is an
/// error, see [`single_contact_factor`].
pub fn flank_pressure(pair: &Pair, load: &FlankLoad) -> Result<Pressure, Error> {
    limits::TOOTH_FORCE_N.check(load.normal_force.to_n())?;
    limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    limits::FACE_FACTOR.check(load.k_h_beta)?;
    let eps = limits::STRENGTH_CONTACT_RATIO.check(pair.contact_ratio())?;
    let sharing = if eps <= 1.0 { 1.0 } else { ((4.0 - eps) / 3.0).sqrt() };
    let factors = single_contact_factor(pair)? * zone_factor(pair) * elasticity_factor(&load.elastic)? * sharing;
    let tangential_n = load.normal_force.to_n() * pair.spec().pressure_angle.to_rad().cos();
    let d1_m = 2.0 * pair.tooth(Member::Pinion).reference_radius().to_m();
    let u = pair.ratio();
    let line_pa = tangential_n / (d1_m * load.face_width.to_m()) * (u + 1.0) / u;
    Ok(Pressure::pa(factors * (line_pa * load.k_h_beta).sqrt()))
}

/// ZH = sqrt(2 cos aw/(cos^2 alpha sin aw)) (ISO 6336-2, clause 6).
pub fn zone_factor(pair: &Pair) -> f64 {
    let (alpha, working) = (pair.spec().pressure_angle.to_rad(), pair.working_pressure_angle().to_rad());
    (2.0 * working.cos() / (alpha.cos().powi(2) * working.sin())).sqrt()
}

/// ZE = sqrt(1/(pi ((1 - nu1^2)/E1 + (1 - nu2^2)/E2))) in sqrt(Pa) (ISO 6336-2, clause 7); a thousandth of it is in
/// sqrt(N/mm2): 189.8 for steel on steel.
pub fn elasticity_factor(elastic: &ElasticPair) -> Result<f64, Error> {
    let mut compliance = 0.0;
    for part in [elastic.pinion, elastic.spur] {
        limits::ELASTIC_MODULUS_GPA.check(part.modulus.to_gpa())?;
        limits::POISSON.check(part.poisson)?;
        compliance += (1.0 - part.poisson.powi(2)) / part.modulus.to_pa();
    }
    Ok((1.0 / (PI * compliance)).sqrt())
}

/// ZB = max(1, M1), M1 = tan aw/sqrt([sqrt((ra1/rb1)^2 - 1) - 2 pi/z1] [sqrt((ra2/rb2)^2 - 1) - (eps - 1) 2 pi/z2])
/// (ISO 6336-2, clause 6): from the pitch point to the pinion's inner point of single contact, eps not below 1.
///
/// Error where that point lies inside a base circle (pinions of very few teeth).
pub fn single_contact_factor(pair: &Pair) -> Result<f64, Error> {
    let eps = pair.contact_ratio().max(1.0);
    let roll = |member: Member, pitches: f64| {
        let tooth = pair.tooth(member);
        let roll_rad = tooth.tip_line_m() / tooth.base_m - pitches * 2.0 * PI / tooth.z();
        if roll_rad > 0.0 { Ok(roll_rad) } else { Err(GearError::ContactInsideBase { member }) }
    };
    let product = roll(Member::Pinion, 1.0)? * roll(Member::Spur, eps - 1.0)?;
    Ok((pair.working_pressure_angle().to_rad().tan() / product.sqrt()).max(1.0))
}

/// What a flank's strength is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlankDuty {
    /// Hardness of the flank; not read for materials without a hardness line.
    pub hardness: Hardness,
    /// Load cycles of one flank; 1 for a single peak.
    pub cycles: f64,
    /// Whether the mate is surface hardened, and this gear runs as the softer spur against it.
    pub hard_mate: bool,
    /// Lubricant film factors ZL ZR Zv; [`FILM_FACTORS`] where nothing better is known.
    pub film_factors: f64,
}

/// sigmaHG = sigmaHlim ZNT ZW ZL ZR Zv (ISO 6336-2, clause 5; size factor 1).
pub fn flank_strength(material: &GearMaterial, duty: &FlankDuty) -> Result<Pressure, Error> {
    let film = limits::FILM_FACTORS.check(duty.film_factors)?;
    let hardening = if duty.hard_mate { hardness_factor(material, duty.hardness) } else { 1.0 };
    Ok(material.sigma_h_lim(duty.hardness)? * (material.z_nt(duty.cycles)? * hardening * film))
}

/// Work hardening factor ZW of a softer gear against a surface hardened one (ISO 6336-2, clause 13, smooth pinion):
/// 1.2 - (HB - 130)/1700, 1.2 below 130 HB, 1 above 470 HB; 1 for surface hardened gears and for materials without a
/// hardness line (sintered, plastic).
pub fn hardness_factor(material: &GearMaterial, hardness: Hardness) -> f64 {
    if material.surface_hardened || material.hardness.is_none() {
        return 1.0;
    }
    let brinell = hardness.to_hv() * BRINELL_PER_VICKERS;
    if brinell > 470.0 { 1.0 } else { 1.2 - (brinell.max(130.0) - 130.0) / 1700.0 }
}
