//! Load across the face when the teeth do not lie true (ISO 6336-1, method C).

use super::limits;
use super::stiffness::{MeshStiffness, low_load_share};
use crate::Error;
use toothsayer_quantity::{Force, Length, Pressure, Speed};

/// One flank as running-in knows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshFlank {
    /// Endurance limit of the flank, sigmaHlim.
    pub endurance: Pressure,
    /// Whether its surface is hardened.
    pub surface_hardened: bool,
}

/// What decides how the load lies across the face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceLoad {
    /// Tangential force at the reference circle, Ft = Fm.
    pub tangential_force: Force,
    /// Common width of both faces, b.
    pub face_width: Length,
    /// Height of the rack, h = (haP + hfP) m.
    pub tooth_height: Length,
    /// Share of Fbeta that running-in takes from: bending of the shaft, a cover out of true.
    pub steady_misalignment: Length,
    /// Share of Fbeta that moves with the load: a rocking motor.
    pub rocking_misalignment: Length,
    /// Flanks of pinion and spur.
    pub flanks: [MeshFlank; 2],
    /// Whether the gears have run.
    pub run_in: bool,
    /// Pitch-line speed in use.
    pub pitch_line_speed: Speed,
}

/// Face load factors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceFactors {
    /// For the flank, KHbeta.
    pub k_h_beta: f64,
    /// For the root, KFbeta.
    pub k_f_beta: f64,
}

impl FaceLoad {
    /// Fbetay = Fbeta - (y1 + y2)/2 in µm, of the steady share; the rocking share is not run in.
    pub fn misalignment_um(&self) -> f64 {
        let steady_um = self.steady_misalignment.to_um();
        let taken_um =
            if self.run_in { self.flanks.iter().map(|flank| self.run_in_um(flank)).sum::<f64>() / 2.0 } else { 0.0 };
        steady_um - taken_um + self.rocking_misalignment.to_um()
    }

    /// y of one flank: 320/sigmaHlim Fbeta (at most Fbeta) for soft flanks, at most 25600/sigmaHlim µm above 5 m/s and
    /// 12800/sigmaHlim above 10 m/s; 0.15 Fbeta (at most 6 µm) for hardened ones. Limits from memory of the clause.
    fn run_in_um(&self, flank: &MeshFlank) -> f64 {
        let steady_um = self.steady_misalignment.to_um();
        if flank.surface_hardened {
            return (0.15 * steady_um).min(6.0);
        }
        let endurance_mpa = flank.endurance.to_mpa();
        let most_um = match self.pitch_line_speed.to_m_per_s() {
            v if v > 10.0 => 12800.0 / endurance_mpa,
            v if v > 5.0 => 25600.0 / endurance_mpa,
            _ => f64::INFINITY,
        };
        (320.0 / endurance_mpa * steady_um).min(steady_um).min(most_um)
    }

    /// KHbeta = 1 + Fbetay c/(2 Fm/b), or sqrt(2 Fbetay c/(Fm/b)) from 2 on; KFbeta = KHbeta^NF with
    /// NF = 1/(1 + h/b + (h/b)²) and b/h not below 3. c: c_gamma_beta, softer below 100 N/mm.
    ///
    /// Source: ISO 6336-1:2006, clause 7. Without force both are 1.
    pub fn factors(&self, stiffness: &MeshStiffness) -> Result<FaceFactors, Error> {
        limits::TOOTH_FORCE_N.check(self.tangential_force.to_n())?;
        let face_mm = limits::FACE_WIDTH_MM.check(self.face_width.to_mm())?;
        limits::MISALIGNMENT_UM.check(self.steady_misalignment.to_um())?;
        limits::MISALIGNMENT_UM.check(self.rocking_misalignment.to_um())?;
        let line_load_n_mm = self.tangential_force.to_n() / face_mm;
        if line_load_n_mm <= 0.0 {
            return Ok(FaceFactors { k_h_beta: 1.0, k_f_beta: 1.0 });
        }
        let c = stiffness.c_gamma_beta * low_load_share(line_load_n_mm);
        let lean = self.misalignment_um() * c / (2.0 * line_load_n_mm);
        let k_h_beta = if lean >= 1.0 { 2.0 * lean.sqrt() } else { 1.0 + lean };
        let slender = (self.tooth_height.to_mm() / face_mm).min(1.0 / 3.0);
        Ok(FaceFactors { k_h_beta, k_f_beta: k_h_beta.powf(1.0 / (1.0 + slender + slender * slender)) })
    }
}
