//! What every figure is told beside its data: width, look and units.

use crate::{Error, Look};
use toothsayer_quantity::{Kind, Length, System, show};

/// The narrowest sheet, px: a phone held upright.
pub const NARROWEST: f64 = 320.0;
/// The widest sheet, px.
pub const WIDEST: f64 = 2400.0;
/// From this width on panels stand beside each other, px.
const TWO_COLUMNS: f64 = 760.0;

/// Width, look and units of a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    width_px: f64,
    /// Which colours.
    pub look: Look,
    /// Which units.
    pub system: System,
}

impl Frame {
    /// A sheet of 320 to 2400 px (96 px are an inch: A4 between its margins has about 700); an error outside.
    pub fn new(width_px: f64, look: Look, system: System) -> Result<Self, Error> {
        if (NARROWEST..=WIDEST).contains(&width_px) {
            Ok(Self { width_px, look, system })
        } else {
            Err(Error::Width { width_px })
        }
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
