//! Telling series apart without colour: strokes, markers, and the legend that names them.

use crate::canvas::{Anchor, Area, BODY, Canvas, LEADING, Line, Shape, polyline};
use crate::theme::Role;

/// A marker's form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mark {
    Disc,
    Ring,
    Diamond,
    Square,
    Triangle,
}

impl Mark {
    /// The form of the n-th series.
    pub(crate) fn nth(place: usize) -> Mark {
        const ALL: [Mark; 5] = [Mark::Disc, Mark::Diamond, Mark::Ring, Mark::Square, Mark::Triangle];
        ALL[place % ALL.len()]
    }
}

/// A marker around its middle.
pub(crate) fn marker(canvas: &Canvas, mark: Mark, [x, y]: [f64; 2], role: Role) -> Shape {
    let (paint, paper) = (canvas.paint(role), canvas.paint(Role::Paper));
    let r = 5.0;
    let corners = |points: &[[f64; 2]]| Shape::path(polyline(points, true));
    match mark {
        Mark::Disc => Shape::circle([x, y], r).fill(paint.clone()).stroke(paper, 1.2),
        Mark::Ring => Shape::circle([x, y], r - 0.5).fill(paper).stroke(paint, 1.8),
        Mark::Diamond => {
            corners(&[[x, y - 6.5], [x + 6.5, y], [x, y + 6.5], [x - 6.5, y]]).fill(paper).stroke(paint, 1.6)
        }
        Mark::Square => Shape::rect([x - r, y - r], [x + r, y + r]).fill(paper).stroke(paint, 1.6),
        Mark::Triangle => {
            corners(&[[x, y - 6.0], [x + 6.0, y + 5.0], [x - 6.0, y + 5.0]]).fill(paint).stroke(paper, 1.0)
        }
    }
}

/// A line of the n-th series: weight, colour and dashes differ.
pub(crate) fn stroke_of(canvas: &Canvas, shape: Shape, place: usize) -> Shape {
    let role = if place.is_multiple_of(2) { Role::Accent } else { Role::Ink };
    let shape = shape.stroke(canvas.paint(role), 2.0).with("stroke-linejoin", "round");
    match place % 5 {
        0 => shape,
        1 => shape.dashed(&[7.0, 4.0]),
        2 => shape.dashed(&[2.0, 3.0]),
        3 => shape.dashed(&[10.0, 3.0, 2.0, 3.0]),
        _ => shape.dashed(&[14.0, 4.0]),
    }
}

/// Room for a sign, px.
const SIGN: f64 = 34.0;
/// Between two entries, px.
const APART: f64 = 22.0;

/// The signs of curves, each its stroke with its mark, with their words.
pub(crate) fn legend_of_curves(canvas: &mut Canvas, area: Area, words: &[String]) -> f64 {
    legend(canvas, area, words, |canvas, place, [x, y]| {
        let mut sign = Shape::plain_group();
        sign.push(stroke_of(canvas, Shape::line([x - 14.0, y], [x + 14.0, y]), place));
        sign.push(marker(canvas, Mark::nth(place), [x, y], Role::Ink));
        sign
    })
}

/// Signs with their words, in as many lines as they need; gives where it ended.
///
/// `sign` draws the n-th sign about the middle that it is given, at most 28 px wide.
pub(crate) fn legend(
    canvas: &mut Canvas,
    area: Area,
    words: &[String],
    sign: impl Fn(&Canvas, usize, [f64; 2]) -> Shape,
) -> f64 {
    let (mut x, mut y) = (area.x, area.y);
    let line = LEADING * BODY.size_px + 2.0;
    for (place, text) in words.iter().enumerate() {
        let wanted = SIGN + BODY.width(text);
        if x > area.x && x + wanted > area.right() {
            x = area.x;
            y += line;
        }
        canvas.draw(sign(canvas, place, [x + 14.0, y + 5.0]));
        let lines = BODY.wrap(text, area.right() - x - SIGN);
        for (rank, text) in lines.iter().enumerate() {
            let at = [x + SIGN, y + 9.5 + rank as f64 * line];
            canvas.text(&Line { at, anchor: Anchor::Start, face: BODY, role: Role::Ink, text });
        }
        y += lines.len().saturating_sub(1) as f64 * line;
        x += wanted + APART;
    }
    if words.is_empty() { y } else { y + line + 4.0 }
}
