//! Figures that work is done to where it is no joint of the file: the mesh's play, the set screw's torque.

use crate::measure::MESH_PLAY_MODULES;
use toothsayer_fault_book::Figure;
use toothsayer_job::Build;
use toothsayer_mechanics::screw::SetScrewRow;
use toothsayer_quantity::{Length, Torque};

/// A figure of the book, worked out for a build.
#[derive(Clone, Debug, PartialEq)]
pub enum WorkFigure {
    /// Play at the pitch circle.
    MeshPlay {
        /// Least play.
        low: Length,
        /// Most play.
        high: Length,
    },
    /// Torque of the pinion's set screw with a proper driver.
    SetScrew {
        /// Its size.
        size: String,
        /// The table's torque.
        torque: Torque,
    },
}

impl WorkFigure {
    /// `figure` for `build`; none where no table has the screw.
    pub fn of(figure: Figure, build: &Build) -> Option<WorkFigure> {
        match figure {
            Figure::MeshPlay => {
                let [low, high] = MESH_PLAY_MODULES.map(|play| build.gears.spec.module * play);
                Some(WorkFigure::MeshPlay { low, high })
            }
            Figure::SetScrew => {
                let row = SetScrewRow::find(&build.set_screw.size).ok()?;
                Some(WorkFigure::SetScrew { size: build.set_screw.size.clone(), torque: row.torque })
            }
        }
    }
}
