//! Gear materials: strength by treatment and hardness (ISO 6336-5), life (ISO 6336-2, -3), plastics (VDI 2736-2).

use std::sync::LazyLock;

use serde::Deserialize;
use toothsayer_quantity::{Hardness, Pressure};

use super::gear_row::{GearFile, GearRow};
use super::table::{self, Named, Table};
use super::{Elastic, Lasts, MaterialError, PlasticDuty, PlasticStrength, Scatter, SnLine};
use crate::Error;

const KIND: &str = "gear material";
/// Brinell over Vickers hardness below 650 HV (ISO 18265, table A.1).
const BRINELL_PER_VICKERS: f64 = 0.95;

static MATERIALS: LazyLock<Table<GearMaterial>> = LazyLock::new(|| {
    let rows = |file: GearFile| file.material.into_iter().map(GearRow::material).collect();
    table::read(KIND, include_str!("../../data/gear_materials.toml"), rows)
});

/// A gear material by its name ("through-hardened-alloy"); bare names are quality MQ, "-ml" the modest one.
pub fn gear_material(name: &str) -> Result<&'static GearMaterial, Error> {
    table::find(KIND, &MATERIALS, name)
}

/// All gear materials.
pub fn gear_materials() -> Result<&'static [GearMaterial], Error> {
    table::all(&MATERIALS)
}

/// How a gear was made hard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Treatment {
    /// Normalised, soft.
    Normalised,
    /// Carbon steel, quenched and tempered.
    ThroughHardenedCarbon,
    /// Alloy steel, quenched and tempered.
    ThroughHardenedAlloy,
    /// Induction or flame hardened.
    InductionHardened,
    /// Case hardened.
    CaseHardened,
    /// Nitrided.
    Nitrided,
    /// Sintered from powder.
    Sintered,
    /// A plastic.
    Plastic,
    /// Not known.
    Unknown,
}

/// Quality grade of ISO 6336-5.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Quality {
    /// Modest demands on material and treatment.
    #[serde(rename = "ML")]
    Ml,
    /// What experienced makers reach at moderate cost.
    #[serde(rename = "MQ")]
    Mq,
}

/// The scale that a strength line is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum HardnessScale {
    /// Vickers.
    #[serde(rename = "HV")]
    Vickers,
    /// Brinell, 0.95 of Vickers here (ISO 18265).
    #[serde(rename = "HBW")]
    Brinell,
}

/// The hardness that a material's strength lines cover.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HardnessRange {
    /// Scale of the lines.
    pub scale: HardnessScale,
    /// Least.
    pub least: Hardness,
    /// What to take where it was not measured.
    pub usual: Hardness,
    /// Largest.
    pub most: Hardness,
}

/// limit = slope x hardness + base, at most `most`.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StrengthLine {
    /// N/mm2 per unit of hardness.
    pub slope: f64,
    /// N/mm2 at no hardness.
    pub base_mpa: f64,
    /// Largest limit, N/mm2, where the line has one.
    pub most_mpa: Option<f64>,
}

impl StrengthLine {
    fn limit(&self, hardness: f64) -> Pressure {
        Pressure::mpa((self.slope * hardness + self.base_mpa).min(self.most_mpa.unwrap_or(f64::INFINITY)))
    }
}

/// How a metal bears: limits by hardness and their lines over cycles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Life {
    /// Root limit sigmaFlim.
    pub root: StrengthLine,
    /// Flank limit sigmaHlim.
    pub flank: StrengthLine,
    /// Life factor YNT of the root.
    pub root_line: SnLine,
    /// Life factor ZNT of the flank, no pitting allowed.
    pub flank_line: SnLine,
}

/// What a metal's or a plastic's strength is read from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Strength {
    Metal(Life),
    Plastic(PlasticStrength),
}

/// A gear material.
#[derive(Clone, Debug, PartialEq)]
pub struct GearMaterial {
    /// Name in files.
    pub name: String,
    /// Name in plain words.
    pub words: String,
    /// What the trade sells such gears as.
    pub trade: String,
    /// Treatment.
    pub treatment: Treatment,
    /// Quality grade, for the wrought steels of ISO 6336-5.
    pub quality: Option<Quality>,
    /// Hardness covered; absent where strength does not follow hardness.
    pub hardness: Option<HardnessRange>,
    /// Modulus and Poisson's ratio.
    pub elastic: Elastic,
    /// Density in kg/m3.
    pub density_kg_m3: f64,
    /// Whether the flanks are hardened in the skin: they run in little.
    pub surface_hardened: bool,
    /// Scatter for Monte Carlo.
    pub scatter: Scatter,
    /// Where the values come from.
    pub source: String,
    pub(super) strength: Strength,
}

impl GearMaterial {
    /// Whether it is a plastic, whose strength follows temperature.
    pub fn is_plastic(&self) -> bool {
        matches!(self.strength, Strength::Plastic(_))
    }

    /// A metal's lines; none for plastics.
    pub fn life(&self) -> Option<&Life> {
        match &self.strength {
            Strength::Metal(life) => Some(life),
            Strength::Plastic(_) => None,
        }
    }

    /// A plastic's lines over temperature; an error for metals.
    pub fn plastic(&self) -> Result<&PlasticStrength, Error> {
        match &self.strength {
            Strength::Plastic(plastic) => Ok(plastic),
            Strength::Metal(_) => Err(MaterialError::NotPlastic { material: self.name.clone() }.into()),
        }
    }

    /// The hardness to take where none was measured; 0 where none is read.
    pub fn usual_hardness(&self) -> Hardness {
        self.hardness.map_or(Hardness::ZERO, |range| range.usual)
    }

    /// Root endurance limit sigmaFlim (ISO 6336-5, of the standard's test gears, at 1 % failures).
    ///
    /// A plastic's at its usual temperature and 3e6 cycles. Error: a hardness outside the line.
    pub fn sigma_f_lim(&self, hardness: Hardness) -> Result<Pressure, Error> {
        match &self.strength {
            Strength::Metal(life) => Ok(life.root.limit(self.line_hardness(hardness)?)),
            Strength::Plastic(plastic) => plastic.reference(&plastic.root),
        }
    }

    /// Flank endurance limit sigmaHlim, as [`GearMaterial::sigma_f_lim`].
    pub fn sigma_h_lim(&self, hardness: Hardness) -> Result<Pressure, Error> {
        match &self.strength {
            Strength::Metal(life) => Ok(life.flank.limit(self.line_hardness(hardness)?)),
            Strength::Plastic(plastic) => plastic.reference(&plastic.flank),
        }
    }

    /// Life factor YNT of the root (ISO 6336-3, clause 12); a plastic's against its limit at 3e6 cycles.
    pub fn y_nt(&self, cycles: f64) -> Result<f64, Error> {
        match &self.strength {
            Strength::Metal(life) => life.root_line.factor(cycles),
            Strength::Plastic(plastic) => plastic.factor(&plastic.root, cycles),
        }
    }

    /// Life factor ZNT of the flank without pitting (ISO 6336-2, clause 11); plastics as in [`GearMaterial::y_nt`].
    pub fn z_nt(&self, cycles: f64) -> Result<f64, Error> {
        match &self.strength {
            Strength::Metal(life) => life.flank_line.factor(cycles),
            Strength::Plastic(plastic) => plastic.factor(&plastic.flank, cycles),
        }
    }

    /// How many cycles the root bears `factor` times its endurance limit: YNT read backwards, for Miner's sum.
    pub fn root_lasts(&self, factor: f64) -> Result<Lasts, Error> {
        match &self.strength {
            Strength::Metal(life) => life.root_line.lasts(factor),
            Strength::Plastic(plastic) => plastic.lasts(&plastic.root, factor),
        }
    }

    /// Root limit of a plastic at a temperature and cycles; an error for metals.
    pub fn plastic_root_limit(&self, duty: PlasticDuty) -> Result<Pressure, Error> {
        self.plastic()?.root.limit(duty)
    }

    /// The hardness in the line's scale.
    fn line_hardness(&self, hardness: Hardness) -> Result<f64, MaterialError> {
        let Some(range) = self.hardness else {
            return Ok(0.0);
        };
        let value_hv = hardness.to_hv();
        let (least_hv, most_hv) = (range.least.to_hv(), range.most.to_hv());
        if !(least_hv..=most_hv).contains(&value_hv) {
            return Err(MaterialError::Hardness { material: self.name.clone(), value_hv, least_hv, most_hv });
        }
        Ok(match range.scale {
            HardnessScale::Vickers => value_hv,
            HardnessScale::Brinell => value_hv * BRINELL_PER_VICKERS,
        })
    }
}

impl Named for GearMaterial {
    fn name(&self) -> &str {
        &self.name
    }
}
