//! Rows whose middle is a track on one scale: beside the name where there is room, else below it.

use super::axis::Axis;
use crate::canvas::{Anchor, Area, BODY, Canvas, LEADING, Line, SMALL, STRONG, Shape};
use crate::theme::Role;

/// Between two columns, px.
const GUTTER: f64 = 20.0;
/// From this width on names and words stand beside the track, px.
const BESIDE: f64 = 600.0;
/// Half of a track's height where it stands by itself, px.
const TRACK: f64 = 11.0;
/// A track's ends leave room for half a marker and half a tick's label, px.
const END: f64 = 14.0;

/// Where names, tracks and words stand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Columns {
    name: Area,
    track: [f64; 2],
    words: Area,
    stacked: bool,
}

/// What a row says beside its track.
pub(crate) struct Row {
    /// Its name.
    pub name: String,
    /// What stands below the name.
    pub under: String,
    /// What stands behind the track.
    pub words: Vec<(String, Role)>,
}

/// Where a row stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Placed {
    /// The track's upper and lower end and its middle.
    pub top: f64,
    pub middle: f64,
    pub bottom: f64,
    /// Where the next row begins.
    pub next: f64,
}

impl Columns {
    pub(crate) fn of(area: Area) -> Columns {
        if area.width < BESIDE {
            let track = [area.x + END, area.right() - END];
            return Columns { name: area, track, words: area, stacked: true };
        }
        let (name, words) = (0.26 * area.width, 0.32 * area.width);
        let from = area.x + name + GUTTER;
        let to = area.right() - words - GUTTER;
        Columns {
            name: Area { width: name, ..area },
            track: [from + END, to - END],
            words: Area { x: to + GUTTER, width: words, ..area },
            stacked: false,
        }
    }

    /// The track's ends, px.
    pub(crate) fn track(&self) -> [f64; 2] {
        self.track
    }

    /// Writes a row's texts and gives where its track stands.
    pub(crate) fn row(&self, canvas: &mut Canvas, y: f64, row: &Row) -> Placed {
        let mut left = canvas.paragraph(self.name.below(y), STRONG, Role::Ink, &row.name);
        if !row.under.is_empty() {
            left = canvas.paragraph(self.name.below(left), SMALL, Role::Quiet, &row.under);
        }
        let mut right = if self.stacked { left } else { y };
        for (text, role) in &row.words {
            right = canvas.paragraph(self.words.below(right), BODY, *role, text);
        }
        if self.stacked {
            let middle = right + 2.0 + TRACK;
            return Placed { top: middle - TRACK, middle, bottom: middle + TRACK, next: middle + TRACK + 10.0 };
        }
        let bottom = left.max(right).max(y + 2.0 * TRACK);
        Placed { top: y - 3.0, middle: (y + bottom) / 2.0 - 1.0, bottom: bottom + 3.0, next: bottom + 6.0 }
    }
}

/// The scale's numbers in a row; gives where it ended.
pub(crate) fn scale(canvas: &mut Canvas, axis: &Axis, y: f64, label: impl Fn(f64) -> String) -> f64 {
    for value in ticks(axis) {
        let text = label(value);
        let at = [axis.at(value), y + SMALL.size_px];
        canvas.text(&Line { at, anchor: Anchor::Middle, face: SMALL, role: Role::Quiet, text: &text });
    }
    y + LEADING * SMALL.size_px + 2.0
}

/// What the scale measures, above its numbers; gives where it ended.
pub(crate) fn scale_title(canvas: &mut Canvas, columns: &Columns, y: f64, text: &str) -> f64 {
    let [from, to] = columns.track;
    let area = Area { x: from - END, y, width: to - from + 2.0 * END };
    canvas.paragraph(area, SMALL, Role::Quiet, text)
}

/// Faint lines of a scale behind a row's track.
pub(crate) fn rulings(canvas: &Canvas, axis: &Axis, placed: &Placed) -> Shape {
    let mut group = Shape::plain_group();
    for value in ticks(axis) {
        let x = axis.at(value);
        group.push(Shape::line([x, placed.top], [x, placed.bottom]).stroke(canvas.paint(Role::Line), 0.4));
    }
    group
}

fn ticks(axis: &Axis) -> Vec<f64> {
    let [from, to] = axis.ends_px();
    axis.ticks(((to - from) / 44.0) as usize)
}
