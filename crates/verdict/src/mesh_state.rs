//! Whether the teeth of a bay run, bind or do not meet, with what tells it.

use crate::bay::Bay;
use toothsayer_job::Build;
use toothsayer_mechanics::gear::Engagement;
use toothsayer_quantity::Length;

/// A run-out from which a shaft is called bent (common practice, no source).
const BENT: Length = Length::mm(0.05);

/// How the teeth of a build stand to each other, a bent shaft's swing counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MeshState {
    /// They run with play.
    Runs,
    /// They are too thick for their gaps.
    Binds {
        /// Normal backlash that is missing.
        by: Length,
        /// Only at the narrow end of a bent shaft's swing, once a turn.
        once_a_turn: bool,
    },
    /// They do not reach each other.
    Apart,
}

/// What the state of a mesh asks for, as the `id` of the fault book's check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The check.
    pub check: &'static str,
    /// What the state shows.
    pub words: &'static str,
}

impl MeshState {
    /// The state of a bay's mesh.
    pub fn of(bay: &Bay) -> MeshState {
        match bay.pair.engagement() {
            Engagement::Apart => MeshState::Apart,
            Engagement::Binds { .. } => MeshState::Binds { by: -bay.least_backlash(), once_a_turn: false },
            Engagement::Runs if bay.least_backlash() < Length::ZERO => {
                MeshState::Binds { by: -bay.least_backlash(), once_a_turn: true }
            }
            Engagement::Runs => MeshState::Runs,
        }
    }
}

/// What the measured state of a mesh says that only an answered check tells the causes.
pub fn shown_by_mesh(build: &Build, bay: &Bay) -> Vec<Shown> {
    let shown = |is: bool, check, words| is.then_some(Shown { check, words });
    let state = MeshState::of(bay);
    [
        shown(matches!(state, MeshState::Binds { .. }), "mesh-binds", "the mesh binds"),
        shown(state == MeshState::Apart, "centre-distance-wide", "the gears do not meet"),
        shown(build.gears.pitch_error() > Length::ZERO, "pitch-differs", "the gears have two pitches"),
        shown(build.motor.run_out >= BENT, "shaft-wobbles", "the motor's shaft is bent"),
    ]
    .into_iter()
    .flatten()
    .collect()
}
