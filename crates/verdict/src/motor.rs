//! A build's truck as the steady motor sees it.

use crate::Error;
use crate::bay::Bay;
use toothsayer_job::Build;
use toothsayer_mechanics::motor::TruckSpeeds;

/// Mean rotor speed in the rest of a run over that at full throttle (estimate, no source).
pub(crate) const REST_SPEED: f64 = 0.5;

/// Speeds, currents and launch of a build.
pub fn truck_speeds(build: &Build, bay: &Bay) -> Result<TruckSpeeds, Error> {
    Ok(TruckSpeeds::of(&bay.parameters(build))?)
}
