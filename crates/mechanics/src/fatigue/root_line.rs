//! The line of bending strength over cycles of one root, drawn on without an end for Miner's sum.

use toothsayer_quantity::Pressure;

use super::{limits, mean_ratio, mean_stress_factor};
use crate::Error;
use crate::gear::{RootDuty, root_strength};
use crate::material::{GearMaterial, SnLine};

/// Cycles between which a plastic's line, which is none in log-log, is taken as straight: where it begins, and where the
/// life factors are counted from.
const PLASTIC_CYCLES: [f64; 2] = [1e5, 3e6];

/// What a root line is made from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootLineParameters {
    /// Stress from zero that is borne for the line's last cycles, 0.1 MPa to 100 GPa.
    pub endurance: Pressure,
    /// The line of life factors.
    pub line: SnLine,
    /// Mean stress ratio M, 0 to 1.
    pub mean_ratio: f64,
}

/// A root's material and how it is loaded.
#[derive(Clone, Copy, Debug)]
pub struct RootMetal<'a> {
    /// Material.
    pub material: &'a GearMaterial,
    /// Hardness, and whether both flanks are loaded; its cycles are not read.
    pub duty: RootDuty,
    /// Stress correction factor YS.
    pub stress_factor: f64,
}

/// N = N_end (sigma/sigma_end)^-p without an end either way.
///
/// Elementary Miner: no endurance limit ends the damage, as one larger blow takes a limit away (ISO 6336-6, clause 5),
/// and stresses above the line's static end, which both flanks' YM = 0.7 leaves below the static strength, go on along
/// the slope. What passes the static strength itself is no matter of life.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootLine {
    endurance_pa: f64,
    slope: f64,
    end_cycles: f64,
    mean_ratio: f64,
}

impl RootLine {
    /// Checks the numbers; the slope has to lie between 1 and 1000.
    pub fn new(parameters: RootLineParameters) -> Result<Self, Error> {
        Ok(Self {
            endurance_pa: limits::ENDURANCE.check(parameters.endurance.to_mpa())? * 1e6,
            slope: limits::SLOPE.check(parameters.line.exponent())?,
            end_cycles: parameters.line.endurance_cycles,
            mean_ratio: limits::MEAN_RATIO.check(parameters.mean_ratio)?,
        })
    }

    /// The line of a material: sigmaFlim YST YM at its last cycles (ISO 6336-3, clause 5), its own life line; a
    /// plastic's straight from 1e5 to 3e6 cycles.
    pub fn of(root: &RootMetal<'_>) -> Result<Self, Error> {
        let line = match root.material.life() {
            Some(life) => life.root_line,
            None => {
                let [first, last] = PLASTIC_CYCLES;
                let static_factor = root.material.y_nt(first)? / root.material.y_nt(last)?;
                SnLine { static_cycles: first, static_factor, endurance_cycles: last }
            }
        };
        let duty = RootDuty { cycles: line.endurance_cycles, ..root.duty };
        Self::new(RootLineParameters {
            endurance: root_strength(root.material, &duty)?,
            line,
            mean_ratio: mean_ratio(root.material.treatment, root.stress_factor),
        })
    }

    /// Cycles from zero to a stress (above 0, at most 1e6 MPa) that break the root.
    pub fn cycles(&self, stress: Pressure) -> Result<f64, Error> {
        let stress_pa = limits::STRESS.check(stress.to_mpa())? * 1e6;
        Ok(self.end_cycles * (stress_pa / self.endurance_pa).powf(-self.slope))
    }

    /// The stress from zero that does what a cycle between two stresses does: the larger one over YM.
    pub fn from_zero(&self, low: Pressure, high: Pressure) -> Result<Pressure, Error> {
        if high <= Pressure::ZERO {
            return Ok(Pressure::ZERO);
        }
        Ok(high / mean_stress_factor(low / high, self.mean_ratio)?)
    }

    /// Share of the life that one cycle from zero takes: 1/N.
    pub fn share(&self, stress: Pressure) -> Result<f64, Error> {
        let stress_pa = limits::STRESS.check(stress.to_mpa())? * 1e6;
        Ok((stress_pa / self.endurance_pa).powf(self.slope) / self.end_cycles)
    }

    /// Slope p: a strength s times as large takes s^-p of the damage.
    pub fn slope(&self) -> f64 {
        self.slope
    }
}
