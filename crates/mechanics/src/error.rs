//! The one error type of this room.

use crate::range::OutOfRange;

/// Why a figure cannot be computed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// An input is outside the range that the formulas are valid for.
    #[error("{0}")]
    Range(#[from] OutOfRange),
    /// Gear geometry or strength.
    #[error("{0}")]
    Gear(#[from] crate::gear::GearError),
    /// Material data.
    #[error("{0}")]
    Material(#[from] crate::material::MaterialError),
    /// Threads, screws and joints.
    #[error("{0}")]
    Screw(#[from] crate::screw::ScrewError),
    /// Counting of load cycles.
    #[error("{0}")]
    Cycles(#[from] toothsayer_evidence::Error),
    /// The driveline's simulation.
    #[error("{0}")]
    Driveline(#[from] crate::driveline::DrivelineError),
}
