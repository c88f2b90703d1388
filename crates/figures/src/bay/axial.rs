//! The pair seen along its shafts, true to scale.

use super::parts::{BayPart, PartKind, dressed, linked};
use super::{Mesh, Scene, scale_bar};
use crate::Error;
use crate::canvas::{Area, Canvas, RING, Shape, polyline};
use crate::spread::spread;
use crate::theme::Role;
use crate::view::View;
use crate::words::Standing;
use toothsayer_mechanics::gear::Member;
use toothsayer_mechanics::screw::Thread;

/// A view is not higher than this, px.
const HIGHEST: f64 = 400.0;
/// Room for the numbers above the gears, px.
const NUMBERS: f64 = 3.0 * RING + 8.0;

/// Draws the view and gives where it ended and how large a millimetre is.
pub(crate) fn axial_view(
    canvas: &mut Canvas,
    scene: &Scene<'_>,
    parts: &[BayPart<'_>],
    area: Area,
) -> Result<(f64, f64), Error> {
    let mesh = Mesh::shown(&scene.bay.pair);
    let tips = Member::BOTH.map(|member| scene.bay.pair.tooth(member).tip_radius().to_mm());
    let screws = motor_screws(scene);
    let around = screws.map_or(0.0, |(radius, head)| radius + head);
    let (left, right) = (tips[0].max(around), mesh.centre_mm + tips[1]);
    let half = tips[0].max(tips[1]).max(around);
    let px_per_mm = (area.width / (left + right)).min(HIGHEST / (2.0 * half));
    let spare = area.width - (left + right) * px_per_mm;
    let origin_px = [area.x + left * px_per_mm + spare / 2.0, area.y + NUMBERS + half * px_per_mm];
    let view = View { origin_px, px_per_mm };
    let mut group = view.group(canvas, &scene.id("axial"));
    if let Some(screws) = screws {
        let heads = screw_heads(canvas, scene, &view, (parts, screws));
        group.push(linked(canvas, parts, PartKind::MotorScrews, heads));
    }
    for member in [Member::Spur, Member::Pinion] {
        group.push(gear(canvas, &view, scene, &mesh, (member, parts))?);
    }
    canvas.draw(group);
    canvas.draw(circles(canvas, &view, scene, &mesh));
    let places = [
        (PartKind::MotorScrews, screws.map(|(radius, _)| [0.0, -radius])),
        (PartKind::Pinion, Some([-0.6 * tips[0], -0.5 * tips[0]])),
        (PartKind::Mesh, Some([scene.bay.pair.working_radius(Member::Pinion).to_mm(), 0.0])),
        (PartKind::Spur, Some([mesh.centre_mm + 0.3 * tips[1], -0.6 * tips[1]])),
    ];
    let places = places.into_iter().filter_map(|(kind, place)| Some((kind, view.at(place?))));
    numbers(canvas, parts, &places.collect::<Vec<_>>(), area);
    let below = origin_px[1] + half * px_per_mm + 10.0;
    Ok((scale_bar(canvas, &view, area.below(below)), px_per_mm))
}

/// Numbered rings in a row above a view, each led to its part.
pub(crate) fn numbers(canvas: &mut Canvas, parts: &[BayPart<'_>], places: &[(PartKind, [f64; 2])], area: Area) {
    let wanted: Vec<f64> = places.iter().map(|(_, place)| place[0]).collect();
    let rings = spread(&wanted, 2.0 * RING + 6.0, [area.x + RING + 1.0, area.right() - RING - 1.0]);
    let y = area.y + RING + 2.0;
    for ((kind, place), x) in places.iter().zip(rings) {
        let Some(part) = parts.iter().find(|part| part.kind == *kind) else { continue };
        let leader = polyline(&[*place, [x, y + RING + 9.0], [x, y + RING]], false);
        canvas.draw(Shape::path(leader).stroke(canvas.paint(Role::Quiet), 0.8));
        canvas.draw(Shape::circle(*place, 2.2).fill(canvas.paint(Role::Ink)));
        canvas.number_ring([x, y], part.number, part.standing() == Some(Standing::Fails));
        if canvas.frame.within.linked {
            let finger = Shape::circle([x, y], FINGER).with("fill", "none").with("pointer-events", "all");
            canvas.draw(part.touched(canvas, finger));
        }
    }
}

/// Radius within which a number is touched, px.
const FINGER: f64 = 16.0;

/// Radius of the motor's bolt circle and of a head, mm; none where the file gives no circle.
fn motor_screws(scene: &Scene<'_>) -> Option<(f64, f64)> {
    let joint = scene.build.joints.iter().find(|joint| joint.carries == "motor")?;
    let head = Thread::find(&joint.size).ok()?.head.to_mm() / 2.0;
    Some((joint.circle?.to_mm() / 2.0, head))
}

/// Two heads on the bolt circle; at which angle they stand nobody measures.
fn screw_heads(
    canvas: &Canvas,
    scene: &Scene<'_>,
    view: &View,
    (parts, (radius, head)): (&[BayPart<'_>], (f64, f64)),
) -> Shape {
    let mut group = Shape::group(canvas.id(&scene.id("motor-screws")));
    group
        .push(Shape::circle(view.origin_px, view.px(radius)).stroke(canvas.paint(Role::Line), 0.7).dashed(&[3.0, 3.0]));
    for y in [-radius, radius] {
        let ink = canvas.paint(Role::Ink);
        let rim = Shape::circle(view.at([0.0, y]), view.px(head));
        group.push(dressed(canvas, parts, PartKind::MotorScrews, Role::Metal, rim));
        let hexagon: Vec<[f64; 2]> = (0..6)
            .map(|corner| (f64::from(corner) * std::f64::consts::FRAC_PI_3).sin_cos())
            .map(|(sin, cos)| view.at([0.5 * head * cos, y + 0.5 * head * sin]))
            .collect();
        group.push(Shape::path(polyline(&hexagon, true)).stroke(ink, 0.8));
    }
    group
}

fn gear(
    canvas: &Canvas,
    view: &View,
    scene: &Scene<'_>,
    mesh: &Mesh<'_>,
    (member, parts): (Member, &[BayPart<'_>]),
) -> Result<Shape, Error> {
    let (name, kind, role) = match member {
        Member::Pinion => ("pinion", PartKind::Pinion, Role::Metal),
        Member::Spur => ("spur", PartKind::Spur, Role::Metal2),
    };
    let points: Vec<[f64; 2]> = mesh.whole(member)?.into_iter().map(|point| view.at(point)).collect();
    let mut group = Shape::group(canvas.id(&scene.id(name))).told(name);
    let outline = Shape::path(polyline(&points, true)).with("id", canvas.id(&scene.id(&format!("{name}-outline"))));
    group.push(dressed(canvas, parts, kind, role, outline).with("stroke-linejoin", "round"));
    let axis = view.at([if member == Member::Pinion { 0.0 } else { mesh.centre_mm }, 0.0]);
    let bore = scene.build.motor.shaft_diameter.to_mm() / 2.0;
    let ring = Shape::circle(axis, view.px(bore)).stroke(canvas.paint(Role::Ink), 0.9);
    let ring = if scene.shaft_fits() { ring.fill(canvas.paint(Role::Shaft)) } else { ring.dashed(&[4.0, 3.0]) };
    group.push(ring.with("id", canvas.id(&scene.id(&format!("{name}-axis")))));
    Ok(linked(canvas, parts, kind, group))
}

/// Pitch circles, line of centres, and the part of the line of contact where the flanks touch.
fn circles(canvas: &Canvas, view: &View, scene: &Scene<'_>, mesh: &Mesh<'_>) -> Shape {
    let mut group = Shape::group(canvas.id(&scene.id("circles")));
    let chain = [9.0, 3.0, 2.0, 3.0];
    for (member, x) in [(Member::Pinion, 0.0), (Member::Spur, mesh.centre_mm)] {
        let radius = scene.bay.pair.working_radius(member).to_mm();
        let circle = Shape::circle(view.at([x, 0.0]), view.px(radius)).stroke(canvas.paint(Role::Quiet), 0.7);
        group.push(circle.dashed(&chain));
    }
    let centres =
        Shape::line(view.at([0.0, 0.0]), view.at([mesh.centre_mm, 0.0])).stroke(canvas.paint(Role::Quiet), 0.7);
    group.push(centres.dashed(&chain).with("id", canvas.id(&scene.id("centres"))));
    let [start, end] = mesh.contact_mm();
    if end > start {
        let [from, to] = [start, end].map(|s| view.at(mesh.on_drive_line(s)));
        group.push(Shape::line(from, to).stroke(canvas.paint(Role::Accent), 2.0));
    }
    group
}
