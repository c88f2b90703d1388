//! The removal map: what comes off in which order, what has to be off before it, and what putting it back asks for.

use crate::canvas::{Area, BODY, Canvas, RING, SMALL, STRONG, Shape, polyline};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::sentence;
use crate::{Error, Figure};
use toothsayer_fault_book::{FaultBook, Removal};

/// Between two lanes of arrows, px.
const LANE: f64 = 9.0;
/// Most lanes: further arrows share them.
const MOST_LANES: usize = 5;
/// Room for the number behind the lanes, px.
const NUMBER: f64 = 2.0 * RING + 10.0;

/// What comes off for `needs` (removals of the book; all of them where `needs` is empty), first things first.
pub fn removal_map(truck: &str, book: &FaultBook, needs: &[&str], frame: &Frame) -> Result<Figure, Error> {
    let all: Vec<&str> = book.removals().iter().map(|removal| removal.id.as_str()).collect();
    let off = book.removals_for(if needs.is_empty() { all } else { needs.to_vec() });
    if off.is_empty() {
        return Err(Error::Nothing { what: "removal" });
    }
    let title = "What comes off, in which order";
    let mut canvas = Canvas::new("removal", frame);
    let under = format!("{truck} · an arrow leads from what has to be off first · back on in the other order");
    let y = canvas.heading(title, &under);
    let area = canvas.area().below(y);
    let arrows = arrows(&off);
    let lanes = arrows.iter().map(|arrow| arrow.lane + 1).max().unwrap_or(0) as f64;
    let left = area.x + lanes * LANE + 6.0;
    let mut y = area.y;
    let mut middles = Vec::with_capacity(off.len());
    let mut known: Vec<&str> = Vec::new();
    for (place, removal) in off.iter().enumerate() {
        middles.push(y + RING);
        canvas.number_ring([left + RING, y + RING], place + 1, false);
        let x = left + NUMBER;
        let own: Vec<&str> = removal.cautions.iter().map(String::as_str).filter(|id| !known.contains(id)).collect();
        known.extend(&own);
        let cautions: Vec<&str> = own.iter().filter_map(|id| book.caution(id)).collect();
        y = told(&mut canvas, removal, &cautions, Area { x, y, width: area.right() - x }).max(y + 2.0 * RING) + 9.0;
    }
    for arrow in &arrows {
        draw(&mut canvas, arrow, &middles, left);
    }
    canvas.reach(y);
    let names: Vec<String> =
        off.iter().enumerate().map(|(place, removal)| format!("{} {}", place + 1, removal.name)).collect();
    Ok(Figure::of(canvas, title, &format!("{truck}. In this order: {}.", names.join("; "))))
}

/// From what has to be off to what it lays open.
struct Arrow {
    from: usize,
    to: usize,
    lane: usize,
}

/// The arrows, short ones in the lanes near the numbers.
fn arrows(off: &[&Removal]) -> Vec<Arrow> {
    let place = |id: &str| off.iter().position(|removal| removal.id == id);
    let pairs = off.iter().enumerate().flat_map(|(to, removal)| {
        removal.needs.iter().filter_map(move |need| Some((place(need)?, to))).collect::<Vec<_>>()
    });
    let mut arrows: Vec<Arrow> = pairs.map(|(from, to)| Arrow { from, to, lane: 0 }).collect();
    arrows.sort_by_key(|arrow| (arrow.to - arrow.from, arrow.from));
    for place in 0..arrows.len() {
        let (known, rest) = arrows.split_at_mut(place);
        let Some(own) = rest.first_mut() else { continue };
        let free =
            |lane: usize| known.iter().all(|other| other.lane != lane || other.to <= own.from || other.from >= own.to);
        own.lane = (0..MOST_LANES).find(|lane| free(*lane)).unwrap_or(MOST_LANES - 1);
    }
    arrows
}

fn draw(canvas: &mut Canvas, arrow: &Arrow, middles: &[f64], left: f64) {
    let x = left - 6.0 - (arrow.lane as f64 + 0.5) * LANE;
    let (from, to) = (middles[arrow.from] + 4.0, middles[arrow.to] - 4.0);
    let line = polyline(&[[left - 1.0, from], [x, from], [x, to], [left - 1.0, to]], false);
    let tip = [left - 1.0, to];
    let head = polyline(&[[tip[0] - 6.0, tip[1] - 3.5], tip, [tip[0] - 6.0, tip[1] + 3.5]], false);
    let shape = Shape::path(format!("{line}{head}")).stroke(canvas.paint(Role::Quiet), 1.2);
    canvas.draw(shape.with("stroke-linejoin", "round"));
}

/// A removal's words, each caution once in the figure; gives where they ended.
fn told(canvas: &mut Canvas, removal: &Removal, cautions: &[&str], area: Area) -> f64 {
    let y = canvas.paragraph(area, STRONG, Role::Ink, &sentence(&removal.name));
    let minutes = format!("{:.0} min off, {:.0} min on", removal.off_minutes, removal.on_minutes);
    let tools = if removal.tools.is_empty() { String::new() } else { format!(" · {}", removal.tools.join(", ")) };
    let mut y = canvas.paragraph(area.below(y), BODY, Role::Quiet, &format!("{minutes}{tools}"));
    if let Some(joint) = &removal.tightens {
        let text = format!("back on: tighten what carries the {joint} to its window");
        y = canvas.paragraph(area.below(y), BODY, Role::Quiet, &text);
    }
    for caution in cautions {
        y = canvas.paragraph(area.below(y), SMALL, Role::Doubt, &format!("Caution: {caution}"));
    }
    // Seen by nobody: what a page attaches to.
    let row = Shape::rect([area.x, area.y], [area.right(), y]).with("id", canvas.id(&removal.id));
    canvas.draw(row.with("pointer-events", "all").told(&removal.name));
    y
}
