//! The numbered list beside the drawing: each part with its margin in a word and a number.

use super::Scene;
use super::parts::BayPart;
use crate::canvas::{Area, BODY, Canvas, RING, STRONG, Shape};
use crate::theme::Role;
use crate::words::Standing;

/// Room for the number, px.
const NUMBER: f64 = 2.0 * RING + 10.0;

/// Writes the list and gives where it ended; a page can attach to a row by its number.
pub(crate) fn part_list(canvas: &mut Canvas, scene: &Scene<'_>, parts: &[BayPart<'_>], area: Area) -> f64 {
    let mut y = area.y;
    for part in parts {
        canvas.number_ring([area.x + RING + 1.0, y + RING], part.number, part.standing() == Some(Standing::Fails));
        let text = Area { x: area.x + NUMBER, y: y + 1.0, width: area.width - NUMBER };
        let below = canvas.paragraph(text, STRONG, Role::Ink, &part.name);
        let below = if part.detail.is_empty() {
            below
        } else {
            canvas.paragraph(text.below(below), BODY, Role::Quiet, &part.detail)
        };
        let below = match (part.verdict(), part.margin) {
            (Some(words), Some(margin)) => {
                canvas.paragraph(text.below(below), BODY, Standing::of(margin).role(), &words)
            }
            _ => below,
        };
        let bottom = below.max(y + 2.0 * RING + 2.0);
        let row = Shape::rect([area.x, y], [area.right(), bottom]).with("pointer-events", "all");
        let row = row.with("id", canvas.id(&scene.id(&format!("row-{}", part.number)))).told(&part.name);
        canvas.draw(part.linked(canvas, row));
        y = bottom + 6.0;
    }
    y
}
