//! The names that a file may use, from the rooms that keep them.

use toothsayer_inputs::Catalogue;
use toothsayer_mechanics::{Error, bearing, material, screw};

/// The names of a catalogue, in its own order.
pub fn names(catalogue: Catalogue) -> Vec<&'static str> {
    match catalogue {
        Catalogue::GearMaterial => named(material::gear_materials(), |row| &row.name),
        Catalogue::JointMaterial => named(material::joint_materials(), |row| &row.name),
        Catalogue::ScrewClass => named(material::screw_classes(), |row| &row.name),
        Catalogue::Thread => screw::THREADS.iter().map(|thread| thread.name).collect(),
        Catalogue::SetScrew => screw::SET_SCREWS.iter().flat_map(|row| row.names.iter().copied()).collect(),
        Catalogue::Bearing => bearing::BEARINGS.iter().map(|row| row.name).collect(),
        Catalogue::StartingBuild => crate::start::classes().iter().map(|class| class.name.as_str()).collect(),
    }
}

fn named<T>(rows: Result<&'static [T], Error>, name: impl Fn(&'static T) -> &'static String) -> Vec<&'static str> {
    rows.map_or_else(|_| Vec::new(), |rows| rows.iter().map(|row| name(row).as_str()).collect())
}
