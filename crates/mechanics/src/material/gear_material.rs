//! A gear material: strength lines over hardness and life (ISO 6336-5, -3 and -2).

use serde::Deserialize;
use toothsayer_quantity::{Hardness, Pressure};

/// sigma = slope x HV + base, N/mm².
#[derive(Clone, Copy, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// N/mm² per HV.
    pub slope: f64,
    /// N/mm².
    pub base: f64,
}

/// One material of gears.
#[derive(Clone, Debug, PartialEq)]
pub struct GearMaterial {
    /// Name in job files.
    pub name: String,
    /// Plain words.
    pub plain: String,
    /// Hardness range of its lines, HV.
    pub hardness_hv: [f64; 2],
    /// Root endurance.
    pub bending: Line,
    /// Flank endurance.
    pub contact: Line,
    /// Modulus of elasticity.
    pub modulus: Pressure,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Whether its surface is hardened.
    pub surface_hardened: bool,
    /// Cycles up to which the static strength holds, N0.
    pub static_cycles: f64,
    /// Life factor there, YNT (2.5 for steels).
    pub static_factor: f64,
    /// Relative standard deviation of its strength.
    pub scatter: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Cycles from which the root line is level (ISO 6336-3, clause 12).
const ROOT_LEVEL_CYCLES: f64 = 3e6;
/// Static life factor of a flank, and the cycles of its ends (ISO 6336-2, clause 10, no pitting allowed).
const FLANK_STATIC: (f64, f64, f64) = (1.6, 1e5, 5e7);

impl GearMaterial {
    /// Whether the lines are stated for this hardness.
    pub fn covers(&self, hardness: Hardness) -> bool {
        (self.hardness_hv[0]..=self.hardness_hv[1]).contains(&hardness.to_hv())
    }

    /// Root endurance limit sigmaFlim; a hardness outside the line is taken at its nearer end.
    pub fn sigma_f_lim(&self, hardness: Hardness) -> Pressure {
        self.at(self.bending, hardness)
    }

    /// Flank endurance limit sigmaHlim; a hardness outside the line is taken at its nearer end.
    pub fn sigma_h_lim(&self, hardness: Hardness) -> Pressure {
        self.at(self.contact, hardness)
    }

    fn at(&self, line: Line, hardness: Hardness) -> Pressure {
        let hv = hardness.to_hv().clamp(self.hardness_hv[0], self.hardness_hv[1]);
        Pressure::mpa(line.slope * hv + line.base)
    }

    /// Life factor of the root YNT: static up to N0, 1 from 3e6 cycles, straight between in logarithms.
    pub fn y_nt(&self, cycles: f64) -> f64 {
        let n = cycles.clamp(self.static_cycles, ROOT_LEVEL_CYCLES);
        (ROOT_LEVEL_CYCLES / n).powf(1.0 / self.root_slope())
    }

    /// Exponent p of the root line: N sigma^p is constant between its ends.
    pub fn root_slope(&self) -> f64 {
        (ROOT_LEVEL_CYCLES / self.static_cycles).ln() / self.static_factor.ln()
    }

    /// Life factor of the flank ZNT: 1.6 up to 1e5 cycles, 1 from 5e7.
    pub fn z_nt(&self, cycles: f64) -> f64 {
        let (factor, from, to) = FLANK_STATIC;
        let slope = factor.ln() / (to / from).ln();
        (to / cycles.clamp(from, to)).powf(slope)
    }
}
