//! A motor that walks away from the spur: what one event after the other does to its place and to its screws.

use super::{ForceSample, ScrewError, SlidingBlock, limits};
use toothsayer_quantity::{Angle, Force, Length, Mass};

/// What is held, and by what.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WalkingJoint {
    /// What moves, 0.001 to 50 kg.
    pub mass: Mass,
    /// Screws that hold it, 1 to 24.
    pub screws: u32,
    /// Friction between the clamped faces, 0.02 to 0.6.
    pub friction: f64,
    /// Free travel from the set place until the screws meet their holes, 0 to 10 mm.
    pub clearance: Length,
    /// Share of the clamp that an event costs in which the joint slips, 0 to 0.5.
    pub loss_per_event: f64,
}

/// Where the motor is, and how it is clamped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Clamp of one screw, 0 to 1 MN.
    pub clamp: Force,
    /// Travel away from the spur since it was set.
    pub travel: Length,
}

/// The forces of one event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EventForces<'a> {
    /// Tooth force over the event.
    pub trace: &'a [ForceSample],
    /// Working pressure angle, 0 to 60 deg.
    pub pressure_angle: Angle,
    /// Largest shear on the worst screw, 0 to 1 MN.
    pub worst_shear: Force,
}

/// What an event did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walked {
    /// After it.
    pub place: Place,
    /// Whether the worst screw's shear passed its friction, or the motor moved.
    pub slipped: bool,
    /// Whether the holes stop it.
    pub at_the_hole: bool,
}

impl WalkingJoint {
    /// One event more.
    ///
    /// Away from the spur: m x'' = |Fn| sin aw - mu n F while it moves ([`SlidingBlock`]), at most to the end of the
    /// clearance. Where mu F is below the shear on the worst screw, or it moved, F falls by the loss. The next event
    /// starts at the place where this one ended.
    pub fn event(&self, place: Place, event: &EventForces<'_>) -> Result<Walked, ScrewError> {
        let friction = limits::FRICTION.check(self.friction)?;
        let clamp_n = limits::FORCE.check(place.clamp.to_n())?;
        let shear_n = limits::FORCE.check(event.worst_shear.to_n())?;
        let screws = limits::SCREWS.check(f64::from(self.screws))?;
        let loss = limits::EVENT_LOSS.check(self.loss_per_event)?;
        let block = SlidingBlock {
            mass: self.mass,
            pressure_angle: event.pressure_angle,
            friction: Force::n(friction * screws * clamp_n),
            clearance: (self.clearance - place.travel).max(Length::ZERO),
        };
        let slide = block.slide(event.trace)?;
        let slipped = slide.first_moved.is_some() || friction * clamp_n < shear_n;
        let kept = if slipped { 1.0 - loss } else { 1.0 };
        let place = Place { clamp: place.clamp * kept, travel: place.travel + slide.travel };
        Ok(Walked { place, slipped, at_the_hole: slide.stopped_by_hole })
    }
}
