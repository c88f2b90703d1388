//! The parts of the gear bay in the order in which the bench meets them, each with its figure and its margin.

use super::Scene;
use crate::canvas::{Canvas, Shape};
use crate::theme::Role;
use crate::words::{Standing, margin_words, worst_of_each};
use toothsayer_job::{Build, Joint};
use toothsayer_quantity::Length;
use toothsayer_verdict::{Limit, Margin};

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PartKind {
    Cover,
    Bearing,
    Pinion,
    Spacer,
    SetScrew,
    MotorScrews,
    MountScrews,
    Mesh,
    Spur,
    Shaft,
    InputCover,
}

/// A part with its words.
pub(crate) struct BayPart<'a> {
    pub kind: PartKind,
    pub number: usize,
    pub name: String,
    /// What it measures.
    pub detail: String,
    /// Its least margin.
    pub margin: Option<&'a Margin>,
}

impl BayPart<'_> {
    /// "0.86 fails: teeth break off at the root".
    pub(crate) fn verdict(&self) -> Option<String> {
        let margin = self.margin?;
        let words = margin_words(margin);
        let tells = margin.margin.is_some_and(|value| value < 1.0);
        Some(if tells { format!("{words}: {}", margin.limit.row().plain) } else { words })
    }
}

impl BayPart<'_> {
    /// What stands for it, as a link where the page wants one.
    pub(crate) fn linked(&self, canvas: &Canvas, shape: Shape) -> Shape {
        let within = canvas.frame.within;
        if within.linked { shape.leading_to(&format!("#part-{}", self.number), &self.name) } else { shape }
    }

    /// What stands for it beside its row in the list: touched, but not reached once more by keyboard.
    pub(crate) fn touched(&self, canvas: &Canvas, shape: Shape) -> Shape {
        let within = canvas.frame.within;
        if within.linked { shape.touched(&format!("#part-{}", self.number)) } else { shape }
    }

    /// How its least margin stands.
    pub(crate) fn standing(&self) -> Option<Standing> {
        self.margin.map(Standing::of)
    }
}

/// Everything that stands for a part, as a link where the page wants one.
pub(crate) fn linked(canvas: &Canvas, parts: &[BayPart<'_>], kind: PartKind, shape: Shape) -> Shape {
    match parts.iter().find(|part| part.kind == kind) {
        Some(part) => part.touched(canvas, shape),
        None => shape,
    }
}

/// A part's shape, filled and outlined by how the part stands: as `plain` where nothing is wrong.
pub(crate) fn dressed(canvas: &Canvas, parts: &[BayPart<'_>], kind: PartKind, plain: Role, shape: Shape) -> Shape {
    let standing = parts.iter().filter(|part| part.kind == kind).find_map(BayPart::standing);
    let (fill, ink, width) = match standing {
        Some(Standing::Fails) => (Role::BadTint, Role::Bad, 1.8),
        Some(Standing::Tight) => (Role::DoubtTint, Role::Ink, 1.0),
        _ => (plain, Role::Ink, 1.0),
    };
    shape.fill(canvas.paint(fill)).stroke(canvas.paint(ink), width)
}

/// Every part that the build has, numbered from 1.
pub(crate) fn bay_parts<'a>(scene: &'a Scene<'_>) -> Vec<BayPart<'a>> {
    let build = &scene.build;
    let length = |length: Length| scene.frame.length(length);
    let teeth = |count: u32, width: Length| format!("{count} teeth, face {}", length(width));
    let spec = &build.gears.spec;
    let spacer = 1e-3 * scene.lengths.spacer;
    let mut parts = vec![
        part(PartKind::Cover, "gear cover", String::new(), None),
        part(PartKind::Bearing, "support bearing", bearing_words(build), of(scene, &["support-bearing", "stack"])),
        part(
            PartKind::Pinion,
            "pinion",
            teeth(spec.pinion.teeth, build.gears.pinion.face_width),
            of(scene, &["pinion"]),
        ),
        part(
            PartKind::Spacer,
            "spacer",
            if spacer > 0.0 { length(Length::m(spacer)) } else { "none fitted".into() },
            None,
        ),
        part(PartKind::SetScrew, "set screw", build.set_screw.size.clone(), of(scene, &["set-screw"])),
    ];
    for (kind, carries) in [(PartKind::MotorScrews, "motor"), (PartKind::MountScrews, "mount")] {
        parts.extend(
            build.joints.iter().filter(|joint| joint.carries == carries).map(|joint| joint_part(scene, kind, joint)),
        );
    }
    let backlash = match scene.bay.pair.contact_ratio() {
        ratio if ratio > 0.0 => {
            let play = length(scene.bay.pair.circumferential_backlash());
            format!("backlash {play}, contact ratio {ratio:.2}")
        }
        _ => "the teeth do not reach each other".to_owned(),
    };
    parts.push(part(PartKind::Mesh, "mesh", backlash, of(scene, &["mesh"])));
    parts.push(part(PartKind::Spur, "spur", teeth(spec.spur.teeth, build.gears.spur.face_width), of(scene, &["spur"])));
    let shaft = format!("{} thick", length(build.motor.shaft_diameter));
    parts.push(part(PartKind::Shaft, "motor shaft", shaft, of(scene, &["motor-shaft"])));
    let rest = build.joints.iter().filter(|joint| !matches!(joint.carries.as_str(), "motor" | "mount"));
    parts.extend(rest.map(|joint| joint_part(scene, PartKind::InputCover, joint)));
    for (place, part) in parts.iter_mut().enumerate() {
        part.number = place + 1;
    }
    parts
}

fn part<'a>(kind: PartKind, name: &str, detail: String, margin: Option<&'a Margin>) -> BayPart<'a> {
    BayPart { kind, number: 0, name: name.to_owned(), detail, margin }
}

fn joint_part<'a>(scene: &'a Scene<'_>, kind: PartKind, joint: &Joint) -> BayPart<'a> {
    let loose = if joint.free { ", found loose" } else { "" };
    let detail = format!("{} × {}{loose}", joint.screws, joint.size);
    BayPart { kind, number: 0, name: joint.name.clone(), detail, margin: of(scene, &[&joint.name]) }
}

fn bearing_words(build: &Build) -> String {
    match &build.support {
        None => "none fitted".into(),
        Some(support) if support.stiffness.to_n_per_mm() < 1.0 => "gone: it carries nothing".into(),
        Some(support) => support.bearing.clone().unwrap_or_default(),
    }
}

/// The least counted margin of some parts, wear aside.
fn of<'a>(scene: &'a Scene<'_>, names: &[&str]) -> Option<&'a Margin> {
    let state = scene.margins?;
    let own = worst_of_each(&state.margins).into_iter().filter(|margin| names.contains(&margin.part.as_str()));
    own.filter(|margin| margin.limit != Limit::Flank && margin.case != "wheel-stop" && margin.margin.is_some())
        .min_by(|a, b| a.margin.unwrap_or(f64::MAX).total_cmp(&b.margin.unwrap_or(f64::MAX)))
}
