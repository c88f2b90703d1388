//! Mesh stiffness of a pair (ISO 6336-1, method B).

use super::{Member, Pair};
use toothsayer_quantity::Pressure;

/// Modulus that the standard's stiffness is stated for.
const STEEL: Pressure = Pressure::gpa(206.0);
/// Correction of the theoretical stiffness for real teeth, CM.
const CM: f64 = 0.8;
/// Line load below which a tooth is softer, N/mm.
const LOW_LOAD_N_MM: f64 = 100.0;

/// Stiffness per face width, N/(mm µm).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshStiffness {
    /// Of one pair of teeth, c'.
    pub single: f64,
    /// Mean over the mesh, c_gamma_alpha = c' (0.75 eps + 0.25).
    pub c_gamma_alpha: f64,
    /// For the load across the face, c_gamma_beta = 0.85 c_gamma_alpha.
    pub c_gamma_beta: f64,
    /// Whether the gears are within the formula's validity: x1 >= x2 and -0.5 <= x1 + x2 <= 2.
    pub within_validity: bool,
}

/// q' = 0.04723 + 0.15551/z1 + 0.25791/z2 - 0.00635 x1 - 0.11654 x1/z1 - 0.00193 x2 - 0.24188 x2/z2 + 0.00529 x1²
/// plus 0.00182 x2²; c' = 0.8 CR CB/q' with CR = 1 (solid discs) and
/// CB = (1 + 0.5 (1.2 - hfP/m)) (1 - 0.02 (20 - alpha in degrees)); c_gamma_alpha with eps not below 1.
///
/// Stated for steel; other pairs by the ratio of their effective modulus 2 E1 E2/(E1 + E2) to 206 GPa.
/// Source: ISO 6336-1:2006, clause 9 (from memory of the clause).
pub fn mesh_stiffness(pair: &Pair, pinion_modulus: Pressure, spur_modulus: Pressure) -> MeshStiffness {
    let (x1, x2) = (pair.spec().pinion.shift, pair.spec().spur.shift);
    let (z1, z2) = (pair.tooth(Member::Pinion).z(), pair.tooth(Member::Spur).z());
    let q = 0.04723 + 0.15551 / z1 + 0.25791 / z2 - 0.00635 * x1 - 0.11654 * x1 / z1 - 0.00193 * x2 - 0.24188 * x2 / z2
        + 0.00529 * x1 * x1
        + 0.00182 * x2 * x2;
    let rack = 1.0 + 0.5 * (1.2 - pair.spec().rack.dedendum);
    let angle = 1.0 - 0.02 * (20.0 - pair.spec().pressure_angle.to_deg());
    let (e1, e2) = (pinion_modulus.to_pa(), spur_modulus.to_pa());
    let modulus = 2.0 * e1 * e2 / (e1 + e2) / STEEL.to_pa();
    let single = CM * rack * angle / q * modulus;
    let c_gamma_alpha = single * (0.75 * pair.contact_ratio().max(1.0) + 0.25);
    let within_validity = x1 >= x2 && (-0.5..=2.0).contains(&(x1 + x2));
    MeshStiffness { single, c_gamma_alpha, c_gamma_beta: 0.85 * c_gamma_alpha, within_validity }
}

/// How much softer teeth are at a line load Ft/b (N/mm) below 100 N/mm: ((Ft/b)/100)^0.25, else 1.
pub fn low_load_share(line_load_n_mm: f64) -> f64 {
    (line_load_n_mm / LOW_LOAD_N_MM).clamp(0.0, 1.0).powf(0.25)
}
