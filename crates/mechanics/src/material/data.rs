//! The material file, read once.

use super::MaterialError;
use super::gear_material::{GearMaterial, Line};
use crate::Error;
use serde::Deserialize;
use std::sync::LazyLock;
use toothsayer_quantity::Pressure;

static TEXT: &str = include_str!("../../data/materials.toml");
static FILE: LazyLock<File> = LazyLock::new(|| read(TEXT).unwrap_or_default());

/// Weak end of a strength where the row gives none.
const WEAK_SHARE: f64 = 0.8;

/// What screws press on or are driven into.
#[derive(Clone, Debug, PartialEq)]
pub struct JointMaterial {
    /// Name in job files.
    pub name: String,
    /// Shear strength of a thread.
    pub shear: Pressure,
    /// Its weak end.
    pub weak_shear: Pressure,
    /// Pressure under a head.
    pub pressure: Pressure,
    /// Its weak end.
    pub weak_pressure: Pressure,
    /// Modulus of elasticity.
    pub modulus: Pressure,
    /// n of F = F0 (1 + runs)^-n.
    pub creep_exponent: f64,
    /// Whether it is a plastic.
    pub plastic: bool,
    /// Where the numbers come from.
    pub source: String,
}

/// Property class of a screw.
#[derive(Clone, Debug, PartialEq)]
pub struct ScrewClass {
    /// Name ("10.9").
    pub name: String,
    /// Proof stress.
    pub proof: Pressure,
    /// Where the number comes from.
    pub source: String,
}

#[derive(Default)]
struct File {
    gears: Vec<GearMaterial>,
    joints: Vec<JointMaterial>,
    classes: Vec<ScrewClass>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFile {
    gear: Vec<RawGear>,
    joint: Vec<RawJoint>,
    screw_class: Vec<RawClass>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawGear {
    name: String,
    plain: String,
    hardness: [f64; 2],
    bending: Line,
    contact: Line,
    #[serde(default)]
    surface_hardened: bool,
    static_cycles: f64,
    #[serde(default = "steel_static_factor")]
    static_factor: f64,
    #[serde(default = "steel_modulus_gpa")]
    modulus_gpa: f64,
    #[serde(default = "steel_poisson")]
    poisson: f64,
    scatter: f64,
    source: String,
}

fn steel_static_factor() -> f64 {
    2.5
}

fn steel_modulus_gpa() -> f64 {
    206.0
}

fn steel_poisson() -> f64 {
    0.3
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawJoint {
    name: String,
    shear: f64,
    weak_shear: Option<f64>,
    pressure: f64,
    modulus_gpa: f64,
    creep_exponent: f64,
    #[serde(default)]
    plastic: bool,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawClass {
    name: String,
    proof: f64,
    source: String,
}

impl From<RawGear> for GearMaterial {
    fn from(raw: RawGear) -> Self {
        Self {
            name: raw.name,
            plain: raw.plain,
            hardness_hv: raw.hardness,
            bending: raw.bending,
            contact: raw.contact,
            modulus: Pressure::gpa(raw.modulus_gpa),
            poisson: raw.poisson,
            surface_hardened: raw.surface_hardened,
            static_cycles: raw.static_cycles,
            static_factor: raw.static_factor,
            scatter: raw.scatter,
            source: raw.source,
        }
    }
}

impl From<RawJoint> for JointMaterial {
    fn from(raw: RawJoint) -> Self {
        Self {
            name: raw.name,
            shear: Pressure::mpa(raw.shear),
            weak_shear: Pressure::mpa(raw.weak_shear.unwrap_or(WEAK_SHARE * raw.shear)),
            pressure: Pressure::mpa(raw.pressure),
            weak_pressure: Pressure::mpa(WEAK_SHARE * raw.pressure),
            modulus: Pressure::gpa(raw.modulus_gpa),
            creep_exponent: raw.creep_exponent,
            plastic: raw.plastic,
            source: raw.source,
        }
    }
}

fn read(text: &str) -> Result<File, toml::de::Error> {
    let raw: RawFile = toml::from_str(text)?;
    let classes = raw.screw_class.into_iter();
    let class = |raw: RawClass| ScrewClass { name: raw.name, proof: Pressure::mpa(raw.proof), source: raw.source };
    Ok(File {
        gears: raw.gear.into_iter().map(GearMaterial::from).collect(),
        joints: raw.joint.into_iter().map(JointMaterial::from).collect(),
        classes: classes.map(class).collect(),
    })
}

/// Every gear material.
pub fn gear_materials() -> &'static [GearMaterial] {
    &FILE.gears
}

/// Every material of joints.
pub fn joint_materials() -> &'static [JointMaterial] {
    &FILE.joints
}

/// Every property class.
pub fn screw_classes() -> &'static [ScrewClass] {
    &FILE.classes
}

/// Names of the gear materials.
pub fn gear_material_names() -> impl Iterator<Item = &'static str> {
    gear_materials().iter().map(|row| row.name.as_str())
}

/// Names of the materials of joints.
pub fn joint_material_names() -> impl Iterator<Item = &'static str> {
    joint_materials().iter().map(|row| row.name.as_str())
}

/// Names of the property classes.
pub fn screw_class_names() -> impl Iterator<Item = &'static str> {
    screw_classes().iter().map(|row| row.name.as_str())
}

/// The gear material of this name.
pub fn gear_material(name: &str) -> Result<&'static GearMaterial, Error> {
    let found = gear_materials().iter().find(|row| row.name == name);
    found.ok_or_else(|| unknown("gear material", name, gear_material_names()))
}

/// The material of joints of this name.
pub fn joint_material(name: &str) -> Result<&'static JointMaterial, Error> {
    let found = joint_materials().iter().find(|row| row.name == name);
    found.ok_or_else(|| unknown("material of joints", name, joint_material_names()))
}

/// The property class of this name.
pub fn screw_class(name: &str) -> Result<&'static ScrewClass, Error> {
    let found = screw_classes().iter().find(|row| row.name == name);
    found.ok_or_else(|| unknown("property class", name, screw_class_names()))
}

fn unknown(kind: &'static str, name: &str, known: impl Iterator<Item = &'static str>) -> Error {
    let known = known.collect::<Vec<_>>().join(", ");
    MaterialError::Unknown { kind, name: name.to_owned(), known }.into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use toothsayer_quantity::Hardness;

    #[test]
    fn every_row_is_sane_and_has_a_source() {
        let file = read(TEXT).unwrap();
        for row in &file.gears {
            assert!(!row.source.is_empty() && row.hardness_hv[0] < row.hardness_hv[1], "{}", row.name);
            let hard = Hardness::hv(row.hardness_hv[1]);
            assert!(row.sigma_f_lim(hard).to_mpa() > 10.0 && row.sigma_h_lim(hard).to_mpa() > 20.0, "{}", row.name);
            assert!((0.01..0.5).contains(&row.scatter), "{}", row.name);
        }
        for row in &file.joints {
            assert!(!row.source.is_empty() && row.weak_shear <= row.shear, "{}", row.name);
            assert_eq!(row.plastic, row.creep_exponent > 0.0, "{}", row.name);
        }
        assert!(file.classes.iter().all(|row| row.proof.to_mpa() > 200.0 && !row.source.is_empty()));
    }
}
