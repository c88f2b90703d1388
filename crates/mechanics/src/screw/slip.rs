//! Slip of the motor's joints: what shears the worst screw, and what the clamp holds by friction.

use super::{ScrewError, limits};
use toothsayer_quantity::{Force, Length, Torque};

/// Friction between clamped metal faces (common practice, no source).
pub const SLIP_FRICTION: f64 = 0.16;

/// Screws evenly spaced on a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pattern {
    screws: f64,
    radius_mm: f64,
}

/// The tooth force with the lever that it tips the motor by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overturning {
    /// Normal tooth force Fn, 0 to 1 MN.
    pub normal_force: Force,
    /// Motor bearing to mid-face, 0 to 300 mm.
    pub overhang: Length,
    /// Motor's front bearing to the clamped faces, 0 to 300 mm.
    pub mount: Length,
}

impl Pattern {
    /// 1 to 24 screws on a bolt circle of diameter 2 to 500 mm.
    pub fn new(screws: u32, circle: Length) -> Result<Self, ScrewError> {
        let screws = limits::SCREWS.check(f64::from(screws))?;
        let radius_mm = limits::CIRCLE.check(circle.to_mm())? / 2.0;
        Ok(Self { screws, radius_mm })
    }

    /// Shear on the worst screw: Fn/n + Kt I/(n R).
    ///
    /// Fn normal tooth force (0 to 1 MN), which reaches the stator through the shaft; Kt I the motor's
    /// reaction torque (0 to 500 N m) about the pattern's centre; n screws at radius R. Magnitudes: the worst
    /// screw is the one where both point the same way. What is left of Fn rb - Kt I spins the rotor and
    /// never reaches the housing. Elastic bolt group about its centroid.
    pub fn worst_shear(&self, normal_force: Force, motor_torque: Torque) -> Result<Force, ScrewError> {
        let force_n = limits::FORCE.check(normal_force.to_n())?;
        let torque_n_mm = limits::MOTOR_TORQUE.check(motor_torque.to_n_m())? * 1e3;
        Ok(Force::n(force_n / self.screws + torque_n_mm / (self.screws * self.radius_mm)))
    }

    /// Slip margin mu F_clamp/demand; none where nothing is demanded.
    pub fn margin(clamp: Force, demand: Force, friction: f64) -> Result<Option<f64>, ScrewError> {
        let capacity_n = limits::FRICTION.check(friction)? * limits::FORCE.check(clamp.to_n())?;
        let demand_n = limits::FORCE.check(demand.to_n())?;
        Ok((demand_n > 0.0).then(|| capacity_n / demand_n))
    }

    /// Clamp per screw that just holds a demand, F = demand/mu.
    pub fn needed_clamp(demand: Force, friction: f64) -> Result<Force, ScrewError> {
        let friction = limits::FRICTION.check(friction)?;
        Ok(Force::n(limits::FORCE.check(demand.to_n())? / friction))
    }

    /// Clamp that the overturning moment takes from the screws of one side and adds on the other, at the
    /// worst screw and the worst direction.
    ///
    /// M = Fn (overhang + mount), shift = M R/sum y² with y the screws' distances from the tilting axis:
    /// M/(2 R) for two screws on the line of tilt, 2 M/(n R) for three and more. Rigid parts; none for a
    /// single screw, which has no lever. An upper bound: while the faces stay closed they carry most of it.
    pub fn clamp_shift(&self, load: &Overturning) -> Result<Option<Force>, ScrewError> {
        let lever_mm = limits::LEVER.check(load.overhang.to_mm())? + limits::LEVER.check(load.mount.to_mm())?;
        let moment_n_mm = limits::FORCE.check(load.normal_force.to_n())? * lever_mm;
        let share = match self.screws {
            n if n < 2.0 => return Ok(None),
            n if n < 3.0 => 1.0 / n,
            n => 2.0 / n,
        };
        Ok(Some(Force::n(share * moment_n_mm / self.radius_mm)))
    }
}
