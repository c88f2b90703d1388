//! The way in which a build stops with its motor's brake.

use crate::Error;
use crate::bay::Bay;
use crate::peaks::event;
use toothsayer_job::Build;
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::motor::{Braking, Stop, stop};
use toothsayer_quantity::{Length, Speed, Time};

/// A braking on the level, without the driver's reaction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stopping {
    /// Way; none where the truck still rolls after the longest way looked at (1 km).
    pub distance: Option<Length>,
    /// Time; none likewise.
    pub time: Option<Time>,
    /// Speed at the start: that of the full-brake case.
    pub from: Speed,
}

/// The stop at a brake strength of 0 to 1 from the speed of the full-brake case.
pub fn stopping_distance(build: &Build, bay: &Bay, brake_strength: f64) -> Result<Stopping, Error> {
    let truck = bay.parameters(build);
    let from = Speed::m_per_s(event(Case::FullBrake, &build.driver, None).first_speed_m_s(&truck));
    let braking = Braking { truck: &truck, from, strength: brake_strength };
    Ok(match stop(&braking)? {
        Stop::Stands { distance, time } => Stopping { distance: Some(distance), time: Some(time), from },
        Stop::RollsOn { .. } => Stopping { distance: None, time: None, from },
    })
}
