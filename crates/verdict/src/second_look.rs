//! A second look at the root: the older Lewis stress beside the ISO one, under the same force.

use crate::Error;
use crate::bay::Bay;
use toothsayer_job::Build;
use toothsayer_mechanics::gear::{LewisLoad, Member, RootLoad, lewis_stress, root_stress};
use toothsayer_quantity::{Force, Pressure};

/// The force that both stresses are told for, tangential at the reference circle.
pub const TOLD_FORCE: Force = Force::kn(1.0);

/// Both stresses of one gear, the load even across the face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootStresses {
    /// ISO 6336-3: load at the outer point of single contact, with stress concentration.
    pub iso: Pressure,
    /// Lewis: load at the tip, without stress concentration; none below 12 teeth.
    pub lewis: Option<Pressure>,
}

/// Root stresses of a gear under [`TOLD_FORCE`].
pub fn root_stresses(build: &Build, bay: &Bay, member: Member) -> Result<RootStresses, Error> {
    let spec = &build.gears.spec;
    let normal_force = TOLD_FORCE / spec.pressure_angle.to_rad().cos();
    let load = RootLoad { normal_force, face_width: bay.overlap, k_f_beta: 1.0, rim_and_depth: 1.0 };
    let lewis = LewisLoad {
        tangential_force: TOLD_FORCE,
        face_width: bay.overlap,
        module: spec.module,
        teeth: bay.pair.tooth(member).teeth(),
        velocity_factor: 1.0,
    };
    Ok(RootStresses { iso: root_stress(&bay.pair, bay.root(member), &load)?, lewis: lewis_stress(&lewis).ok() })
}
