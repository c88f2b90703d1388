//! Resilience of screw and clamped parts, and what embedding takes from the preload.

use super::Joint;
use std::f64::consts::PI;
use toothsayer_quantity::{Force, Pressure};

/// Modulus of the screw's steel (VDI 2230).
pub const SCREW_STEEL_MODULUS: Pressure = Pressure::gpa(205.0);

/// Embedding of the engaged thread, of the head's surface and of each face between parts, µm (VDI 2230,
/// table 5, axial load, roughness Rz below 10 µm).
const EMBEDDING_THREAD_UM: f64 = 3.0;
const EMBEDDING_HEAD_UM: f64 = 3.0;
const EMBEDDING_FACE_UM: f64 = 2.0;

/// Tangent of the pressure cone's half angle.
const CONE_TANGENT: f64 = 0.6;
/// 2 for a screw in a tapped hole: one cone (VDI 2230, w).
const CONE_NUMBER: f64 = 2.0;

impl Joint {
    /// Resilience of the screw in its boss, mm/N:
    /// dS = (0.5 d/AN + lK/A3 + 0.5 d/A3)/E + 0.33 d/(E_thread AN).
    ///
    /// d nominal diameter, AN = π d²/4, A3 = π d3²/4, lK clamped length with washer, E = 205 GPa, E_thread
    /// modulus of the boss. The terms are head, shank (threaded throughout), engaged thread and boss. VDI
    /// 2230, 5.1.1.
    pub fn screw_resilience_mm_per_n(&self) -> f64 {
        let parameters = self.parameters();
        let d_mm = parameters.thread.diameter.to_mm();
        let nominal_mm2 = parameters.thread.nominal_area().to_mm2();
        let root_mm2 = parameters.thread.root_area().to_mm2();
        let screw_per_mm = 0.5 * d_mm / nominal_mm2 + (self.grip().to_mm() + 0.5 * d_mm) / root_mm2;
        screw_per_mm / SCREW_STEEL_MODULUS.to_mpa()
            + 0.33 * d_mm / (parameters.thread_in.modulus.to_mpa() * nominal_mm2)
    }

    /// Resilience of the clamped parts, mm/N, by the pressure cone of VDI 2230, 5.1.2:
    /// dP = 2 ln[(dw + dh)(dw + w lK tan phi - dh)/((dw - dh)(dw + w lK tan phi + dh))]/(w E π dh tan phi).
    ///
    /// dw outside diameter of head or washer, dh clearance hole, w = 2, tan phi = 0.6, E modulus of the
    /// clamped part (taken for the washer too).
    pub fn part_resilience_mm_per_n(&self) -> f64 {
        let (outer_mm, hole_mm) = (self.bearing_outer().to_mm(), self.parameters().thread.hole.to_mm());
        let spread_mm = outer_mm + CONE_NUMBER * self.grip().to_mm() * CONE_TANGENT;
        let ratio = (outer_mm + hole_mm) * (spread_mm - hole_mm) / ((outer_mm - hole_mm) * (spread_mm + hole_mm));
        let modulus_mpa = self.parameters().under_head.modulus.to_mpa();
        2.0 * ratio.ln() / (CONE_NUMBER * modulus_mpa * PI * hole_mm * CONE_TANGENT)
    }

    /// Embedding fZ: 3 µm in the thread, 3 under the head, 2 for each face between parts, of which there is
    /// one without and two with a washer.
    pub fn embedding_um(&self) -> f64 {
        let faces = if self.parameters().washer { 2.0 } else { 1.0 };
        EMBEDDING_THREAD_UM + EMBEDDING_HEAD_UM + EMBEDDING_FACE_UM * faces
    }

    /// Preload lost to embedding, FZ = fZ/(dS + dP) (VDI 2230, 5.4.2).
    pub fn embedding_loss(&self) -> Force {
        let resilience_mm_per_n = self.screw_resilience_mm_per_n() + self.part_resilience_mm_per_n();
        Force::n(self.embedding_um() * 1e-3 / resilience_mm_per_n)
    }
}
