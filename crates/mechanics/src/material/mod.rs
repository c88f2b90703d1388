//! Materials: gears, what screws are driven into, property classes of screws; a source on every row.

mod data;
mod gear_material;

pub use data::{
    JointMaterial, ScrewClass, gear_material, gear_material_names, gear_materials, joint_material,
    joint_material_names, joint_materials, screw_class, screw_class_names, screw_classes,
};
pub use gear_material::{GearMaterial, Line};

/// Why a material is not to be had.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MaterialError {
    /// No row of the data file has this name.
    #[error("no {kind} is called `{name}`, known are {known}")]
    Unknown {
        /// What was looked for.
        kind: &'static str,
        /// The name given.
        name: String,
        /// The names that there are.
        known: String,
    },
}
