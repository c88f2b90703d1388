//! Clamp over runs: how much each joint keeps of its preload, against what it needs.

use crate::canvas::{Area, BODY, Canvas, HEAD, SMALL, Shape};
use crate::chart::{Mark, Measure, Plot, Ruler, marker, panels};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{sentence, state_words};
use crate::{Error, Figure};
use toothsayer_job::{Joint, State};
use toothsayer_quantity::{Force, Kind};
use toothsayer_verdict::{JointFriction, Loaded, TightJoint, Windows};

/// A panel is at least this wide, px.
const PANEL: f64 = 300.0;
/// Height of a panel's plot, px.
const HEIGHT: f64 = 130.0;
/// Runs that are shown, and points between two of them: a clamp falls fastest in the first run.
const RUNS: u32 = 50;
const POINTS_A_RUN: u32 = 4;

/// A joint's clamp from tightening on.
struct Course<'a> {
    joint: &'a Joint,
    points: Vec<(f64, Force)>,
    reported: Vec<(f64, Force)>,
    needed: Option<Force>,
}

/// The clamp of every joint of a state, tightened as it is.
pub fn clamp_over_runs(
    truck: &str,
    state: State,
    loaded: &Loaded,
    windows: &Windows,
    frame: &Frame,
) -> Result<Figure, Error> {
    let courses: Vec<Course<'_>> =
        loaded.build.joints.iter().map(|joint| course(joint, loaded, windows)).collect::<Result<_, Error>>()?;
    let title = format!("Clamp over runs, {}", state_words(state));
    let mut canvas = Canvas::new("clamp", frame);
    let y = canvas.heading(&title, &format!("{truck} · what one screw of each joint still presses, run after run"));
    let area = canvas.area().below(y);
    let bottom = panels(&mut canvas, area, (courses.len(), PANEL), |canvas, area, place| {
        Ok(panel(canvas, area, &courses[place]))
    })?;
    let foot = "Rings mark runs 1, 2, 5, 20 and 50 after tightening; the dashed line is the clamp that the blows, or \
                the file, ask for. Retighten before the curve meets it.";
    let bottom = canvas.paragraph(area.below(bottom + 10.0), SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    let told: Vec<String> =
        courses.iter().map(|course| format!("{}: {}", course.joint.name, words(course, frame))).collect();
    Ok(Figure::of(canvas, &title, &format!("{truck}. {}.", told.join("; "))))
}

fn course<'a>(joint: &'a Joint, loaded: &Loaded, windows: &Windows) -> Result<Course<'a>, Error> {
    let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL)?;
    let needed = tight.needed_clamp()?;
    let window = tight.window_among(windows)?;
    let torque = tight.torque(&window);
    let at = |step: u32| {
        let runs = f64::from(step) / f64::from(POINTS_A_RUN);
        Ok((runs, tight.clamp_after(torque, runs)?))
    };
    let points = (0..=RUNS * POINTS_A_RUN).map(at).collect::<Result<_, Error>>()?;
    Ok(Course { joint, points, reported: tight.clamp_over_runs(torque)?, needed })
}

/// The first shown run with less than is needed.
fn fades(course: &Course<'_>) -> Option<f64> {
    let needed = course.needed?;
    course.points.iter().find(|(_, clamp)| *clamp < needed).map(|(runs, _)| *runs)
}

fn words(course: &Course<'_>, frame: &Frame) -> String {
    let force = |force: Force| frame.show(Kind::Force, force.to_n().round());
    if course.joint.free {
        return "found loose: it clamps nothing".into();
    }
    let last = course.points.last().map_or(Force::ZERO, |(_, clamp)| *clamp);
    let kept = format!("{} after {RUNS} runs", force(last));
    match (course.needed, fades(course)) {
        (None, _) => format!("{kept}; no clamp is asked for"),
        (Some(needed), None) => format!("{kept}, needs {}", force(needed)),
        (Some(needed), Some(0.0)) => format!("needs {}: too little from the start", force(needed)),
        (Some(needed), Some(runs)) => format!("needs {}: too little after run {:.0}", force(needed), runs.ceil()),
    }
}

fn panel(canvas: &mut Canvas, area: Area, course: &Course<'_>) -> f64 {
    let frame = canvas.frame;
    let bad = course.joint.free || fades(course).is_some();
    let y = canvas.paragraph(area, HEAD, Role::Ink, &sentence(&course.joint.name));
    let words = words(course, &frame);
    let y = canvas.paragraph(area.below(y), BODY, if bad { Role::Bad } else { Role::Ink }, &words);
    let clamps = course.points.iter().map(|(_, clamp)| clamp.to_n()).chain(course.needed.map(Force::to_n));
    let measure = Measure::of(Kind::Force, clamps.clone().fold(1.0, f64::max), frame.system);
    let values: Vec<f64> = clamps.map(|n| measure.count(n)).collect();
    let across = Ruler { title: "runs since tightening", values: &[], ends: Some([0.0, f64::from(RUNS)]) };
    let upright = Ruler { title: &measure.titled("clamp of one screw"), values: &values, ends: None };
    let plot = Plot::new(canvas, area.below(y + 4.0), HEIGHT, &across, &upright);
    let mut group = Shape::group(canvas.id(&course.joint.name)).told(&words);
    if let Some(needed) = course.needed {
        let level = plot.level(measure.count(needed.to_n()));
        group.push(level.stroke(canvas.paint(Role::Bad), 1.4).dashed(&[6.0, 4.0]));
    }
    if !course.joint.free {
        let points: Vec<[f64; 2]> =
            course.points.iter().map(|(runs, clamp)| [*runs, measure.count(clamp.to_n())]).collect();
        group.push(plot.curve(&points).stroke(canvas.paint(Role::Accent), 2.0));
        for (runs, clamp) in &course.reported {
            let at = plot.at([*runs, measure.count(clamp.to_n())]);
            group.push(marker(canvas, Mark::Ring, at, Role::Accent));
        }
    }
    canvas.draw(group);
    plot.bottom
}
