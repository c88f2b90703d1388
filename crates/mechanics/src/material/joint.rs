//! Materials of threads and of the surfaces under screw heads.

use std::sync::LazyLock;

use serde::Deserialize;
use toothsayer_quantity::Pressure;

use super::table::{self, Named, Table};
use crate::Error;

const KIND: &str = "joint material";

static MATERIALS: LazyLock<Table<JointMaterial>> = LazyLock::new(|| {
    let rows = |file: File| Ok(file.material.into_iter().map(JointMaterial::from).collect());
    table::read(KIND, include_str!("../../data/joint_materials.toml"), rows)
});

/// A joint material by its name ("pa66-gf30").
pub fn joint_material(name: &str) -> Result<&'static JointMaterial, Error> {
    table::find(KIND, &MATERIALS, name)
}

/// All joint materials.
pub fn joint_materials() -> Result<&'static [JointMaterial], Error> {
    table::all(&MATERIALS)
}

/// A material that a screw holds in or presses on.
#[derive(Clone, Debug, PartialEq)]
pub struct JointMaterial {
    /// Name in files.
    pub name: String,
    /// Name in plain words.
    pub words: String,
    /// What the trade sells such parts as.
    pub trade: String,
    /// Shear strength of its threads.
    pub shear_strength: Pressure,
    /// Shear strength to count on: the weak end.
    pub weak_shear_strength: Pressure,
    /// Pressure that it bears under a head.
    pub bearing_pressure: Pressure,
    /// Pressure to count on: the weak end.
    pub weak_bearing_pressure: Pressure,
    /// Exponent n of the clamp's fall by creep, (1 + t/t0)^-n, t0 one run; 0 for metals.
    pub creep_exponent: f64,
    /// Young's modulus.
    pub modulus: Pressure,
    /// Whether it is a plastic.
    pub plastic: bool,
    /// Relative standard deviation of the strengths (elicited).
    pub scatter: f64,
    /// Where the values come from.
    pub source: String,
}

impl Named for JointMaterial {
    fn name(&self) -> &str {
        &self.name
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    material: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    words: String,
    trade: String,
    shear_mpa: f64,
    weak_shear_mpa: f64,
    pressure_mpa: f64,
    weak_pressure_mpa: f64,
    creep_exponent: f64,
    modulus_gpa: f64,
    plastic: bool,
    scatter: f64,
    source: String,
}

impl From<Row> for JointMaterial {
    fn from(row: Row) -> Self {
        Self {
            name: row.name,
            words: row.words,
            trade: row.trade,
            shear_strength: Pressure::mpa(row.shear_mpa),
            weak_shear_strength: Pressure::mpa(row.weak_shear_mpa),
            bearing_pressure: Pressure::mpa(row.pressure_mpa),
            weak_bearing_pressure: Pressure::mpa(row.weak_pressure_mpa),
            creep_exponent: row.creep_exponent,
            modulus: Pressure::gpa(row.modulus_gpa),
            plastic: row.plastic,
            scatter: row.scatter,
            source: row.source,
        }
    }
}
