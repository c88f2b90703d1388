//! The bench's words for how tight a screw is, where no torque is known (common practice, no source).

use super::{Spread, Window};
use toothsayer_quantity::Torque;

/// How tight a joint feels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tightness {
    /// Turns with the fingers.
    Loose,
    /// Tightened by feel.
    Hand,
    /// Tightened to a set value.
    Set,
}

impl Tightness {
    /// Share of the middle of the joint's tightening window.
    pub fn share(self) -> Spread {
        match self {
            Tightness::Loose => Spread::exact(0.10),
            Tightness::Hand => Spread { value: 0.50, low: 0.25, high: 0.80 },
            Tightness::Set => Spread { value: 1.00, low: 0.70, high: 1.30 },
        }
    }

    /// The torque that the word stands for in a joint with this window.
    pub fn torque(self, window: &Window) -> Torque {
        window.middle() * self.share().value
    }

    /// The word as job files write it.
    pub fn parse(word: &str) -> Option<Self> {
        [Tightness::Loose, Tightness::Hand, Tightness::Set].into_iter().find(|tightness| tightness.name() == word)
    }

    /// The word.
    pub fn name(self) -> &'static str {
        match self {
            Tightness::Loose => "loose",
            Tightness::Hand => "hand",
            Tightness::Set => "set",
        }
    }
}

/// What a set screw was tightened with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetScrewTool {
    /// The key out of the kit.
    ShortKey,
    /// A hex driver with a handle.
    Driver,
    /// A driver with a torque setting.
    TorqueDriver,
}

impl SetScrewTool {
    /// Share of the size's seating torque.
    pub fn share(self) -> Spread {
        match self {
            SetScrewTool::ShortKey => Spread { value: 0.60, low: 0.40, high: 0.80 },
            SetScrewTool::Driver => Spread::exact(1.00),
            SetScrewTool::TorqueDriver => Spread { value: 1.00, low: 0.95, high: 1.05 },
        }
    }

    /// The tool as job files write it.
    pub fn parse(word: &str) -> Option<Self> {
        let tools = [SetScrewTool::ShortKey, SetScrewTool::Driver, SetScrewTool::TorqueDriver];
        tools.into_iter().find(|tool| tool.name() == word)
    }

    /// The word.
    pub fn name(self) -> &'static str {
        match self {
            SetScrewTool::ShortKey => "short key",
            SetScrewTool::Driver => "driver",
            SetScrewTool::TorqueDriver => "torque driver",
        }
    }
}
