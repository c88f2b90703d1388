//! The tightening window: torque enough for the clamp, and no more than the weakest part bears.

use super::{Friction, Joint, Opening, ScrewError, StrengthEnd, TorqueLaw, Weakest, limits};
use toothsayer_quantity::{Force, Torque};

/// Share of the stripping torque that is recommended at most.
const UPPER_SHARE: f64 = 0.9;

/// How a torque lies to a window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TorqueVerdict {
    /// Too little for the needed clamp when friction is high.
    Below,
    /// Inside.
    Within,
    /// More than the weakest part bears when friction is low.
    Above,
}

/// Torques between which a joint clamps enough and nothing strips.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Torque that gives the needed clamp at friction 0.16.
    pub low: Torque,
    /// 0.9 of the torque that strips or yields the weakest part at friction 0.08; zero where nothing clamps.
    pub high: Torque,
    /// Lower end if the threads are dry (friction 0.25): what a dry joint would need.
    pub low_if_dry: Torque,
    /// What sets the upper end.
    pub limited_by: Weakest,
    /// What opens an empty window, each recomputed; empty for an open one.
    pub openings: Vec<Opening>,
}

impl Window {
    /// Whether any torque does.
    pub fn is_open(&self) -> bool {
        self.limited_by.clamps() && self.low <= self.high
    }

    /// (low + high)/2. Of an empty window it is only a guess at what a hand applied, no recommendation.
    pub fn middle(&self) -> Torque {
        (self.low + self.high) / 2.0
    }

    /// Compares a torque, such as a maker's printed one, with the window.
    pub fn judge(&self, torque: Torque) -> TorqueVerdict {
        if torque > self.high {
            TorqueVerdict::Above
        } else if torque < self.low {
            TorqueVerdict::Below
        } else {
            TorqueVerdict::Within
        }
    }
}

impl Joint {
    /// The tightening window for a needed clamp per screw of 0 to 1 MN.
    ///
    /// Low: T(F_needed) at friction 0.16. High: 0.9 T(F_weak) at friction 0.08, F_weak the least of Sp As,
    /// weak p times the ring under the head, and weak tau times the engaged thread. T is the law of
    /// [`TorqueLaw::torque`]. When low > high the window is empty and says what would open it.
    pub fn window(&self, needed_clamp: Force) -> Result<Window, ScrewError> {
        let mut window = self.bare_window(needed_clamp)?;
        if !window.is_open() {
            window.openings = self.openings(needed_clamp)?;
        }
        Ok(window)
    }

    /// The window without what would open it.
    pub(super) fn bare_window(&self, needed_clamp: Force) -> Result<Window, ScrewError> {
        limits::FORCE.check(needed_clamp.to_n())?;
        let law = TorqueLaw::of(self.parameters().thread);
        let (limited_by, force) = self.limit(StrengthEnd::Weak);
        let bearable = if limited_by.clamps() { force } else { Force::ZERO };
        Ok(Window {
            low: law.torque(needed_clamp, Friction::HIGH),
            high: law.torque(bearable, Friction::LOW) * UPPER_SHARE,
            low_if_dry: law.torque(needed_clamp, Friction::DRY),
            limited_by,
            openings: Vec::new(),
        })
    }
}
