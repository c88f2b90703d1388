//! How unevenly a tilted face carries (ISO 6336-1, method C for a known misalignment).

use toothsayer_quantity::{Force, Hardness, Length, Pressure, Speed};

use super::{MeshStiffness, Pair, limits};
use crate::Error;
use crate::material::GearMaterial;

/// A flank as running-in knows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshFlank {
    /// Whether the surface is hardened (case, induction, nitrided): such flanks run in little.
    pub surface_hardened: bool,
    /// Flank endurance limit sigmaHlim.
    pub sigma_h_lim: Pressure,
}

impl MeshFlank {
    /// The flank of a material at a hardness.
    pub fn of(material: &GearMaterial, hardness: Hardness) -> Result<Self, Error> {
        let sigma_h_lim = material.sigma_h_lim(hardness)?;
        Ok(Self { surface_hardened: material.surface_hardened, sigma_h_lim })
    }

    /// What running-in takes of a misalignment, y, in um (ISO 6336-1, clause 7; the speed limits from memory).
    fn run_in_um(&self, misalignment_um: f64, speed_m_per_s: f64) -> f64 {
        if self.surface_hardened {
            return (0.15 * misalignment_um).min(6.0);
        }
        let limit_mpa = self.sigma_h_lim.to_mpa();
        let most_um = match speed_m_per_s {
            v if v > 10.0 => 12_800.0 / limit_mpa,
            v if v > 5.0 => 25_600.0 / limit_mpa,
            _ => f64::INFINITY,
        };
        (320.0 / limit_mpa * misalignment_um).min(misalignment_um).min(most_um)
    }
}

/// A pair's load across its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceLoad {
    /// Tangential force Ft.
    pub tangential_force: Force,
    /// Common width of both faces, b.
    pub face_width: Length,
    /// Misalignment over the face from steady tilt: shaft slope, cover and mount tilt. Runs in.
    pub steady_misalignment: Length,
    /// Misalignment over the face from a rocking motor, b times its tilt times sin aw. Does not run in.
    pub rocking_misalignment: Length,
    /// The pinion's flank.
    pub pinion: MeshFlank,
    /// The spur's flank.
    pub spur: MeshFlank,
    /// Whether the gears have run together.
    pub run_in: bool,
    /// Speed at the pitch circle when they ran in.
    pub pitch_line_speed: Speed,
}

/// What the misalignment does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceFactors {
    /// KHbeta: largest over mean load across the face, for the flank.
    pub k_h_beta: f64,
    /// KFbeta: the same for the root.
    pub k_f_beta: f64,
    /// Misalignment left after running-in, Fbetay with the rocking part.
    pub misalignment: Length,
}

/// KHbeta and KFbeta of a misaligned face.
///
/// Fbetay = Fbeta - (y1 + y2)/2 with y = 320/sigmaHlim Fbeta (at most Fbeta, at most 25600/sigmaHlim um above 5 m/s and
/// 12800/sigmaHlim um above 10 m/s), 0.15 Fbeta (at most 6 um) for surface hardened flanks; the rocking part is added.
/// r = Fbetay cgamma_beta/(2 Ft/b): KHbeta = 2 sqrt r for r >= 1, else 1 + r.
/// KFbeta = KHbeta^NF, NF = 1/(1 + h/b + (h/b)^2), h = (haP + hfP) m, b/h not below 3.
/// `stiffness` is the pair's unscaled one; its low-load scaling is applied here.
/// Without load there is nothing to spread: both factors are 1. Errors: ranges.
pub fn face_factors(pair: &Pair, stiffness: &MeshStiffness, load: &FaceLoad) -> Result<FaceFactors, Error> {
    let force_n = limits::TOOTH_FORCE_N.check(load.tangential_force.to_n())?;
    let width_mm = limits::FACE_WIDTH_MM.check(load.face_width.to_mm())?;
    let left_um = misalignment_left_um(load)?;
    let line_load = force_n / width_mm;
    let k_h_beta = if line_load > 0.0 {
        let c = stiffness.at_line_load(line_load)?.c_gamma_beta_n_per_mm_um;
        overload(left_um * c / (2.0 * line_load))
    } else {
        1.0
    };
    let rack = pair.spec().rack;
    let height_mm = (rack.addendum + rack.dedendum) * pair.spec().module.to_mm();
    let k_f_beta = k_h_beta.powf(root_exponent(height_mm / width_mm));
    Ok(FaceFactors { k_h_beta, k_f_beta, misalignment: Length::um(left_um) })
}

/// Largest over mean load, from the misalignment's share of twice the mean deflection: above 1 the load no longer
/// reaches across the face.
fn overload(share: f64) -> f64 {
    if share >= 1.0 { 2.0 * share.sqrt() } else { 1.0 + share }
}

fn root_exponent(height_over_width: f64) -> f64 {
    let h = height_over_width.min(1.0 / 3.0);
    1.0 / (1.0 + h + h * h)
}

fn misalignment_left_um(load: &FaceLoad) -> Result<f64, Error> {
    let steady_um = limits::MISALIGNMENT_UM.check(load.steady_misalignment.to_um())?;
    let rocking_um = limits::MISALIGNMENT_UM.check(load.rocking_misalignment.to_um())?;
    let speed = limits::SPEED_M_PER_S.check(load.pitch_line_speed.to_m_per_s())?;
    let mut taken_um = 0.0;
    for flank in [load.pinion, load.spur] {
        limits::FLANK_LIMIT_MPA.check(flank.sigma_h_lim.to_mpa())?;
        taken_um += 0.5 * flank.run_in_um(steady_um, speed);
    }
    Ok(if load.run_in { steady_um - taken_um } else { steady_um } + rocking_um)
}
