//! The gear bay: pinion and spur in mesh, the motor's shaft in section, the parts in bench order with their margins.

mod axial;
mod glass;
mod lengths;
mod lens;
mod list;
mod mesh;
mod parts;
mod section;

pub(crate) use glass::Glass;
pub(crate) use lengths::ShaftLengths;
pub(crate) use lens::ticked;
pub(crate) use mesh::Mesh;

use crate::canvas::{Anchor, Area, BODY, Canvas, HEAD, Line, SMALL, Shape, polyline};
use crate::frame::Frame;
use crate::theme::Role;
use crate::view::View;
use crate::words::state_words;
use crate::{Error, Figure};
use axial::axial_view;
use lens::lens_view;
use list::part_list;
use parts::{BayPart, bay_parts};
use section::shaft_section;
use toothsayer_job::Build;
use toothsayer_mechanics::gear::Member;
use toothsayer_quantity::{Length, System};
use toothsayer_verdict::{Bay, MeshState, Staged, StateMargins};

/// One state of a truck to be drawn.
#[derive(Clone, Copy)]
pub struct BayScene<'a> {
    /// The state.
    pub stage: &'a Staged,
    /// Its margins, where they are to be told.
    pub margins: Option<&'a StateMargins>,
}

/// A state with what is computed of it.
pub(crate) struct Scene<'a> {
    pub build: Build,
    pub bay: Bay,
    pub lengths: ShaftLengths,
    pub margins: Option<&'a StateMargins>,
    pub frame: Frame,
    truck: String,
    name: &'static str,
    words: &'static str,
}

impl<'a> Scene<'a> {
    fn new(scene: &BayScene<'a>, frame: &Frame) -> Result<Scene<'a>, Error> {
        let stage = scene.stage;
        let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
        let bay = Bay::new(&build, stage.run_in)?;
        let lengths = ShaftLengths::of(&build, &stage.sheet.fields);
        let (name, words) = (stage.state.name(), state_words(stage.state));
        let truck = stage.sheet.fields.word("truck.name").unwrap_or("Truck").to_owned();
        Ok(Scene { build, bay, lengths, margins: scene.margins, frame: *frame, truck, name, words })
    }

    /// An id of this state's drawing.
    fn id(&self, part: &str) -> String {
        format!("{}-{part}", self.name)
    }

    fn state(&self) -> MeshState {
        MeshState::of(&self.bay)
    }

    fn bearing_carries(&self) -> bool {
        self.build.support.as_ref().is_some_and(|support| support.stiffness.to_n_per_mm() >= 1.0)
    }

    /// Whether the pinion has room for the shaft.
    fn shaft_fits(&self) -> bool {
        let root = self.bay.pair.tooth(Member::Pinion).root_radius();
        root > self.build.motor.shaft_diameter / 2.0
    }

    /// What is wrong with how the parts stand, in words.
    fn wrongs(&self) -> Vec<String> {
        let length = |length: Length| self.frame.length(length);
        let mut wrongs = Vec::new();
        match self.state() {
            MeshState::Runs => {}
            MeshState::Apart => wrongs.push("The gears do not meet.".to_owned()),
            MeshState::Binds { by, .. } => wrongs.push(format!("The mesh binds by {}.", length(by))),
        }
        if !self.shaft_fits() {
            wrongs.push("The shaft is thicker than the pinion's root: this pinion cannot sit on it.".to_owned());
        }
        let gap = self.build.stack.gap;
        if gap < Length::ZERO {
            wrongs.push(format!("The pinion presses the cover's bearing by {}: the cover cannot seat.", length(-gap)));
        }
        if gap > Length::mm(1.0) {
            wrongs.push(format!("The pinion can wander by {}.", length(gap)));
        }
        if self.build.stack.overlap <= Length::ZERO {
            wrongs.push("The faces of pinion and spur miss each other.".to_owned());
        }
        if self.build.support.is_some() && !self.bearing_carries() {
            wrongs.push("The support bearing carries nothing.".to_owned());
        }
        for joint in self.build.joints.iter().filter(|joint| joint.free) {
            wrongs.push(format!("Found loose: {}.", joint.name));
        }
        if self.build.gears.pitch_error() > Length::ZERO {
            wrongs.push("The gears have two pitches: drawn with the pair's own.".to_owned());
        }
        wrongs
    }
}

/// The names of a state's parts in bench order, the first of them number 1.
pub fn part_names(scene: &BayScene<'_>, frame: &Frame) -> Result<Vec<String>, Error> {
    let scene = Scene::new(scene, frame)?;
    Ok(bay_parts(&scene).into_iter().map(|part| part.name).collect())
}

/// The gear bay of one state, or of two side by side.
pub fn gear_bay(scenes: &[BayScene<'_>], frame: &Frame) -> Result<Figure, Error> {
    let scenes: Vec<Scene<'_>> = scenes.iter().map(|scene| Scene::new(scene, frame)).collect::<Result<_, _>>()?;
    let Some(first) = scenes.first() else { return Err(Error::Nothing { what: "state" }) };
    let states: Vec<&str> = scenes.iter().map(|scene| scene.words).collect();
    let title = format!("Gear bay, {}", states.join(" and "));
    let mut canvas = Canvas::new("gear-bay", frame);
    let under = format!("{} · true to scale · numbers in bench order", first.truck);
    let y = canvas.heading(&title, &under);
    let area = canvas.area().below(y);
    let bottom = match (scenes.as_slice(), frame.wide()) {
        ([scene], true) => wide(&mut canvas, scene, area)?,
        ([left, right], true) => {
            let column = (area.width - COLUMN_GAP) / 2.0;
            let halves = [area.x, area.x + column + COLUMN_GAP].map(|x| Area { x, y, width: column });
            let tops = [headed(&mut canvas, left, halves[0]), headed(&mut canvas, right, halves[1])];
            let [a, b] = halves.map(|half| half.below(tops[0].max(tops[1])));
            let ends = [stacked(&mut canvas, left, a)?, stacked(&mut canvas, right, b)?];
            ends[0].max(ends[1])
        }
        ([scene], false) if area.width >= PAGE => page(&mut canvas, scene, area)?,
        ([scene], false) => {
            let y = warnings(&mut canvas, scene, area);
            stacked(&mut canvas, scene, area.below(y))?
        }
        (all, _) => {
            let mut y = y;
            for scene in all {
                y = headed(&mut canvas, scene, area.below(y));
                y = stacked(&mut canvas, scene, area.below(y))? + PANEL_GAP;
            }
            y
        }
    };
    canvas.reach(bottom);
    let description = scenes.iter().map(describe).collect::<Vec<_>>().join(" ");
    Ok(Figure::of(canvas, &title, &description))
}

/// Between two columns, px.
const COLUMN_GAP: f64 = 32.0;
/// Between two panels below each other, px.
const PANEL_GAP: f64 = 18.0;
/// Share of a wide sheet that the drawings take, the list has the rest.
const DRAWN_SHARE: f64 = 0.64;
/// Share of the drawings' width that the whole pair takes beside its lens.
const WHOLE_SHARE: f64 = 0.56;

/// Drawings at the left, the list at the right.
fn wide(canvas: &mut Canvas, scene: &Scene<'_>, area: Area) -> Result<f64, Error> {
    let parts = bay_parts(scene);
    let drawn = Area { width: DRAWN_SHARE * area.width, ..area };
    let y = warnings(canvas, scene, area);
    let whole = Area { width: WHOLE_SHARE * drawn.width, ..drawn.below(y) };
    let (whole_end, px_per_mm) = axial_view(canvas, scene, &parts, whole)?;
    let lens = Area { x: whole.right() + 16.0, width: drawn.right() - whole.right() - 16.0, ..whole };
    let lens_end = lens_view(canvas, scene, lens, px_per_mm)?;
    let section = drawn.below(whole_end.max(lens_end) + PANEL_GAP);
    let section_end = shaft_section(canvas, scene, &parts, section);
    let section_end = assumed(canvas, scene, section.below(section_end));
    let list = Area { x: drawn.right() + COLUMN_GAP, y, width: area.right() - drawn.right() - COLUMN_GAP };
    Ok(section_end.max(part_list(canvas, scene, &parts, list)))
}

/// From this width on a sheet is laid out as a page of paper: the drawings above, the list in two columns below.
const PAGE: f64 = 560.0;

/// Whole pair and lens side by side, the section below them, then the list.
fn page(canvas: &mut Canvas, scene: &Scene<'_>, area: Area) -> Result<f64, Error> {
    let parts = bay_parts(scene);
    let y = warnings(canvas, scene, area);
    let whole = Area { width: WHOLE_SHARE * area.width, ..area.below(y) };
    let (whole_end, px_per_mm) = axial_view(canvas, scene, &parts, whole)?;
    let lens = Area { x: whole.right() + 16.0, width: area.right() - whole.right() - 16.0, ..whole };
    let lens_end = lens_view(canvas, scene, lens, px_per_mm)?;
    let y = shaft_section(canvas, scene, &parts, area.below(whole_end.max(lens_end) + PANEL_GAP));
    let y = assumed(canvas, scene, area.below(y)) + PANEL_GAP;
    let (left, right) = parts.split_at(parts.len().div_ceil(2));
    let width = (area.width - COLUMN_GAP) / 2.0;
    let left_end = part_list(canvas, scene, left, Area { y, width, ..area });
    let right_end = part_list(canvas, scene, right, Area { x: area.x + width + COLUMN_GAP, y, width });
    Ok(left_end.max(right_end))
}

/// The state's name and what is wrong in it.
fn headed(canvas: &mut Canvas, scene: &Scene<'_>, area: Area) -> f64 {
    let head = crate::words::sentence(scene.words);
    let y = canvas.paragraph(area, HEAD, Role::Ink, &head) + 2.0;
    warnings(canvas, scene, area.below(y))
}

/// Everything below each other.
fn stacked(canvas: &mut Canvas, scene: &Scene<'_>, area: Area) -> Result<f64, Error> {
    let parts = bay_parts(scene);
    let (y, px_per_mm) = axial_view(canvas, scene, &parts, area)?;
    let y = lens_view(canvas, scene, area.below(y + PANEL_GAP), px_per_mm)?;
    let y = shaft_section(canvas, scene, &parts, area.below(y + PANEL_GAP));
    let y = assumed(canvas, scene, area.below(y));
    Ok(part_list(canvas, scene, &parts, area.below(y + PANEL_GAP)))
}

/// What is wrong, each line behind a mark.
fn warnings(canvas: &mut Canvas, scene: &Scene<'_>, area: Area) -> f64 {
    let mut y = area.y;
    for wrong in scene.wrongs() {
        let [x, middle] = [area.x + 7.0, y + 7.0];
        let corners = [[x, middle - 7.0], [x + 7.0, middle + 5.5], [x - 7.0, middle + 5.5]];
        canvas.draw(
            Shape::path(polyline(&corners, true))
                .fill(canvas.paint(Role::BadTint))
                .stroke(canvas.paint(Role::Bad), 1.2),
        );
        canvas.draw(Shape::line([x, middle - 2.0], [x, middle + 3.0]).stroke(canvas.paint(Role::Bad), 1.4));
        let text = Area { x: area.x + 20.0, y, width: area.width - 20.0 };
        y = canvas.paragraph(text, BODY, Role::Bad, &wrong) + 2.0;
    }
    if y > area.y { y + 6.0 } else { y }
}

/// What the file does not give and is drawn as usual.
fn assumed(canvas: &mut Canvas, scene: &Scene<'_>, area: Area) -> f64 {
    let usual = &scene.lengths.usual;
    let drawn =
        if usual.is_empty() { String::new() } else { format!("Drawn as usual, not given: {}. ", usual.join(", ")) };
    let told = format!(
        "{drawn}Mount, cover and spacer's wall are drawn as usual; where the screws stand on their circle is not measured."
    );
    canvas.paragraph(area.below(area.y + 2.0), SMALL, Role::Quiet, &told)
}

/// A round length that is easy to compare with, below a view.
pub(crate) fn scale_bar(canvas: &mut Canvas, view: &View, area: Area) -> f64 {
    let steps: &[(f64, &str)] = match canvas.frame.system {
        System::Metric => {
            &[(1.0, "1 mm"), (2.0, "2 mm"), (5.0, "5 mm"), (10.0, "10 mm"), (20.0, "20 mm"), (50.0, "50 mm")]
        }
        System::Us => &[
            (1.5875, "1/16 in"),
            (3.175, "1/8 in"),
            (6.35, "1/4 in"),
            (12.7, "1/2 in"),
            (25.4, "1 in"),
            (50.8, "2 in"),
        ],
    };
    let fits = steps.iter().rev().find(|(mm, _)| view.px(*mm) <= SCALE_PX).unwrap_or(&steps[0]);
    let (mm, words) = *fits;
    let y = area.y + 8.0;
    let [from, to] = [[area.x + 1.0, y], [area.x + 1.0 + view.px(mm), y]];
    canvas.draw(Shape::path(lens::ticked(from, to)).stroke(canvas.paint(Role::Ink), 1.0));
    let at = [to[0] + 8.0, y + 4.0];
    canvas.text(&Line { at, anchor: Anchor::Start, face: SMALL, role: Role::Quiet, text: words });
    y + 12.0
}

/// A scale bar is at most this long, px.
const SCALE_PX: f64 = 110.0;

/// The picture in words.
fn describe(scene: &Scene<'_>) -> String {
    let pair = &scene.bay.pair;
    let length = |length: Length| scene.frame.length(length);
    let parts: Vec<String> = bay_parts(scene).iter().map(told).collect();
    format!(
        "{}, {}: pinion of {} and spur of {} teeth, centre distance {}, contact ratio {:.2}, backlash {}, faces overlap {}, gap to the \
         bearing {}. {} Parts: {}.",
        crate::words::sentence(&scene.truck),
        scene.words,
        pair.spec().pinion.teeth,
        pair.spec().spur.teeth,
        length(pair.spec().centre_distance),
        pair.contact_ratio(),
        length(pair.circumferential_backlash()),
        length(scene.build.stack.overlap),
        length(scene.build.stack.gap),
        scene.wrongs().join(" "),
        parts.join("; ")
    )
}

fn told(part: &BayPart<'_>) -> String {
    let words = [Some(part.detail.clone()).filter(|detail| !detail.is_empty()), part.verdict()];
    let words: Vec<String> = words.into_iter().flatten().collect();
    format!("{} {}: {}", part.number, part.name, words.join(", "))
}
