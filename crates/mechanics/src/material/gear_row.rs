//! The gear materials' data file, as it is written.

use serde::Deserialize;
use toothsayer_quantity::{Hardness, Pressure};

use super::gear_material::{
    GearMaterial, HardnessRange, HardnessScale, Life, Quality, Strength, StrengthLine, Treatment,
};
use super::{Elastic, PlasticStrength, Scatter, SnLine};

/// The whole file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GearFile {
    pub material: Vec<GearRow>,
}

/// One row; either a metal's four lines or a plastic's table.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GearRow {
    name: String,
    words: String,
    trade: String,
    treatment: Treatment,
    quality: Option<Quality>,
    hardness: Option<HardnessRow>,
    root: Option<StrengthLine>,
    flank: Option<StrengthLine>,
    root_life: Option<SnLine>,
    flank_life: Option<SnLine>,
    plastic: Option<PlasticStrength>,
    modulus_gpa: f64,
    poisson: f64,
    density_kg_m3: f64,
    #[serde(default)]
    surface_hardened: bool,
    scatter: Scatter,
    source: String,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct HardnessRow {
    scale: HardnessScale,
    least_hv: f64,
    usual_hv: f64,
    most_hv: f64,
}

impl GearRow {
    /// The material of a row, or what the row lacks.
    pub fn material(self) -> Result<GearMaterial, String> {
        let strength = self.strength()?;
        Ok(GearMaterial {
            strength,
            hardness: self.hardness.map(HardnessRow::range),
            elastic: Elastic { modulus: Pressure::gpa(self.modulus_gpa), poisson: self.poisson },
            name: self.name,
            words: self.words,
            trade: self.trade,
            treatment: self.treatment,
            quality: self.quality,
            density_kg_m3: self.density_kg_m3,
            surface_hardened: self.surface_hardened,
            scatter: self.scatter,
            source: self.source,
        })
    }

    fn strength(&self) -> Result<Strength, String> {
        match (self.root, self.flank, self.root_life, self.flank_life, self.plastic) {
            (Some(root), Some(flank), Some(root_line), Some(flank_line), None) => {
                Ok(Strength::Metal(Life { root, flank, root_line, flank_line }))
            }
            (None, None, None, None, Some(plastic)) => Ok(Strength::Plastic(plastic)),
            _ => Err(format!("{} needs root, flank, root_life and flank_life, or plastic alone", self.name)),
        }
    }
}

impl HardnessRow {
    fn range(self) -> HardnessRange {
        HardnessRange {
            scale: self.scale,
            least: Hardness::hv(self.least_hv),
            usual: Hardness::hv(self.usual_hv),
            most: Hardness::hv(self.most_hv),
        }
    }
}
