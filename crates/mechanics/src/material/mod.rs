//! Materials: of gears, of threads and seats, of screws; each row with its source and its scatter.

mod elastic;
mod error;
mod gear_material;
mod gear_row;
mod joint;
mod plastic;
mod scatter;
mod screw_class;
mod sn_line;
mod table;

pub use elastic::{Elastic, ElasticPair};
pub use error::MaterialError;
pub use gear_material::{
    GearMaterial, HardnessRange, HardnessScale, Life, Quality, StrengthLine, Treatment, gear_material, gear_materials,
};
pub use joint::{JointMaterial, joint_material, joint_materials};
pub use plastic::{PlasticDuty, PlasticLine, PlasticStrength};
pub use scatter::{Scatter, spread_factor};
pub use screw_class::{ScrewClass, screw_class, screw_classes};
pub use sn_line::{Lasts, SnLine};
