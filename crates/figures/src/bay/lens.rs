//! The mesh under a lens: flanks, line of contact, where they touch, the gap behind them.

use super::glass::{Glass, SHOWN_MODULES};
use super::{Mesh, Scene};
use crate::Error;
use crate::canvas::{Anchor, Area, BODY, Canvas, HEAD, Hatch, LEADING, Line, Shape, polyline};
use crate::theme::Role;
use crate::view::View;
use toothsayer_mechanics::gear::Member;
use toothsayer_verdict::MeshState;

/// The lens is not larger than this, px.
const WIDEST: f64 = 330.0;
/// Teeth of each gear drawn to each side of the pitch point.
const TEETH: u32 = 3;
/// Room for a sign of the legend, px.
const SIGN: f64 = 26.0;

/// Draws the lens with its legend below and gives where it ended.
pub(crate) fn lens_view(
    canvas: &mut Canvas,
    scene: &Scene<'_>,
    area: Area,
    whole_px_per_mm: f64,
) -> Result<f64, Error> {
    let mesh = Mesh::shown(&scene.bay.pair);
    let radius_px = (area.width.min(WIDEST)) / 2.0 - 2.0;
    let middle = [area.x + area.width / 2.0, area.y + 24.0 + radius_px];
    let glass = Glass::on(&mesh, middle, radius_px);
    let view = glass.view;
    let times = view.px_per_mm / whole_px_per_mm;
    let head = format!("Mesh, {times:.0} times larger");
    let at = [area.x + area.width / 2.0, area.y + 12.0];
    canvas.text(&Line { at, anchor: Anchor::Middle, face: HEAD, role: Role::Ink, text: &head });
    let mut group = glass.group(canvas, &scene.id("lens"));
    for (member, role) in [(Member::Spur, Role::Metal2), (Member::Pinion, Role::Metal)] {
        let points: Vec<[f64; 2]> = mesh.near(member, TEETH)?.into_iter().map(|point| view.at(point)).collect();
        let teeth = Shape::path(polyline(&points, true)).fill(canvas.paint(role));
        group.push(teeth.stroke(canvas.paint(Role::Ink), 1.1).with("stroke-linejoin", "round"));
    }
    add_lines(canvas, scene, &mesh, &view, &mut group);
    canvas.draw(group);
    canvas.draw(glass.rim(canvas));
    Ok(legend(canvas, scene, &mesh, area.below(middle[1] + radius_px + 10.0)))
}

fn add_lines(canvas: &Canvas, scene: &Scene<'_>, mesh: &Mesh<'_>, view: &View, group: &mut Shape) {
    for (member, x) in [(Member::Pinion, 0.0), (Member::Spur, mesh.centre_mm)] {
        let radius = scene.bay.pair.working_radius(member).to_mm();
        let circle = Shape::circle(view.at([x, 0.0]), view.px(radius)).stroke(canvas.paint(Role::Quiet), 0.8);
        group.push(circle.dashed(&[9.0, 3.0, 2.0, 3.0]));
    }
    let accent = canvas.paint(Role::Accent);
    let [start, end] = mesh.contact_mm();
    let reach = SHOWN_MODULES * scene.build.gears.spec.module.to_mm();
    let middle = mesh.pitch_point_mm();
    let [from, to] = [middle - reach, middle + reach].map(|s| view.at(mesh.on_drive_line(s)));
    group.push(Shape::line(from, to).stroke(accent.clone(), 0.8).dashed(&[5.0, 4.0]));
    if scene.state() != MeshState::Apart {
        let [from, to] = [start, end].map(|s| view.at(mesh.on_drive_line(s)));
        group.push(Shape::line(from, to).stroke(accent.clone(), 2.4).with("id", canvas.id(&scene.id("contact"))));
        for s in mesh.touching_mm() {
            let ring = Shape::circle(view.at(mesh.on_drive_line(s)), 4.5).fill(accent.clone());
            group.push(ring.stroke(canvas.paint(Role::Paper), 1.4));
        }
        let [from, to] = mesh.gap_mm().map(|s| view.at(mesh.on_coast_line(s)));
        let mark = Shape::path(ticked(from, to)).stroke(canvas.paint(Role::Ink), 2.0);
        group.push(mark.with("id", canvas.id(&scene.id("gap"))));
    }
}

/// A measured distance: a line with a bar across each end.
pub(crate) fn ticked(from: [f64; 2], to: [f64; 2]) -> String {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy).max(1e-9);
    let across = [-dy / length * 6.0, dx / length * 6.0];
    let bar = |[x, y]: [f64; 2]| polyline(&[[x - across[0], y - across[1]], [x + across[0], y + across[1]]], false);
    format!("{}{}{}", polyline(&[from, to], false), bar(from), bar(to))
}

fn legend(canvas: &mut Canvas, scene: &Scene<'_>, mesh: &Mesh<'_>, area: Area) -> f64 {
    let pair = &scene.bay.pair;
    let length = |length| scene.frame.length(length);
    let touching = mesh.touching_mm().len();
    let gap = pair.normal_backlash();
    let mut rows: Vec<(Sign, String, Role)> = Vec::new();
    match scene.state() {
        MeshState::Apart => rows.push((Sign::Bad, "the gears do not meet: nothing is driven".into(), Role::Bad)),
        MeshState::Binds { by, once_a_turn: false } => {
            rows.push((Sign::Bad, format!("the teeth bind by {}", length(by)), Role::Bad));
        }
        MeshState::Binds { by, once_a_turn: true } => {
            rows.push((Sign::Bad, format!("binds by {} once a turn: the shaft is bent", length(by)), Role::Bad));
        }
        MeshState::Runs => rows.push((Sign::Gap, format!("gap {} across the flanks", length(gap)), Role::Ink)),
    }
    if scene.state() != MeshState::Apart {
        let pairs = match touching {
            0 => "no flank touches as drawn: tips catch each other".to_owned(),
            1 => "one pair of teeth touches here".to_owned(),
            count => format!("{count} pairs touch here"),
        };
        rows.push((Sign::Touch, pairs, Role::Ink));
        let ratio = pair.contact_ratio();
        let role = if ratio < 1.2 { Role::Bad } else { Role::Ink };
        let least = if ratio < 1.2 { ", below the 1.2 asked for" } else { "" };
        rows.push((Sign::Contact, format!("line of contact, ratio {ratio:.2}{least}"), role));
    }
    rows.push((
        Sign::Circle,
        format!(
            "pitch circles; teeth reach {} deep",
            length(pair.working_depth().max(toothsayer_quantity::Length::ZERO))
        ),
        Role::Ink,
    ));
    let mut y = area.y;
    for (sign, text, role) in rows {
        draw_sign(canvas, sign, [area.x, y + 5.0]);
        let text_area = Area { x: area.x + SIGN, y, width: area.width - SIGN };
        y = canvas.paragraph(text_area, BODY, role, &text) + (LEADING - 1.2) * BODY.size_px;
    }
    y
}

#[derive(Clone, Copy)]
enum Sign {
    Touch,
    Contact,
    Gap,
    Circle,
    Bad,
}

fn draw_sign(canvas: &mut Canvas, sign: Sign, [x, y]: [f64; 2]) {
    let accent = canvas.paint(Role::Accent);
    let shape = match sign {
        Sign::Touch => Shape::circle([x + 9.0, y], 4.5).fill(accent),
        Sign::Contact => Shape::line([x, y], [x + 18.0, y]).stroke(accent, 2.4),
        Sign::Gap => Shape::path(ticked([x + 2.0, y], [x + 16.0, y])).stroke(canvas.paint(Role::Ink), 2.0),
        Sign::Circle => {
            Shape::line([x, y], [x + 18.0, y]).stroke(canvas.paint(Role::Quiet), 0.8).dashed(&[9.0, 3.0, 2.0, 3.0])
        }
        Sign::Bad => Shape::rect([x, y - 5.0], [x + 18.0, y + 5.0]).fill(canvas.hatch(Hatch::Bad)),
    };
    canvas.draw(shape);
}
