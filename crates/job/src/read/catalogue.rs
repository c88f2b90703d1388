//! The names that a file may use, from the rooms that keep them.

use toothsayer_inputs::Catalogue;
use toothsayer_mechanics::{bearing, material, screw};

/// The names of a catalogue, in its own order.
pub(super) fn names(catalogue: Catalogue) -> Vec<&'static str> {
    match catalogue {
        Catalogue::GearMaterial => material::gear_material_names().collect(),
        Catalogue::JointMaterial => material::joint_material_names().collect(),
        Catalogue::ScrewClass => material::screw_class_names().collect(),
        Catalogue::Thread => screw::THREADS.iter().map(|thread| thread.name).collect(),
        Catalogue::SetScrew => screw::SET_SCREWS.iter().flat_map(|row| row.names.iter().copied()).collect(),
        Catalogue::Bearing => bearing::BEARINGS.iter().map(|row| row.name).collect(),
        Catalogue::StartingBuild => crate::start::classes().iter().map(|class| class.name.as_str()).collect(),
    }
}
