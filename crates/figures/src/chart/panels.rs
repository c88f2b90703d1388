//! Small charts of one kind side by side.

use crate::Error;
use crate::canvas::{Area, Canvas};

/// Between two columns and between two rows, px.
const APART: [f64; 2] = [36.0, 22.0];

/// Most columns.
const MOST: usize = 3;

/// Draws `count` panels, each at least `least_px` wide where the sheet is; `draw` gives where each ended.
pub(crate) fn panels(
    canvas: &mut Canvas,
    area: Area,
    (count, least_px): (usize, f64),
    mut draw: impl FnMut(&mut Canvas, Area, usize) -> Result<f64, Error>,
) -> Result<f64, Error> {
    let columns = columns(((area.width + APART[0]) / (least_px + APART[0])) as usize, count);
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

/// As many columns as fit; one less where that leaves no row with a single panel.
fn columns(fit: usize, count: usize) -> usize {
    let most = fit.min(MOST).min(count).max(1);
    if most > 2 && count % most == 1 && count.is_multiple_of(most - 1) { most - 1 } else { most }
}

#[cfg(test)]
mod tests {
    use super::columns;

    #[track_caller]
    fn check([fit, count]: [usize; 2], expected: usize) {
        assert_eq!(columns(fit, count), expected);
    }

    #[test]
    fn panels_fill_the_rows() {
        check([0, 4], 1);
        check([2, 7], 2);
        check([4, 7], 3);
        check([3, 4], 2);
        check([3, 1], 1);
    }
}
