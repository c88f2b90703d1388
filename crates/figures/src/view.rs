//! From millimetres on the truck to pixels on the sheet.

use crate::canvas::{Canvas, Shape};

/// Where the origin lies and how large a millimetre is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct View {
    pub origin_px: [f64; 2],
    pub px_per_mm: f64,
}

impl View {
    pub(crate) fn at(&self, [x_mm, y_mm]: [f64; 2]) -> [f64; 2] {
        [self.origin_px[0] + x_mm * self.px_per_mm, self.origin_px[1] + y_mm * self.px_per_mm]
    }

    pub(crate) fn px(&self, mm: f64) -> f64 {
        mm * self.px_per_mm
    }

    /// A group that says how it is scaled, so that a drawing can be measured.
    pub(crate) fn group(&self, canvas: &Canvas, id: &str) -> Shape {
        Shape::group(canvas.id(id))
            .with("data-px-per-mm", format!("{:.9}", self.px_per_mm))
            .with("data-origin-px", format!("{:.6} {:.6}", self.origin_px[0], self.origin_px[1]))
    }
}
