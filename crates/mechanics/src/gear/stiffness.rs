//! Mesh stiffness (ISO 6336-1, method B).

use toothsayer_quantity::{Length, LinearStiffness, Pressure};

use super::{Member, Pair, limits};
use crate::Error;
use crate::material::ElasticPair;

/// Correction CM of the theoretical stiffness for what was measured.
const MEASURED_OVER_THEORY: f64 = 0.8;
/// Modulus of the steel that the stiffness formula was made for.
const STEEL: Pressure = Pressure::gpa(206.0);
/// Load per face width below which contacts are softer, N/mm.
const FULL_LOAD_N_PER_MM: f64 = 100.0;
/// Exponent of the softening at low load.
const LOW_LOAD_EXPONENT: f64 = 0.25;

/// Stiffness per face width, in N/(mm um) (the same number in GN/m per m of width).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshStiffness {
    /// One pair of teeth at its stiffest, c'.
    pub single_n_per_mm_um: f64,
    /// Mean of the mesh, cgamma_alpha, for the driveline and dynamics.
    pub c_gamma_alpha_n_per_mm_um: f64,
    /// Mean of the mesh against misalignment, cgamma_beta.
    pub c_gamma_beta_n_per_mm_um: f64,
    /// Whether the formula's range x1 >= x2, -0.5 <= x1 + x2 <= 2 holds; it is used outside too, and to be said so.
    pub in_validity: bool,
}

impl MeshStiffness {
    /// The stiffness at a load per face width in N/mm: below 100 N/mm all three are scaled by ((Ft/b)/100)^0.25
    /// (ISO 6336-1, clause 9, from memory). For load distribution only: the driveline's stiffness is not scaled.
    pub fn at_line_load(&self, line_load_n_per_mm: f64) -> Result<Self, Error> {
        limits::LINE_LOAD_N_PER_MM.check(line_load_n_per_mm)?;
        let scale = (line_load_n_per_mm / FULL_LOAD_N_PER_MM).min(1.0).powf(LOW_LOAD_EXPONENT);
        Ok(self.scaled(scale))
    }

    /// cgamma_alpha over a face width, as a spring along the line of action.
    pub fn over(&self, face_width: Length) -> LinearStiffness {
        LinearStiffness::n_per_m(self.c_gamma_alpha_n_per_mm_um * 1e9 * face_width.to_m())
    }

    fn scaled(&self, scale: f64) -> Self {
        Self {
            single_n_per_mm_um: self.single_n_per_mm_um * scale,
            c_gamma_alpha_n_per_mm_um: self.c_gamma_alpha_n_per_mm_um * scale,
            c_gamma_beta_n_per_mm_um: self.c_gamma_beta_n_per_mm_um * scale,
            in_validity: self.in_validity,
        }
    }
}

/// The mesh stiffness of a pair (ISO 6336-1, clause 9).
///
/// q' = 0.04723 + 0.15551/z1 + 0.25791/z2 - 0.00635 x1 - 0.11654 x1/z1 - 0.00193 x2 - 0.24188 x2/z2
///      + 0.00529 x1^2 + 0.00182 x2^2;
/// c' = 0.8 CR CB/q', CR = 1 (solid), CB = (1 + 0.5 (1.2 - hfP/m)) (1 - 0.02 (20 - alpha in deg));
/// cgamma_alpha = c' (0.75 eps + 0.25) with eps not below 1, cgamma_beta = 0.85 cgamma_alpha.
/// Other materials scale by 2 E1 E2/(E1 + E2) over steel's 206 GPa. Errors: a modulus out of range.
pub fn mesh_stiffness(pair: &Pair, elastic: &ElasticPair) -> Result<MeshStiffness, Error> {
    let modulus = effective_modulus(elastic)?;
    let single = MEASURED_OVER_THEORY * rack_factor(pair) / flexibility(pair) * (modulus / STEEL);
    let c_gamma_alpha = single * (0.75 * pair.contact_ratio().max(1.0) + 0.25);
    let (x1, x2) = shifts(pair);
    Ok(MeshStiffness {
        single_n_per_mm_um: single,
        c_gamma_alpha_n_per_mm_um: c_gamma_alpha,
        c_gamma_beta_n_per_mm_um: 0.85 * c_gamma_alpha,
        in_validity: x1 >= x2 && (-0.5..=2.0).contains(&(x1 + x2)),
    })
}

fn effective_modulus(elastic: &ElasticPair) -> Result<Pressure, Error> {
    let e1 = limits::ELASTIC_MODULUS_GPA.check(elastic.pinion.modulus.to_gpa())?;
    let e2 = limits::ELASTIC_MODULUS_GPA.check(elastic.spur.modulus.to_gpa())?;
    Ok(Pressure::gpa(2.0 * e1 * e2 / (e1 + e2)))
}

fn shifts(pair: &Pair) -> (f64, f64) {
    (pair.spec().pinion.shift, pair.spec().spur.shift)
}

/// q', in mm um/N.
fn flexibility(pair: &Pair) -> f64 {
    let (z1, z2) = (pair.tooth(Member::Pinion).z(), pair.tooth(Member::Spur).z());
    let (x1, x2) = shifts(pair);
    0.04723 + 0.15551 / z1 + 0.25791 / z2 - 0.00635 * x1 - 0.11654 * x1 / z1 - 0.00193 * x2 - 0.24188 * x2 / z2
        + 0.00529 * x1 * x1
        + 0.00182 * x2 * x2
}

/// CB.
fn rack_factor(pair: &Pair) -> f64 {
    let spec = pair.spec();
    (1.0 + 0.5 * (1.2 - spec.rack.dedendum)) * (1.0 - 0.02 * (20.0 - spec.pressure_angle.to_deg()))
}
