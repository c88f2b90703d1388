//! The screw map: where each joint's screws stand, in which order they are tightened, how long each is, what it bites
//! into, and to which torque.

use crate::canvas::{Anchor, Area, BODY, Canvas, HEAD, Hatch, Line, SMALL, Shape, polyline};
use crate::chart::panels;
use crate::frame::Frame;
use crate::lettering::Face;
use crate::theme::Role;
use crate::view::View;
use crate::words::{sentence, state_words};
use crate::{Error, Figure};
use toothsayer_job::{Joint, State};
use toothsayer_mechanics::screw::{Thread, Weakest, Window};
use toothsayer_quantity::{Kind, Length};
use toothsayer_verdict::{JointFriction, Loaded, TightJoint, Windows};

/// A panel is at least this wide, px.
const PANEL: f64 = 300.0;
/// Height of both views of a joint, px.
const HEIGHT: f64 = 150.0;
/// Share of a panel's width that the section takes.
const SECTION: f64 = 0.6;

/// The joints of a state, with the windows that they will be tightened in.
pub fn screw_map(
    truck: &str,
    state: State,
    loaded: &Loaded,
    windows: &Windows,
    frame: &Frame,
) -> Result<Figure, Error> {
    let joints = &loaded.build.joints;
    if joints.is_empty() {
        return Err(Error::Nothing { what: "joint" });
    }
    let title = format!("Which screw goes where, {}", state_words(state));
    let mut canvas = Canvas::new("screws", frame);
    let under = format!("{truck} · sections to scale · numbers in the order of tightening, crosswise in two rounds");
    let y = canvas.heading(&title, &under);
    let area = canvas.area().below(y);
    let mut told = Vec::new();
    let bottom = panels(&mut canvas, area, (joints.len(), PANEL), |canvas, area, place| {
        let joint = &joints[place];
        let sight = Sight::new(joint, loaded, windows)?;
        let words = sight.words(frame);
        told.push(format!(
            "{}: {}",
            joint.name,
            words.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>().join(", ")
        ));
        Ok(panel(canvas, area, &sight, &words))
    })?;
    let foot = "Where the screws stand on their circle is not measured. Thread locker on metal threads only; into \
                plastic by hand, stop at the first firm resistance. A maker's printed torque goes first.";
    let bottom = canvas.paragraph(area.below(bottom + 10.0), SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    Ok(Figure::of(canvas, &title, &format!("{truck}. {}.", told.join("; "))))
}

/// A joint with what is computed of it.
struct Sight<'a> {
    joint: &'a Joint,
    thread: &'static Thread,
    window: Window,
    weakest: Weakest,
}

impl<'a> Sight<'a> {
    fn new(joint: &'a Joint, loaded: &Loaded, windows: &Windows) -> Result<Sight<'a>, Error> {
        let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL)?;
        let window = tight.window_among(windows)?;
        let thread = Thread::find(&joint.size).map_err(toothsayer_mechanics::Error::from)?;
        Ok(Sight { joint, thread, window, weakest: tight.weakest() })
    }

    fn washer_mm(&self) -> f64 {
        if self.joint.washer { self.thread.washer_thickness.to_mm() } else { 0.0 }
    }

    /// How far the screw reaches into the part with the thread.
    fn reach_mm(&self) -> f64 {
        self.joint.length.to_mm() - self.joint.clamped.to_mm() - self.washer_mm()
    }

    fn words(&self, frame: &Frame) -> Vec<(String, Role)> {
        let joint = self.joint;
        let washer = if joint.washer { "with washer" } else { "without washer" };
        let length = |mm: f64| frame.length(Length::mm(mm));
        let screw = format!(
            "{} × {} × {}, class {}, {washer}",
            joint.screws,
            joint.size,
            frame.length(joint.length),
            joint.class
        );
        let reach = self.reach_mm();
        let depth = joint.hole_depth.to_mm();
        let bite = match self.weakest {
            Weakest::Bottoms => (format!("bottoms out by {}: clamps nothing", length(reach - depth)), Role::Bad),
            Weakest::NoEngagement => ("does not reach the thread".to_owned(), Role::Bad),
            _ => (format!("bites {} into {}, hole {} deep", length(reach), joint.thread_in, length(depth)), Role::Ink),
        };
        let torque = if self.window.is_open() {
            (format!("tighten to {}", window_words(&self.window, frame)), Role::Ink)
        } else {
            ("no torque does: change the joint".to_owned(), Role::Bad)
        };
        let mut words = vec![(screw, Role::Ink), bite, torque];
        if self.weakest.clamps() {
            words.push((format!("tightened past that, {}", gives_way(self.weakest)), Role::Quiet));
        }
        if joint.free {
            words.push(("found loose".to_owned(), Role::Bad));
        }
        words
    }
}

/// What happens to the weakest part.
fn gives_way(weakest: Weakest) -> &'static str {
    match weakest {
        Weakest::Screw => "the screw yields first",
        Weakest::Head => "the head sinks in first",
        Weakest::Thread => "the thread shears first",
        Weakest::Bottoms | Weakest::NoEngagement => "nothing clamps",
    }
}

/// "1.9 to 3.4 N·m", the low end rounded up and the high end down to what a driver can be set to.
fn window_words(window: &Window, frame: &Frame) -> String {
    let [low, high] = [window.low, window.high].map(|torque| torque.to_n_m());
    let step = if frame.system == toothsayer_quantity::System::Us { 0.0112984829 } else { 0.01 };
    let [low, high] = [(low / step).ceil() * step, (high / step).floor() * step];
    let (low, high) = (frame.show(Kind::Torque, low), frame.show(Kind::Torque, high));
    let bare = low.split_once(' ').filter(|(_, unit)| high.ends_with(unit)).map_or(low.as_str(), |(number, _)| number);
    format!("{bare} to {high}")
}

fn panel(canvas: &mut Canvas, area: Area, sight: &Sight<'_>, words: &[(String, Role)]) -> f64 {
    let y = canvas.paragraph(area, HEAD, Role::Ink, &sentence(&sight.joint.name)) + 6.0;
    let section = Area { y, width: SECTION * area.width, ..area };
    section_view(canvas, section, sight);
    let circle = Area { x: section.right() + 16.0, y, width: area.right() - section.right() - 16.0 };
    circle_view(canvas, circle, sight);
    let mut y = y + HEIGHT + 8.0;
    for (text, role) in words {
        y = canvas.paragraph(area.below(y), BODY, *role, text);
    }
    y
}

/// The screw in section, lying: head at the left, clamped part, part with the thread.
fn section_view(canvas: &mut Canvas, area: Area, sight: &Sight<'_>) {
    let mm = sight.thread.diameter.to_mm();
    let (head, washer) = (mm, sight.washer_mm());
    let clamped = sight.joint.clamped.to_mm();
    let (reach, depth) = (sight.reach_mm(), sight.joint.hole_depth.to_mm());
    let block = depth.max(reach) + 0.6 * mm;
    let half = 0.5 * sight.thread.washer_outer.to_mm().max(sight.thread.head.to_mm()) + 0.5 * mm;
    let px_per_mm = (area.width / (head + washer + clamped + block)).min(HEIGHT / (2.0 * half));
    let origin_px = [area.x + (head + washer) * px_per_mm, area.y + HEIGHT / 2.0];
    let view = View { origin_px, px_per_mm };
    let mut group = view.group(canvas, &format!("section-{}", sight.joint.name)).told("screw in section");
    let ink = canvas.paint(Role::Ink);
    let fails = !sight.weakest.clamps();
    let rect = |from: [f64; 2], to: [f64; 2], fill: String| {
        Shape::rect(view.at(from), view.at(to)).fill(fill).stroke(ink.clone(), 1.0)
    };
    group.push(rect([0.0, -half], [clamped, half], canvas.paint(Role::Metal2)));
    group.push(rect([clamped, -half], [clamped + block, half], canvas.hatch(Hatch::Cut)));
    let hole = sight.thread.hole.to_mm() / 2.0;
    group.push(rect([0.0, -hole], [clamped, hole], canvas.paint(Role::Paper)));
    let bore = mm / 2.0;
    let point = clamped + depth + 0.5 * bore;
    let hollow = [[clamped, -bore], [clamped + depth, -bore], [point, 0.0], [clamped + depth, bore], [clamped, bore]];
    let hollow: Vec<[f64; 2]> = hollow.into_iter().map(|at| view.at(at)).collect();
    group.push(Shape::path(polyline(&hollow, true)).fill(canvas.paint(Role::Paper)).stroke(ink.clone(), 1.0));
    if washer > 0.0 {
        let rim = sight.thread.washer_outer.to_mm() / 2.0;
        group.push(rect([-washer, -rim], [0.0, rim], canvas.paint(Role::Metal)));
    }
    let tip = clamped + reach;
    let fill = if fails { canvas.hatch(Hatch::Bad) } else { canvas.paint(Role::Shaft) };
    group.push(
        rect([-washer, -bore], [tip, bore], fill.clone()).with("id", canvas.id(&format!("stem-{}", sight.joint.name))),
    );
    let rim = sight.thread.head.to_mm() / 2.0;
    group.push(rect([-washer - head, -rim], [-washer, rim], fill));
    for side in [-0.82, 0.82] {
        let thread = Shape::line(view.at([clamped.min(tip), side * bore]), view.at([tip, side * bore]));
        group.push(thread.stroke(canvas.paint(Role::Quiet), 0.7));
    }
    let axis = Shape::line(view.at([-washer - head, 0.0]), view.at([clamped + block, 0.0]));
    group.push(axis.stroke(canvas.paint(Role::Quiet), 0.7).dashed(&[9.0, 3.0, 2.0, 3.0]));
    canvas.draw(group);
}

/// The heads on their circle, numbered crosswise.
fn circle_view(canvas: &mut Canvas, area: Area, sight: &Sight<'_>) {
    let count = sight.joint.screws.max(1);
    let middle = [area.x + area.width / 2.0, area.y + HEIGHT / 2.0];
    let ring = 12.0;
    let radius = (area.width.min(HEIGHT) / 2.0 - ring - 2.0).max(ring);
    let circle = Shape::circle(middle, radius).stroke(canvas.paint(Role::Line), 0.8).dashed(&[3.0, 3.0]);
    canvas.draw(circle.with("id", canvas.id(&format!("circle-{}", sight.joint.name))));
    for (place, rank) in crosswise(count).into_iter().enumerate() {
        let (sin, cos) = (std::f64::consts::TAU * f64::from(rank) / f64::from(count)).sin_cos();
        let [x, y] = [middle[0] + radius * sin, middle[1] - radius * cos];
        let head = Shape::circle([x, y], ring).fill(canvas.paint(Role::Metal)).stroke(canvas.paint(Role::Ink), 1.0);
        canvas.draw(head);
        let face = Face { size_px: 11.0, bold: true };
        let text = (place + 1).to_string();
        canvas.text(&Line { at: [x, y + 4.0], anchor: Anchor::Middle, face, role: Role::Ink, text: &text });
    }
}

/// Places around the circle in the order of tightening: each as far as can be from the one before.
fn crosswise(count: u32) -> Vec<u32> {
    let half = count / 2;
    if count.is_multiple_of(2) {
        (0..count).map(|rank| rank / 2 + (rank % 2) * half).collect()
    } else {
        (0..count).map(|rank| rank * half % count).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::crosswise;

    #[track_caller]
    fn check(count: u32, expected: &[u32]) {
        assert_eq!(crosswise(count), expected);
    }

    #[test]
    fn each_screw_stands_across_from_the_one_before() {
        check(2, &[0, 1]);
        check(4, &[0, 2, 1, 3]);
        check(5, &[0, 2, 4, 1, 3]);
        check(6, &[0, 3, 1, 4, 2, 5]);
    }

    #[test]
    fn every_screw_comes_once() {
        for count in 2..=24 {
            let mut order = crosswise(count);
            order.sort_unstable();
            assert_eq!(order, (0..count).collect::<Vec<u32>>());
        }
    }
}
