//! A plot of curves between two axes.

use super::axis::Axis;
use super::measure::tick;
use crate::canvas::{Anchor, Area, Canvas, LEADING, Line, SMALL, Shape, polyline};
use crate::theme::Role;

/// What an axis is called and which values it holds.
pub(crate) struct Ruler<'a> {
    /// Its name, with the unit.
    pub title: &'a str,
    /// Values that it has to hold, besides 0.
    pub values: &'a [f64],
    /// Ends as they are instead.
    pub ends: Option<[f64; 2]>,
}

/// A drawn pair of axes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Plot {
    pub x: Axis,
    pub y: Axis,
    /// Where everything ended.
    pub bottom: f64,
}

/// Between two ticks of the upright axis at least, px.
const UPRIGHT_STEP: f64 = 34.0;

impl Plot {
    /// Draws axes, rulings and numbers in an area of this height.
    pub(crate) fn new(canvas: &mut Canvas, area: Area, height_px: f64, x: &Ruler<'_>, y: &Ruler<'_>) -> Plot {
        let top = canvas.paragraph(area, SMALL, Role::Quiet, y.title) + 10.0;
        let bottom = top + height_px;
        let upright = y.axis((height_px / UPRIGHT_STEP) as usize, [bottom, top]);
        let steps = upright.ticks((height_px / UPRIGHT_STEP) as usize + 1);
        let wide = steps.iter().map(|value| SMALL.width(&tick(*value))).fold(0.0, f64::max);
        let (left, right) = (area.x + wide + 8.0, area.right() - 12.0);
        let flat = x.axis(8, [left, right]);
        for value in steps {
            let at = [left - 6.0, upright.at(value) + 4.0];
            let line = Shape::line([left, upright.at(value)], [right, upright.at(value)]);
            canvas.draw(line.stroke(canvas.paint(Role::Line), if value == 0.0 { 1.0 } else { 0.4 }));
            canvas.text(&Line { at, anchor: Anchor::End, face: SMALL, role: Role::Quiet, text: &tick(value) });
        }
        for value in room_for(&flat) {
            let at = [flat.at(value), bottom + 6.0 + SMALL.size_px];
            let line = Shape::line([at[0], top], [at[0], bottom]);
            canvas.draw(line.stroke(canvas.paint(Role::Line), 0.4));
            canvas.text(&Line { at, anchor: Anchor::Middle, face: SMALL, role: Role::Quiet, text: &tick(value) });
        }
        let below = bottom + 8.0 + LEADING * SMALL.size_px;
        let under = Area { x: left, y: below, width: right - left };
        let bottom = canvas.paragraph(under, SMALL, Role::Quiet, x.title) + 6.0;
        Plot { x: flat, y: upright, bottom }
    }

    /// Where a point lies.
    pub(crate) fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.x.at(x), self.y.at(y)]
    }

    /// A curve through points.
    pub(crate) fn curve(&self, points: &[[f64; 2]]) -> Shape {
        Shape::path(polyline(&points.iter().map(|point| self.at(*point)).collect::<Vec<_>>(), false))
    }

    /// A line across at one height.
    pub(crate) fn level(&self, value: f64) -> Shape {
        let [from, to] = self.x.ends_px();
        Shape::line([from, self.y.at(value)], [to, self.y.at(value)])
    }
}

impl Ruler<'_> {
    fn axis(&self, steps: usize, px: [f64; 2]) -> Axis {
        match self.ends {
            Some(ends) => Axis::between(ends, px),
            None => Axis::even(self.values.iter().copied(), steps, px),
        }
    }
}

/// The finest ticks whose labels stand clear of each other.
fn room_for(axis: &Axis) -> Vec<f64> {
    let [from, to] = axis.ends_px();
    let clear = |ticks: &Vec<f64>| {
        let wide = ticks.iter().map(|value| SMALL.width(&tick(*value))).fold(0.0, f64::max);
        ticks.windows(2).all(|pair| axis.at(pair[1]) - axis.at(pair[0]) >= wide + 12.0)
    };
    let most = (((to - from) / 46.0) as usize).min(12);
    (2..=most.max(2)).rev().map(|count| axis.ticks(count)).find(clear).unwrap_or_else(|| axis.ends().to_vec())
}
