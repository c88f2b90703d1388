//! A gear material's strength along its line: over hardness, or over a plastic's temperature.

use toothsayer_quantity::{Hardness, Pressure, Temperature};

use super::root_stress::TEST_GEAR_STRESS_FACTOR;
use super::{RootDuty, root_strength};
use crate::Error;
use crate::material::{GearMaterial, PlasticDuty};

/// A single blow, and where the root's line ends.
const ONCE: f64 = 1.0;
const LASTING: f64 = 3e6;
/// 0 degC in K.
const ZERO_C_K: f64 = 273.15;
/// Temperatures that a plastic is told at, degC.
const TOLD_C: [f64; 5] = [20.0, 40.0, 60.0, 80.0, 100.0];

/// What a strength belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StrengthAt {
    /// A hardness of the tooth.
    Hardness(Hardness),
    /// A temperature of a plastic tooth.
    Temperature(Temperature),
    /// Nothing: one strength for all.
    Any,
}

/// Strengths at one place of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrengthPoint {
    /// The place.
    pub at: StrengthAt,
    /// Root stress that is borne once.
    pub root_once: Pressure,
    /// Root stress that is borne for three million turns under load one way.
    pub root_lasting: Pressure,
    /// Endurance limit of the flank.
    pub flank_lasting: Pressure,
}

/// Strengths at the least, usual and largest hardness of a line, at a plastic's temperatures, or the only ones.
///
/// sigmaFG = sigmaFlim YST YNT as in [`root_strength`]; a plastic's sigmaFlimN by VDI 2736-2, below 1e5 cycles that of 1e5.
pub fn strength_points(material: &GearMaterial) -> Result<Vec<StrengthPoint>, Error> {
    if let Ok(plastic) = material.plastic() {
        let point = |temperature_c: f64| {
            let root = |cycles: f64| plastic.root.limit(PlasticDuty { temperature_c, cycles });
            Ok(StrengthPoint {
                at: StrengthAt::Temperature(Temperature::k(temperature_c + ZERO_C_K)),
                root_once: root(ONCE)? * TEST_GEAR_STRESS_FACTOR,
                root_lasting: root(LASTING)? * TEST_GEAR_STRESS_FACTOR,
                flank_lasting: plastic.flank.limit(PlasticDuty { temperature_c, cycles: LASTING })?,
            })
        };
        return TOLD_C.into_iter().map(point).collect::<Result<_, Error>>();
    }
    let point = |at: StrengthAt, hardness: Hardness| {
        let root = |cycles: f64| root_strength(material, &RootDuty { hardness, cycles, both_flanks: false });
        let flank_lasting = material.sigma_h_lim(hardness)?;
        Ok(StrengthPoint { at, root_once: root(ONCE)?, root_lasting: root(LASTING)?, flank_lasting })
    };
    let Some(range) = material.hardness else { return Ok(vec![point(StrengthAt::Any, Hardness::ZERO)?]) };
    let ends = [range.least, range.usual, range.most];
    ends.into_iter().map(|hardness| point(StrengthAt::Hardness(hardness), hardness)).collect()
}
