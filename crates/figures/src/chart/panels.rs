//! Small charts of one kind side by side.

use crate::Error;
use crate::canvas::{Area, Canvas};

/// Between two columns and between two rows, px.
const APART: [f64; 2] = [36.0, 22.0];

/// Draws `count` panels in one column, or two where the sheet is wide; `draw` gives where each ended.
pub(crate) fn panels(
    canvas: &mut Canvas,
    area: Area,
    count: usize,
    mut draw: impl FnMut(&mut Canvas, Area, usize) -> Result<f64, Error>,
) -> Result<f64, Error> {
    let columns = if canvas.frame.wide() && count > 1 { 2 } else { 1 };
    let width = (area.width - APART[0] * (columns - 1) as f64) / columns as f64;
    let mut y = area.y;
    for first in (0..count).step_by(columns) {
        let mut bottom = y;
        for place in first..count.min(first + columns) {
            let x = area.x + (place - first) as f64 * (width + APART[0]);
            bottom = bottom.max(draw(canvas, Area { x, y, width }, place)?);
        }
        y = bottom + APART[1];
    }
    Ok(y - APART[1])
}
