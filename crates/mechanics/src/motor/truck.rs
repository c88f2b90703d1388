//! What the motor makes of a truck: top speeds, wheels in the air, and what limits the launch.

use super::performance::{OperatingPoint, Steady};
use super::road::Road;
use crate::Error;
use crate::driveline::Parameters;
use toothsayer_quantity::{AngularSpeed, Current, Force, Speed};

/// What rules a launch from rest at full throttle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LaunchLimit {
    /// The tyres spin.
    Grip,
    /// The controller's limit, or the voltage over the resistance.
    Motor,
    /// The slipper clutch slips.
    Clutch,
}

/// A launch from rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Launch {
    /// Current that the controller would give.
    pub motor_current: Current,
    /// Current at which the driven tyres spin.
    pub grip_current: Current,
    /// Current at which the slipper clutch slips, where there is one.
    pub clutch_current: Option<Current>,
    /// Which of them is least.
    pub ruled_by: LaunchLimit,
    /// Force of the motor at the tread under that one, its loss taken off.
    pub force: Force,
}

/// Speeds of a truck with its motor.
#[derive(Clone, Copy, Debug)]
pub struct TruckSpeeds {
    /// The motor.
    pub motor: Steady,
    /// Wheel speed in the air at full throttle, no-load loss counted.
    pub wheels_in_the_air: AngularSpeed,
    /// Speed of the tread then: the top speed without drag.
    pub no_load_top_speed: Speed,
    /// Speed at which the motor's force balances the drag.
    pub top_speed: Speed,
    /// The motor at that speed.
    pub at_top_speed: OperatingPoint,
    /// The launch.
    pub launch: Launch,
}

impl TruckSpeeds {
    /// Speeds of a truck that is valid for the shock model.
    ///
    /// Top speed: [`Parameters::loaded_top_speed_m_s`] (drag and no-load loss; rolling resistance is left out).
    pub fn of(truck: &Parameters) -> Result<Self, Error> {
        let road = Road::new(truck)?;
        let motor = road.motor();
        let wheels_in_the_air = motor.no_load_speed() / truck.overall_ratio();
        let top_speed_m_s = truck.loaded_top_speed_m_s();
        let at_top_speed = motor.at(AngularSpeed::rad_per_s(top_speed_m_s * road.turns_per_m))?;
        Ok(Self {
            motor,
            wheels_in_the_air,
            no_load_top_speed: Speed::m_per_s(wheels_in_the_air.to_rad_per_s() * truck.tyre_radius_m),
            top_speed: Speed::m_per_s(top_speed_m_s),
            at_top_speed,
            launch: Launch::of(&road),
        })
    }
}

impl Launch {
    /// The least of the currents.
    pub fn current(&self) -> Current {
        let least = self.motor_current.min(self.grip_current);
        self.clutch_current.map_or(least, |clutch| least.min(clutch))
    }

    fn of(road: &Road<'_>) -> Self {
        let motor_a = road.motor().limited_current().to_a();
        let grip_a = road.current_a(road.gripped_force_n(0.0));
        let clutch_a = road.clutch_n().map(|force_n| road.current_a(force_n));
        let limits = [(motor_a, LaunchLimit::Motor), (grip_a, LaunchLimit::Grip)];
        let with_clutch = clutch_a.map(|current_a| (current_a, LaunchLimit::Clutch));
        let (least_a, ruled_by) = limits
            .into_iter()
            .chain(with_clutch)
            .fold(limits[0], |least, own| if own.0 < least.0 { own } else { least });
        Self {
            motor_current: Current::a(motor_a),
            grip_current: Current::a(grip_a),
            clutch_current: clutch_a.map(Current::a),
            ruled_by,
            force: Force::n(road.force_n(least_a).max(0.0)),
        }
    }
}
