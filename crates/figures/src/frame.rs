//! What every figure is told beside its data: width, look and units.

use crate::{Error, Look};
use toothsayer_quantity::{Kind, Length, System, show};

/// The narrowest sheet, px: a phone held upright.
pub const NARROWEST: f64 = 320.0;
/// The widest sheet, px.
pub const WIDEST: f64 = 2400.0;
/// From this width on panels stand beside each other, px.
const TWO_COLUMNS: f64 = 760.0;

/// The page that a figure stands in; the usual one is none: a figure alone in its file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Within {
    /// Stands before every id, so that a figure may stand in one page more than once.
    pub variant: &'static str,
    /// Whether the page's own style sheet has the figures' rules ([`Look::style`]), as its policy allows none within.
    /// Nothing moves then.
    pub styled: bool,
    /// Whether the parts of the gear bay are links to `#part-N`, N their number in bench order.
    pub linked: bool,
}

/// Width, look and units of a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    width_px: f64,
    /// What it stands in.
    pub within: Within,
    /// Which colours.
    pub look: Look,
    /// Which units.
    pub system: System,
}

impl Frame {
    /// A sheet of 320 to 2400 px (96 px are an inch: A4 between its margins has about 700); an error outside.
    pub fn new(width_px: f64, look: Look, system: System) -> Result<Self, Error> {
        if (NARROWEST..=WIDEST).contains(&width_px) {
            Ok(Self { width_px, within: Within::default(), look, system })
        } else {
            Err(Error::Width { width_px })
        }
    }

    /// The same within a page.
    pub fn within(self, within: Within) -> Self {
        Self { within, ..self }
    }

    /// The sheet's width, px.
    pub fn width_px(&self) -> f64 {
        self.width_px
    }

    pub(crate) fn wide(&self) -> bool {
        self.width_px >= TWO_COLUMNS
    }

    /// Space around everything, px.
    pub(crate) fn edge_px(&self) -> f64 {
        if self.wide() { 28.0 } else { 14.0 }
    }

    /// A length as fine as the bench can measure: to 0.01 mm or a thousandth of an inch.
    pub(crate) fn length(&self, length: Length) -> String {
        let step_m = if self.system == System::Us { 25.4e-6 } else { 10e-6 };
        show(Kind::Length, (length.to_m() / step_m).round() * step_m, self.system)
    }

    /// A value with its unit.
    pub(crate) fn show(&self, kind: Kind, si: f64) -> String {
        show(kind, si, self.system)
    }
}
