//! Torque to preload and back.

use super::{Joint, ScrewError, StrengthEnd, Thread, limits};
use toothsayer_quantity::{Force, Length, Torque};

/// Friction coefficients of thread and head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    thread: f64,
    head: f64,
}

impl Friction {
    /// Clean screws as delivered.
    pub const NOMINAL: Friction = Friction::both(0.14);
    /// Low end of a tightening window: friction class B of VDI 2230.
    pub const LOW: Friction = Friction::both(0.08);
    /// High end of a tightening window: friction class B of VDI 2230.
    pub const HIGH: Friction = Friction::both(0.16);
    /// Dry or unknown: outside the window's friction, to be warned of.
    pub const DRY: Friction = Friction::both(0.25);

    const fn both(coefficient: f64) -> Self {
        Self { thread: coefficient, head: coefficient }
    }

    /// One coefficient for thread and head, 0.02 to 0.6.
    pub fn same(coefficient: f64) -> Result<Self, ScrewError> {
        Ok(Self::both(limits::FRICTION.check(coefficient)?))
    }
}

/// The diameters and the pitch that torque depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueLaw {
    /// Pitch P.
    pub pitch: Length,
    /// Pitch diameter d2.
    pub pitch_diameter: Length,
    /// Mean diameter of the friction under the head Dkm.
    pub head_friction_diameter: Length,
}

impl TorqueLaw {
    /// The law of a thread with its own head.
    pub fn of(thread: &Thread) -> Self {
        Self {
            pitch: thread.pitch,
            pitch_diameter: thread.pitch_diameter(),
            head_friction_diameter: thread.head_friction_diameter(),
        }
    }

    /// Torque per preload, mm: 0.159 P + 0.577 d2 mu_t + Dkm mu_h/2.
    fn lever_mm(&self, friction: Friction) -> f64 {
        0.159 * self.pitch.to_mm()
            + 0.577 * self.pitch_diameter.to_mm() * friction.thread
            + self.head_friction_diameter.to_mm() * friction.head / 2.0
    }

    /// Tightening torque T = F (0.159 P + 0.577 d2 mu_t + Dkm mu_h/2), VDI 2230/ISO 16047.
    pub fn torque(&self, preload: Force, friction: Friction) -> Torque {
        Torque::n_mm(preload.to_n() * self.lever_mm(friction))
    }

    /// Preload F = T/(0.159 P + 0.577 d2 mu_t + Dkm mu_h/2), the law of [`TorqueLaw::torque`] backwards.
    pub fn preload(&self, torque: Torque, friction: Friction) -> Force {
        Force::n(torque.to_n_mm() / self.lever_mm(friction))
    }
}

impl Joint {
    /// Preload of one screw at a torque of 0 to 200 N m; zero when the screw bottoms or does not engage.
    ///
    /// Not capped by the joint's strength: [`Joint::torque_to_strip`] over the torque says whether it holds.
    pub fn preload(&self, torque: Torque, friction: Friction) -> Result<Force, ScrewError> {
        limits::TORQUE.check(torque.to_n_m())?;
        if !self.weakest(StrengthEnd::Nominal).clamps() {
            return Ok(Force::ZERO);
        }
        Ok(TorqueLaw::of(self.parameters().thread).preload(torque, friction))
    }

    /// Torque at which the weakest part gives way, at nominal friction and strength.
    ///
    /// A screw that bottoms is turned against its thread all the same: the value is that of its engaged
    /// length. Without engagement it is zero.
    pub fn torque_to_strip(&self) -> Torque {
        let (_, force) = self.limit(StrengthEnd::Nominal);
        TorqueLaw::of(self.parameters().thread).torque(force, Friction::NOMINAL)
    }
}
