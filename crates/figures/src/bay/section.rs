//! The motor's shaft in section: mount face, spacer, pinion, set screw, gap, bearing, cover, and the spur beside it.

use super::axial::numbers;
use super::lens::ticked;
use super::parts::{BayPart, PartKind, dressed, linked};
use super::{Scene, scale_bar};
use crate::canvas::{Anchor, Area, BODY, Canvas, HEAD, Hatch, Line, Shape, polyline};
use crate::theme::Role;
use crate::view::View;
use toothsayer_mechanics::gear::Member;
use toothsayer_mechanics::screw::Thread;

/// Drawn thickness of mount and motor face, and of the cover around its bearing, mm (drawing only).
const MOUNT_MM: f64 = 5.0;
const MOTOR_MM: f64 = 6.0;
const COVER_MM: f64 = 2.5;
/// Drawn wall of a spacer, mm (drawing only).
const SPACER_WALL_MM: f64 = 2.0;
/// The view is not higher than this share of its width, px, within these ends.
const HEIGHT_SHARE: f64 = 0.35;
const HIGHEST: [f64; 2] = [230.0, 330.0];
/// Room for the numbers above, px.
const NUMBERS: f64 = 38.0;

/// Draws the section and gives where it ended.
pub(crate) fn shaft_section(canvas: &mut Canvas, scene: &Scene<'_>, parts: &[BayPart<'_>], area: Area) -> f64 {
    let at = [area.x, area.y + 12.0];
    canvas.text(&Line { at, anchor: Anchor::Start, face: HEAD, role: Role::Ink, text: "Motor shaft in section" });
    let area = area.below(area.y + 20.0);
    let body = Body::of(scene);
    let highest = (HEIGHT_SHARE * area.width).clamp(HIGHEST[0], HIGHEST[1]);
    let px_per_mm = (area.width / (body.right - body.left)).min(highest / (body.bottom - body.top));
    let spare = area.width - (body.right - body.left) * px_per_mm;
    let origin_px = [area.x + spare / 2.0 - body.left * px_per_mm, area.y + NUMBERS - body.top * px_per_mm];
    let view = View { origin_px, px_per_mm };
    let mut group = view.group(canvas, &scene.id("section"));
    body.draw(canvas, scene, (&view, parts), &mut group);
    canvas.draw(group);
    let places = body.places(scene).into_iter().map(|(kind, place)| (kind, view.at(place)));
    numbers(canvas, parts, &places.collect::<Vec<_>>(), area);
    let below = view.at([0.0, body.bottom])[1] + 12.0;
    let below = dimensions(canvas, scene, &view, area.below(below));
    scale_bar(canvas, &view, area.below(below + 4.0))
}

/// Radii and places of what is drawn, mm.
struct Body {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    tip: f64,
    root: f64,
    spur_tip: f64,
    motor_screw: Option<[f64; 2]>,
    set_screw: f64,
    bearing_end: f64,
}

impl Body {
    fn of(scene: &Scene<'_>) -> Body {
        let lengths = &scene.lengths;
        let pair = &scene.bay.pair;
        let pinion = pair.tooth(Member::Pinion);
        let (tip, root) = (pinion.tip_radius().to_mm(), pinion.root_radius().to_mm().max(lengths.shaft_radius + 0.5));
        let joint = scene.build.joints.iter().find(|joint| joint.carries == "motor");
        let motor_screw = joint.and_then(|joint| {
            let thread = Thread::find(&joint.size).ok()?;
            Some([joint.circle?.to_mm() / 2.0, thread.diameter.to_mm()])
        });
        let spur_tip = pair.spec().centre_distance.to_mm() - pair.tooth(Member::Spur).tip_radius().to_mm();
        let screw_reach = motor_screw.map_or(0.0, |[radius, size]| radius + size);
        let half = tip.max(lengths.bearing_radius + COVER_MM).max(screw_reach) + 1.5;
        let bearing_end = lengths.bearing_face + lengths.bearing_width;
        let set_screw = Thread::find(&scene.build.set_screw.size).map_or(3.0, |thread| thread.diameter.to_mm());
        Body {
            left: -MOUNT_MM - MOTOR_MM,
            right: bearing_end.max(lengths.pinion_end).max(lengths.spur_face[1]) + COVER_MM + 1.0,
            top: -half,
            bottom: half.max(spur_tip + 4.0),
            tip,
            root,
            spur_tip,
            motor_screw,
            set_screw,
            bearing_end,
        }
    }

    fn draw(&self, canvas: &Canvas, scene: &Scene<'_>, (view, parts): (&View, &[BayPart<'_>]), group: &mut Shape) {
        let lengths = &scene.lengths;
        let ink = canvas.paint(Role::Ink);
        let boxed = |from: [f64; 2], to: [f64; 2], fill: String, name: &str| {
            let shape = Shape::rect(view.at(from), view.at(to)).fill(fill).stroke(ink.clone(), 1.0);
            if name.is_empty() { shape } else { shape.with("id", canvas.id(&scene.id(name))) }
        };
        let part = |kind: PartKind, plain: Role, [from, to]: [[f64; 2]; 2], name: &str| {
            let shape = Shape::rect(view.at(from), view.at(to)).with("id", canvas.id(&scene.id(name)));
            dressed(canvas, parts, kind, plain, shape)
        };
        let link = |kind: PartKind, shape: Shape| linked(canvas, parts, kind, shape);
        let (cut, metal) = (canvas.hatch(Hatch::Cut), canvas.paint(Role::Metal));
        let r = lengths.shaft_radius;
        let motor_top = self.top + 1.0;
        group.push(boxed([self.left, motor_top], [-MOUNT_MM, -motor_top], metal.clone(), "section-motor"));
        for side in [-1.0, 1.0] {
            group.push(boxed([-MOUNT_MM, side * (r + 1.0)], [0.0, side * -motor_top], cut.clone(), ""));
        }
        self.draw_motor_screws(canvas, (view, parts), group);
        let spur = part(
            PartKind::Spur,
            Role::Metal2,
            [[lengths.spur_face[0], self.spur_tip], [lengths.spur_face[1], self.bottom]],
            "section-spur",
        );
        group.push(link(PartKind::Spur, spur.told("spur")));
        let shaft_end = if scene.build.support.is_some() {
            self.bearing_end.max(lengths.pinion_end)
        } else {
            lengths.pinion_end + 1.0
        };
        let shaft = part(PartKind::Shaft, Role::Shaft, [[self.left, -r], [shaft_end, r]], "section-shaft");
        group.push(link(PartKind::Shaft, shaft));
        if lengths.spacer > 0.0 {
            let wall = (r + SPACER_WALL_MM).min(self.root.max(r + 0.8));
            let spacer = boxed([0.0, -wall], [lengths.spacer, wall], metal.clone(), "section-spacer").told("spacer");
            group.push(link(PartKind::Spacer, spacer));
        }
        let hub = [[lengths.spacer, -self.root], [lengths.pinion_end, self.root]];
        let hub = part(PartKind::Pinion, Role::Metal, hub, "section-pinion").told("pinion");
        group.push(link(PartKind::Pinion, hub));
        let [from, to] = lengths.pinion_face;
        let face = part(PartKind::Pinion, Role::Metal, [[from, -self.tip], [to, self.tip]], "section-face");
        group.push(link(PartKind::Pinion, face));
        for side in [-1.0, 1.0] {
            let [a, b] = [from, to].map(|x| view.at([x, side * self.root]));
            group.push(Shape::line(a, b).stroke(canvas.paint(Role::Quiet), 0.7).dashed(&[4.0, 3.0]));
        }
        let [a, b] = lengths.spur_face.map(|x| view.at([x, self.spur_tip]));
        group.push(Shape::line(a, b).stroke(ink.clone(), 1.0).dashed(&[5.0, 3.0]));
        self.draw_set_screw(canvas, scene, (view, parts), group);
        self.draw_bearing(canvas, scene, (view, parts), group);
        let axis = Shape::line(view.at([self.left, 0.0]), view.at([self.right, 0.0]));
        group.push(axis.stroke(canvas.paint(Role::Quiet), 0.7).dashed(&[9.0, 3.0, 2.0, 3.0]));
    }

    fn draw_motor_screws(&self, canvas: &Canvas, (view, parts): (&View, &[BayPart<'_>]), group: &mut Shape) {
        let Some([radius, size]) = self.motor_screw else { return };
        let (fill, ink) = (canvas.paint(Role::Shaft), canvas.paint(Role::Ink));
        for y in [-radius, radius] {
            let half = size / 2.0;
            let stem = Shape::rect(view.at([-MOUNT_MM - 0.6 * MOTOR_MM, y - half]), view.at([0.0, y + half]));
            group.push(stem.fill(fill.clone()).stroke(ink.clone(), 0.8));
            let head = Shape::rect(view.at([0.0, y - 0.75 * size]), view.at([size, y + 0.75 * size]));
            group.push(dressed(canvas, parts, PartKind::MotorScrews, Role::Shaft, head));
        }
    }

    fn set_screw_place(&self, scene: &Scene<'_>) -> f64 {
        let hub = [scene.lengths.spacer, scene.lengths.pinion_face[0]];
        if hub[1] - hub[0] > 0.5 * self.set_screw {
            (hub[0] + hub[1]) / 2.0
        } else {
            (hub[0] + scene.lengths.pinion_end) / 2.0
        }
    }

    fn draw_set_screw(
        &self,
        canvas: &Canvas,
        scene: &Scene<'_>,
        (view, parts): (&View, &[BayPart<'_>]),
        group: &mut Shape,
    ) {
        let x = self.set_screw_place(scene);
        let half = self.set_screw / 2.0;
        let depth = if scene.build.set_screw.on_flat { 0.9 } else { 1.0 };
        let [from, to] = [[x - half, -self.root], [x + half, -scene.lengths.shaft_radius * depth]];
        let screw = dressed(canvas, parts, PartKind::SetScrew, Role::Shaft, Shape::rect(view.at(from), view.at(to)));
        let screw = screw.with("id", canvas.id(&scene.id("section-set-screw"))).told("set screw");
        group.push(linked(canvas, parts, PartKind::SetScrew, screw));
        let slot = polyline(&[view.at([x - half / 2.0, -self.root]), view.at([x + half / 2.0, -self.root])], false);
        group.push(Shape::path(slot).stroke(canvas.paint(Role::Ink), 2.0));
    }

    /// The bearing with the cover around it; dashed where none carries, hatched where the pinion presses into it.
    fn draw_bearing(
        &self,
        canvas: &Canvas,
        scene: &Scene<'_>,
        (view, parts): (&View, &[BayPart<'_>]),
        group: &mut Shape,
    ) {
        let lengths = &scene.lengths;
        let (from, to, ring) = (lengths.bearing_face, self.bearing_end, lengths.bearing_radius);
        let ink = canvas.paint(Role::Ink);
        let carries = scene.bearing_carries();
        let mut bearing = Shape::group(canvas.id(&scene.id("section-bearing"))).told("support bearing");
        for side in [-1.0, 1.0] {
            let race = Shape::rect(view.at([from, side * lengths.shaft_radius]), view.at([to, side * ring]));
            let race = race.stroke(ink.clone(), 1.0);
            bearing.push(if carries { race.fill(canvas.paint(Role::Metal)) } else { race.dashed(&[3.0, 3.0]) });
            let middle = view.at([(from + to) / 2.0, side * (lengths.shaft_radius + ring) / 2.0]);
            if carries {
                let ball = view.px(((ring - lengths.shaft_radius) * 0.28).min(0.4 * lengths.bearing_width));
                bearing.push(Shape::circle(middle, ball).stroke(ink.clone(), 1.0).fill(canvas.paint(Role::Shaft)));
            }
            let wall = polyline(
                &[
                    view.at([from, side * ring]),
                    view.at([to, side * ring]),
                    view.at([to, side * (lengths.shaft_radius + 0.5)]),
                    view.at([to + COVER_MM, side * (lengths.shaft_radius + 0.5)]),
                    view.at([to + COVER_MM, side * (ring + COVER_MM)]),
                    view.at([from, side * (ring + COVER_MM)]),
                ],
                true,
            );
            group.push(Shape::path(wall).fill(canvas.hatch(Hatch::Cut)).stroke(ink.clone(), 1.0));
        }
        group.push(linked(canvas, parts, PartKind::Bearing, bearing));
        if lengths.pinion_end > from {
            for side in [-1.0, 1.0] {
                let clash = Shape::rect(
                    view.at([from, side * lengths.shaft_radius]),
                    view.at([lengths.pinion_end, side * self.root.min(ring)]),
                );
                group.push(clash.fill(canvas.hatch(Hatch::Bad)).stroke(canvas.paint(Role::Bad), 1.4));
            }
        }
    }

    /// Where each numbered part lies.
    fn places(&self, scene: &Scene<'_>) -> Vec<(PartKind, [f64; 2])> {
        let lengths = &scene.lengths;
        let wall = lengths.bearing_radius + COVER_MM / 2.0;
        let ball = -(lengths.bearing_radius + lengths.shaft_radius) / 2.0;
        let mut places = Vec::new();
        if let Some([radius, size]) = self.motor_screw {
            places.push((PartKind::MotorScrews, [size / 2.0, -radius]));
        }
        places.push((PartKind::Shaft, [self.left + 1.5, -0.5 * lengths.shaft_radius]));
        if lengths.spacer > 0.0 {
            places.push((PartKind::Spacer, [lengths.spacer / 2.0, -lengths.shaft_radius - 0.5]));
        }
        places.push((PartKind::SetScrew, [self.set_screw_place(scene), -self.root * 0.85]));
        places.push((PartKind::Pinion, [lengths.pinion_face[1] - 1.0, -0.9 * self.tip]));
        places.push((PartKind::Bearing, [(lengths.bearing_face + self.bearing_end) / 2.0, ball]));
        places.push((PartKind::Cover, [self.bearing_end + COVER_MM / 2.0, -wall]));
        places
    }
}

/// Overlap and gap as dimension lines, a row each.
fn dimensions(canvas: &mut Canvas, scene: &Scene<'_>, view: &View, area: Area) -> f64 {
    let lengths = &scene.lengths;
    let gap = scene.build.stack.gap;
    let meeting = lengths.meeting();
    let overlap = if meeting[1] > meeting[0] {
        format!("faces overlap {}", scene.frame.length(scene.build.stack.overlap))
    } else {
        "the faces miss each other".to_owned()
    };
    let gap_words = match gap.to_mm() {
        mm if mm < 0.0 => format!("presses the bearing by {}", scene.frame.length(-gap)),
        mm if mm > 1.0 => format!("gap {}: wanders", scene.frame.length(gap)),
        _ => format!("gap {}", scene.frame.length(gap)),
    };
    let gap_role = if (0.0..=1.0).contains(&gap.to_mm()) { Role::Ink } else { Role::Bad };
    let overlap_role = if meeting[1] > meeting[0] { Role::Ink } else { Role::Bad };
    let rows = [
        (meeting, overlap, overlap_role, "overlap"),
        ([lengths.pinion_end, lengths.bearing_face], gap_words, gap_role, "gap-to-bearing"),
    ];
    let mut y = area.y;
    for ([from, to], words, role, name) in rows {
        let [a, b] = [from, to].map(|x| [view.at([x, 0.0])[0], y]);
        let line = Shape::path(ticked(a, b)).stroke(canvas.paint(role), 1.4).with("id", canvas.id(&scene.id(name)));
        canvas.draw(line);
        let text = BODY.cut(&words, area.width);
        let width = BODY.width(&text);
        let right = a[0].max(b[0]) + 10.0;
        let left = a[0].min(b[0]) - 10.0 - width;
        let x = if left >= area.x {
            left
        } else if right + width <= area.right() {
            right
        } else {
            area.x
        };
        let (x, drop) = if x == area.x && left < area.x { (area.x, 16.0) } else { (x, 4.0) };
        canvas.text(&Line { at: [x, y + drop], anchor: Anchor::Start, face: BODY, role, text: &text });
        y += 18.0 + drop - 4.0;
    }
    y
}
