//! A screw joint: its lengths, its materials, and how far the thread engages.

use super::{ScrewError, Spread, Thread, limits};
use toothsayer_quantity::{Length, Pressure};

/// Share of a strength that its weak end has where the material's data give none.
pub const WEAK_END_SHARE: f64 = 0.8;

/// What each removal costs a thread in plastic (common practice, no source).
pub const REMOVAL_LOSS: Spread = Spread { value: 0.10, low: 0.05, high: 0.20 };

/// A strength with the weak end that a tightening torque has to respect.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    nominal: Pressure,
    weak: Pressure,
}

impl Strength {
    /// A strength whose weak end is [`WEAK_END_SHARE`] of it; 1 to 2000 MPa.
    pub fn new(nominal: Pressure) -> Result<Self, ScrewError> {
        Self::with_weak_end(nominal, nominal * WEAK_END_SHARE)
    }

    /// A strength with its own weak end (cast aluminium: 130 of 200 MPa); each 1 to 2000 MPa.
    pub fn with_weak_end(nominal: Pressure, weak: Pressure) -> Result<Self, ScrewError> {
        let nominal_mpa = limits::STRENGTH.check(nominal.to_mpa())?;
        let weak_mpa = limits::STRENGTH.check(weak.to_mpa())?;
        if weak_mpa > nominal_mpa {
            return Err(ScrewError::WeakAboveNominal { nominal_mpa, weak_mpa });
        }
        Ok(Self { nominal, weak })
    }

    /// The strength itself.
    pub fn nominal(&self) -> Pressure {
        self.nominal
    }

    /// Its weak end.
    pub fn weak(&self) -> Pressure {
        self.weak
    }
}

/// The material that the screw is threaded into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadMaterial {
    /// Shear strength tau.
    pub shear: Strength,
    /// Modulus of elasticity, 0.1 to 700 GPa.
    pub modulus: Pressure,
    /// Creep exponent n of F = F0 (1 + t/t0)^-n, t0 one run, 0 to 0.5; 0 for metals.
    pub creep_exponent: f64,
    /// Whether each removal wears the thread.
    pub plastic: bool,
}

/// The material under the head, which is also the clamped one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadMaterial {
    /// Bearing pressure p that it stands.
    pub bearing: Strength,
    /// Modulus of elasticity, 0.1 to 700 GPa.
    pub modulus: Pressure,
    /// Creep exponent, as for the thread's material.
    pub creep_exponent: f64,
}

/// What makes up one screw of a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointParameters {
    /// Size.
    pub thread: &'static Thread,
    /// Screw length under the head, 1 to 200 mm.
    pub length: Length,
    /// Thickness of the clamped parts without the washer, 0.2 to 150 mm.
    pub clamped: Length,
    /// Depth of usable thread in the boss, 0 to 200 mm.
    pub hole_depth: Length,
    /// Whether a flat washer of the size sits under the head.
    pub washer: bool,
    /// Proof stress of the screw's class, 20 to 2000 MPa.
    pub proof_stress: Pressure,
    /// Boss.
    pub thread_in: ThreadMaterial,
    /// Clamped part.
    pub under_head: HeadMaterial,
    /// How often the screw has been taken out so far, 0 to 100.
    pub removals: u32,
}

/// One screw of a joint, checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    parameters: JointParameters,
}

impl Joint {
    /// Checks every number against its range.
    ///
    /// # Errors
    /// [`ScrewError::Range`] for the first number outside.
    pub fn new(parameters: JointParameters) -> Result<Self, ScrewError> {
        limits::LENGTH.check(parameters.length.to_mm())?;
        limits::CLAMPED.check(parameters.clamped.to_mm())?;
        limits::HOLE_DEPTH.check(parameters.hole_depth.to_mm())?;
        limits::PROOF_STRESS.check(parameters.proof_stress.to_mpa())?;
        limits::REMOVALS.check(f64::from(parameters.removals))?;
        limits::MODULUS.check(parameters.thread_in.modulus.to_mpa())?;
        limits::MODULUS.check(parameters.under_head.modulus.to_mpa())?;
        limits::CREEP_EXPONENT.check(parameters.thread_in.creep_exponent)?;
        limits::CREEP_EXPONENT.check(parameters.under_head.creep_exponent)?;
        Ok(Self { parameters })
    }

    /// What it was made of.
    pub fn parameters(&self) -> &JointParameters {
        &self.parameters
    }

    /// Thickness of the washer, zero without one.
    pub fn washer_thickness(&self) -> Length {
        if self.parameters.washer { self.parameters.thread.washer_thickness } else { Length::ZERO }
    }

    /// Clamped length with the washer, lK.
    pub fn grip(&self) -> Length {
        self.parameters.clamped + self.washer_thickness()
    }

    /// How far the screw reaches past the clamped parts; negative when it does not get through them.
    pub fn reach(&self) -> Length {
        self.parameters.length - self.grip()
    }

    /// Engaged thread l_eng = min(length - clamped - washer, hole depth), not below zero.
    pub fn engagement(&self) -> Length {
        self.reach().min(self.parameters.hole_depth).max(Length::ZERO)
    }

    /// Outside diameter of the surface that presses on the part: the head's, or the washer's.
    pub fn bearing_outer(&self) -> Length {
        let thread = self.parameters.thread;
        if self.parameters.washer { thread.washer_outer } else { thread.head }
    }

    /// The larger creep exponent of boss and clamped part, which governs the clamp.
    pub fn creep_exponent(&self) -> f64 {
        self.parameters.thread_in.creep_exponent.max(self.parameters.under_head.creep_exponent)
    }
}
