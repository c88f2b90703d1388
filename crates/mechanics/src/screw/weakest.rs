//! Which part of a joint gives way first, and at what clamp force.

use super::{Joint, REMOVAL_LOSS};
use std::f64::consts::{FRAC_PI_4, PI};
use std::fmt;
use toothsayer_quantity::Force;

/// Share of the nominal diameter's cylinder that a thread's flanks shear along.
const THREAD_SHEAR_SHARE: f64 = 0.875;

/// What limits a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weakest {
    /// The screw yields.
    Screw,
    /// The head or washer sinks into the part.
    Head,
    /// The internal thread shears.
    Thread,
    /// The screw meets the hole's bottom before it clamps.
    Bottoms,
    /// The screw does not reach the thread.
    NoEngagement,
}

impl Weakest {
    /// The word that results carry.
    pub fn name(self) -> &'static str {
        match self {
            Weakest::Screw => "screw",
            Weakest::Head => "head",
            Weakest::Thread => "thread",
            Weakest::Bottoms => "bottoms",
            Weakest::NoEngagement => "no-engagement",
        }
    }

    /// Whether a joint so limited clamps at all.
    pub fn clamps(self) -> bool {
        !matches!(self, Weakest::Bottoms | Weakest::NoEngagement)
    }
}

impl fmt::Display for Weakest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Which end of the material's spread is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StrengthEnd {
    /// The usual strength.
    Nominal,
    /// The weak end; screws stay at their proof stress.
    Weak,
}

/// The clamp force that each part bears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capacities {
    /// Proof stress times stress area.
    pub screw: Force,
    /// Bearing pressure times the ring under head or washer.
    pub head: Force,
    /// Shear strength times the engaged thread's cylinder.
    pub thread: Force,
}

impl Capacities {
    /// The least of the three and whose it is; of equal ones the first.
    pub fn least(&self) -> (Weakest, Force) {
        let others = [(Weakest::Head, self.head), (Weakest::Thread, self.thread)];
        others.into_iter().fold((Weakest::Screw, self.screw), |least, next| if next.1 < least.1 { next } else { least })
    }
}

impl Joint {
    /// Capacities of screw, bearing surface and internal thread, N.
    ///
    /// Screw Sp As (Sp proof stress, As stress area; ISO 898-1); head p (π/4)(D² - dh²), D the outside
    /// diameter of head or washer, dh the clearance hole; thread tau π d 0.875 l_eng, times 0.9 for each
    /// removal from a plastic. The thread's law is the nominal one: the minimum-material shear area of
    /// FED-STD-H28/2 is about 2/3 of it.
    pub fn capacities(&self, end: StrengthEnd) -> Capacities {
        let parameters = self.parameters();
        let (outer_mm, hole_mm) = (self.bearing_outer().to_mm(), parameters.thread.hole.to_mm());
        let (bearing, shear) = (parameters.under_head.bearing, parameters.thread_in.shear);
        let (pressure_mpa, shear_mpa) = match end {
            StrengthEnd::Nominal => (bearing.nominal().to_mpa(), shear.nominal().to_mpa()),
            StrengthEnd::Weak => (bearing.weak().to_mpa(), shear.weak().to_mpa()),
        };
        let cylinder_mm2 = PI * parameters.thread.diameter.to_mm() * THREAD_SHEAR_SHARE * self.engagement().to_mm();
        Capacities {
            screw: Force::n(parameters.proof_stress.to_mpa() * parameters.thread.stress_area().to_mm2()),
            head: Force::n(pressure_mpa * FRAC_PI_4 * (outer_mm * outer_mm - hole_mm * hole_mm)),
            thread: Force::n(shear_mpa * cylinder_mm2 * self.removal_factor()),
        }
    }

    /// What is left of the thread after the removals so far; 1 in metal.
    fn removal_factor(&self) -> f64 {
        if !self.parameters().thread_in.plastic {
            return 1.0;
        }
        (1.0 - REMOVAL_LOSS.value).powf(f64::from(self.parameters().removals))
    }

    /// What limits the joint: the lengths first, then the least capacity.
    pub fn weakest(&self, end: StrengthEnd) -> Weakest {
        self.limit(end).0
    }

    /// [`Joint::weakest`] with the clamp force at which it gives way; zero without engagement.
    pub(super) fn limit(&self, end: StrengthEnd) -> (Weakest, Force) {
        let (part, force) = self.capacities(end).least();
        if self.engagement().to_mm() <= 0.0 {
            (Weakest::NoEngagement, Force::ZERO)
        } else if self.bottoms() {
            (Weakest::Bottoms, force)
        } else {
            (part, force)
        }
    }

    /// Whether the screw's reach exceeds the hole; lengths that agree to a nanometre do not.
    fn bottoms(&self) -> bool {
        const ROUNDING_MM: f64 = 1e-6;
        self.reach().to_mm() > self.parameters().hole_depth.to_mm() + ROUNDING_MM
    }
}
