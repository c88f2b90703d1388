//! A pair of teeth through its contact: who carries the load from the first touch to the last.

use crate::bay::{Glass, Mesh};
use crate::canvas::{Area, BODY, Canvas, Hatch, LEADING, SMALL, STRONG, Shape, polyline};
use crate::chart::{legend, panels};
use crate::frame::Frame;
use crate::theme::{Look, Role};
use crate::words::state_words;
use crate::{Error, Figure};
use std::f64::consts::TAU;
use svg::node::element::Element;
use toothsayer_mechanics::gear::{Engagement, Member, Pair};
use toothsayer_quantity::Length;
use toothsayer_verdict::{Bay, Staged};

/// A panel is at least this wide, px.
const PANEL: f64 = 190.0;
/// Largest radius of a window, px.
const WIDEST: f64 = 130.0;
/// Teeth of each gear drawn to each side of the pitch point.
const TEETH: u32 = 4;
/// Contact ratio that is asked for (common practice, no source).
const LEAST_RATIO: f64 = 1.2;
/// How long a tooth takes on the page to where the next one stood, s.
const CYCLE_S: f64 = 5.0;

/// One moment: where the leading pair touches, mm past the pitch point, and what to see.
struct Moment {
    along: f64,
    words: String,
}

/// The mesh of one state through a cycle: windows side by side, and on a page one that turns.
///
/// Nothing turns for readers who ask for less motion, and on paper.
pub fn mesh_cycle(truck: &str, stage: &Staged, frame: &Frame) -> Result<Figure, Error> {
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let bay = Bay::new(&build, stage.run_in)?;
    let pair = &bay.pair;
    let path = Path::of(pair);
    let title = format!("Who carries the load, {}", state_words(stage.state));
    let mut canvas = Canvas::new("mesh-cycle", frame);
    let under = format!("{truck} · one pair of teeth from its first touch to its last · the pinion drives");
    let y = canvas.heading(&title, &under);
    let area = canvas.area().below(y);
    let told = path.told(frame);
    let mut y = canvas.paragraph(area, BODY, if path.ratio < LEAST_RATIO { Role::Bad } else { Role::Ink }, &told) + 4.0;
    if matches!(pair.engagement(), Engagement::Binds { .. }) {
        y = canvas.paragraph(area.below(y), BODY, Role::Bad, "The teeth bind: both flanks touch at once.") + 4.0;
    }
    if path.is_open() {
        y = strip(&mut canvas, area.below(y), &path) + 10.0;
    }
    if path.is_open() && frame.look == Look::Page {
        y = turning(&mut canvas, area.below(y), pair, &path)? + 10.0;
    }
    let moments = path.moments();
    let bottom = panels(&mut canvas, area.below(y), (moments.len(), PANEL), |canvas, area, place| {
        still(canvas, area, pair, (place, &moments[place]))
    })?;
    canvas.reach(bottom);
    Ok(Figure::of(canvas, &title, &format!("{truck}. {told}")))
}

/// The path of contact, mm past the pitch point.
struct Path {
    start: f64,
    end: f64,
    pitch: f64,
    ratio: f64,
}

impl Path {
    fn of(pair: &Pair) -> Path {
        let mesh = Mesh::new(pair, 0.0);
        let [start, end] = mesh.contact_mm().map(|s| s - mesh.pitch_point_mm());
        Path { start, end, pitch: pair.base_pitch().to_mm(), ratio: pair.contact_ratio() }
    }

    fn is_open(&self) -> bool {
        self.end > self.start
    }

    /// Share of a cycle in which one pair alone carries, and in which none touches.
    fn shares(&self) -> [f64; 2] {
        [if self.ratio < 1.0 { self.ratio } else { (2.0 - self.ratio).max(0.0) }, (1.0 - self.ratio).max(0.0)]
    }

    fn told(&self, frame: &Frame) -> String {
        if !self.is_open() {
            return "The gears do not meet: the teeth pass each other and drive nothing.".into();
        }
        let [alone, none] = self.shares();
        let way = frame.length(Length::mm(self.end - self.start));
        let ratio = self.ratio;
        if none > 0.0 {
            return format!(
                "Contact ratio {ratio:.2}: one pair touches over {way} and no flank for {:.0} % of the time: the next \
                 tooth is caught by its tip, which carries all.",
                100.0 * none
            );
        }
        format!(
            "Contact ratio {ratio:.2}: a pair touches over {way}; one pair alone carries all for {:.0} % of the time, \
             {} share it for the rest.",
            100.0 * alone,
            if ratio > 2.0 { "two or three" } else { "two" }
        )
    }

    /// Where the leading pair stands at the turns of the cycle.
    fn moments(&self) -> Vec<Moment> {
        let at = |along: f64, words: &str| Moment { along, words: words.to_owned() };
        if !self.is_open() {
            return vec![at(0.0, "as the gears stand: no flank touches")];
        }
        if self.ratio < 1.0 {
            return vec![
                at(self.start, "1 the spur's tip meets the pinion's root: alone"),
                at((self.start + self.end) / 2.0, "2 one pair carries all"),
                at(self.end, "3 the pinion's tip leaves, and no other pair touches yet"),
                at((self.end + self.start + self.pitch) / 2.0, "4 no flank touches: tips catch each other"),
            ];
        }
        let leaves = self.end - self.pitch;
        vec![
            at(self.start, "1 a pair meets at the spur's tip: two share the load"),
            at(leaves, "2 the pair before leaves at the pinion's tip"),
            at((leaves + self.start + self.pitch) / 2.0, "3 halfway: one pair carries all"),
        ]
    }
}

/// The path as a bar: who carries where.
fn strip(canvas: &mut Canvas, area: Area, path: &Path) -> f64 {
    let scale = area.width.min(560.0) / (path.end - path.start);
    let x = |along: f64| area.x + (along.clamp(path.start, path.end) - path.start) * scale;
    let y = canvas.paragraph(
        area,
        SMALL,
        Role::Quiet,
        "from the first touch (left) to the last, along the line of contact",
    );
    let bar = |from: f64, to: f64| Shape::rect([x(from), y + 4.0], [x(to), y + 20.0]);
    let (ink, shared, alone) = (canvas.paint(Role::Ink), canvas.paint(Role::Metal2), canvas.hatch(Hatch::Doubt));
    let mut group = Shape::group(canvas.id("path"));
    group.push(bar(path.start, path.end).fill(shared.clone()).stroke(ink.clone(), 1.0));
    let single = [path.end - path.pitch, path.start + path.pitch];
    if single[1] > single[0] {
        group.push(bar(single[0], single[1]).fill(alone.clone()).stroke(ink.clone(), 1.0));
    }
    group.push(Shape::line([x(0.0), y], [x(0.0), y + 24.0]).stroke(ink.clone(), 1.6));
    canvas.draw(group);
    let words = ["one pair carries all", "shared with another pair", "pitch point"].map(str::to_owned);
    let words = if path.ratio > 1.0 { words.to_vec() } else { vec![words[0].clone(), words[2].clone()] };
    legend(canvas, area.below(y + 32.0), &words, |canvas, place, [x, y]| {
        let patch = Shape::rect([x - 12.0, y - 6.0], [x + 12.0, y + 6.0]).stroke(canvas.paint(Role::Ink), 1.0);
        match words[place].as_str() {
            "one pair carries all" => patch.fill(canvas.hatch(Hatch::Doubt)),
            "pitch point" => Shape::line([x, y - 8.0], [x, y + 8.0]).stroke(canvas.paint(Role::Ink), 1.6),
            _ => patch.fill(canvas.paint(Role::Metal2)),
        }
    })
}

/// A gear's teeth near the mesh.
fn teeth(canvas: &Canvas, glass: &Glass, mesh: &Mesh<'_>, member: Member) -> Result<Shape, Error> {
    let points: Vec<[f64; 2]> = mesh.near(member, TEETH)?.into_iter().map(|point| glass.view.at(point)).collect();
    let role = if member == Member::Pinion { Role::Metal } else { Role::Metal2 };
    let shape = Shape::path(polyline(&points, true)).fill(canvas.paint(role)).stroke(canvas.paint(Role::Ink), 1.0);
    Ok(shape.with("stroke-linejoin", "round"))
}

/// The line of contact.
fn line_of_contact(canvas: &Canvas, glass: &Glass, mesh: &Mesh<'_>) -> Shape {
    let [from, to] = mesh.contact_mm().map(|s| glass.view.at(mesh.on_drive_line(s)));
    Shape::line(from, to).stroke(canvas.paint(Role::Accent), 2.0)
}

/// One moment, with its words above.
fn still(canvas: &mut Canvas, area: Area, pair: &Pair, (place, moment): (usize, &Moment)) -> Result<f64, Error> {
    let y = canvas.paragraph(area, STRONG, Role::Ink, &moment.words) + 6.0;
    let y = y.max(area.y + 2.0 * LEADING * STRONG.size_px + 6.0);
    let mesh = Mesh::new(pair, moment.along);
    let radius = (area.width / 2.0 - 2.0).min(WIDEST);
    let glass = Glass::on(&mesh, [area.x + radius + 2.0, y + radius], radius);
    let mut group = glass.group(canvas, &format!("moment-{}", place + 1));
    for member in [Member::Spur, Member::Pinion] {
        group.push(teeth(canvas, &glass, &mesh, member)?);
    }
    let touching = mesh.touching_mm();
    let [start, end] = mesh.contact_mm();
    if end > start {
        group.push(line_of_contact(canvas, &glass, &mesh));
    }
    for s in &touching {
        group.push(dot(canvas, glass.view.at(mesh.on_drive_line(*s)), touching.len() == 1));
    }
    canvas.draw(group.told(&moment.words));
    canvas.draw(glass.rim(canvas));
    Ok(y + 2.0 * radius + 4.0)
}

/// A place of contact: large where one pair carries all.
fn dot(canvas: &Canvas, at: [f64; 2], alone: bool) -> Shape {
    let radius = if alone { 6.5 } else { 4.0 };
    Shape::circle(at, radius).fill(canvas.paint(Role::Accent)).stroke(canvas.paint(Role::Paper), 1.4)
}

/// A window whose gears turn by one tooth and begin again; it stands still where less motion is asked for.
fn turning(canvas: &mut Canvas, area: Area, pair: &Pair, path: &Path) -> Result<f64, Error> {
    let mesh = Mesh::new(pair, path.start);
    let radius = (area.width / 2.0 - 2.0).min(1.3 * WIDEST);
    let glass = Glass::on(&mesh, [area.x + radius + 2.0, area.y + radius], radius);
    let mut group = glass.group(canvas, "turning");
    for (member, name, x) in [(Member::Spur, "spur", mesh.centre_mm), (Member::Pinion, "pinion", 0.0)] {
        let turn_rad = TAU / f64::from(pair.tooth(member).teeth()) * if member == Member::Pinion { 1.0 } else { -1.0 };
        let axis = glass.view.at([x, 0.0]);
        let mut gear = Shape::group(canvas.id(&format!("turning-{name}")));
        gear.push(teeth(canvas, &glass, &mesh, member)?);
        group.push(gear);
        canvas.animate(
            &format!("turning-{name}"),
            &format!("transform-origin:{:.3}px {:.3}px", axis[0], axis[1]),
            &format!("rotate({:.6}deg)", turn_rad.to_degrees()),
            CYCLE_S,
        );
    }
    group.push(line_of_contact(canvas, &glass, &mesh));
    group.push(moving_dots(canvas, &glass, &mesh, path));
    canvas.draw(group.told("the mesh, turning"));
    canvas.draw(glass.rim(canvas));
    Ok(area.y + 2.0 * radius + 4.0)
}

/// Places of contact that move along the line and are seen between its ends alone.
fn moving_dots(canvas: &mut Canvas, glass: &Glass, mesh: &Mesh<'_>, path: &Path) -> Shape {
    let point = |along: f64| glass.view.at(mesh.on_drive_line(mesh.pitch_point_mm() + along));
    let ([from, to], [next, first]) =
        ([point(path.start), point(path.end)], [point(path.start + path.pitch), point(path.start)]);
    let length = (to[0] - from[0]).hypot(to[1] - from[1]).max(1e-9);
    let way = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
    let corner = |[x, y]: [f64; 2], along: f64, across: f64| {
        [x + along * way[0] - across * way[1], y + along * way[1] + across * way[0]]
    };
    let clip = canvas.id("turning-path-clip");
    let mut window = Shape(Element::new("clipPath")).with("id", clip.clone());
    let corners = [corner(from, -3.0, 8.0), corner(to, 3.0, 8.0), corner(to, 3.0, -8.0), corner(from, -3.0, -8.0)];
    window.push(Shape::path(polyline(&corners, true)));
    canvas.draw(window);
    let mut dots = Shape::group(canvas.id("turning-dots"));
    let pairs = path.ratio.ceil() as i32 + 1;
    for pair in -1..pairs {
        dots.push(dot(canvas, point(path.start + f64::from(pair) * path.pitch), false));
    }
    let shift = format!("translate({:.3}px,{:.3}px)", next[0] - first[0], next[1] - first[1]);
    canvas.animate("turning-dots", "", &shift, CYCLE_S);
    let mut clipped = Shape::plain_group().with("clip-path", format!("url(#{clip})"));
    clipped.push(dots);
    clipped
}
