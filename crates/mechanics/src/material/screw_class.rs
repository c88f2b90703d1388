//! Property classes of screws (ISO 898-1, ISO 3506-1).

use std::sync::LazyLock;

use serde::Deserialize;
use toothsayer_quantity::{Length, Pressure};

use super::table::{self, Named, Table};
use crate::Error;

const KIND: &str = "screw class";
/// Thread size up to which the lower proof stress holds.
const SMALL: Length = Length::mm(16.0);

static CLASSES: LazyLock<Table<ScrewClass>> = LazyLock::new(|| {
    let rows = |file: File| Ok(file.class.into_iter().map(ScrewClass::from).collect());
    table::read(KIND, include_str!("../../data/screw_classes.toml"), rows)
});

/// A screw class by its name ("12.9").
pub fn screw_class(name: &str) -> Result<&'static ScrewClass, Error> {
    table::find(KIND, &CLASSES, name)
}

/// All screw classes.
pub fn screw_classes() -> Result<&'static [ScrewClass], Error> {
    table::all(&CLASSES)
}

/// What a screw of one class bears.
#[derive(Clone, Debug, PartialEq)]
pub struct ScrewClass {
    /// Name ("8.8").
    pub name: String,
    /// Stress under proof load, up to 16 mm and above.
    proof: [Pressure; 2],
    /// Least yield or 0.2 % proof stress, Rp0.2, up to 16 mm.
    pub yield_stress: Pressure,
    /// Least tensile strength Rm, up to 16 mm.
    pub tensile_strength: Pressure,
    /// Where the values come from.
    pub source: String,
}

impl ScrewClass {
    /// Stress under proof load for a thread's nominal diameter.
    pub fn proof_stress(&self, diameter: Length) -> Pressure {
        self.proof[usize::from(diameter > SMALL)]
    }
}

impl Named for ScrewClass {
    fn name(&self) -> &str {
        &self.name
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    class: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    proof_mpa: f64,
    proof_above_16_mm_mpa: f64,
    yield_mpa: f64,
    tensile_mpa: f64,
    source: String,
}

impl From<Row> for ScrewClass {
    fn from(row: Row) -> Self {
        Self {
            name: row.name,
            proof: [Pressure::mpa(row.proof_mpa), Pressure::mpa(row.proof_above_16_mm_mpa)],
            yield_stress: Pressure::mpa(row.yield_mpa),
            tensile_strength: Pressure::mpa(row.tensile_mpa),
            source: row.source,
        }
    }
}
