//! Life curves: the chance that the teeth are still whole, run after run.

use crate::canvas::{BODY, Canvas, Shape};
use crate::chart::{Plot, Ruler, legend, stroke_of};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{chance, state_words};
use crate::{Error, Figure};
use toothsayer_job::State;
use toothsayer_verdict::{Life, Survival};

/// Height of the plot, px.
const HEIGHT: f64 = 260.0;
/// Points of a curve.
const POINTS: u32 = 240;
/// The curve goes on past the horizon, and where sets strip later, further until most have, but not without an end.
const LEAST_HORIZONS: f64 = 1.2;
const MOST_HORIZONS: f64 = 20.0;
/// Share of the sets that has to strip for a longer curve to tell more.
const WORTH_DRAWING: f64 = 0.01;

/// The life of a state's teeth.
pub fn life_curves(truck: &str, state: State, life: &Life, frame: &Frame) -> Result<Figure, Error> {
    let title = format!("How long the teeth last, {}", state_words(state));
    let mut canvas = Canvas::new("life", frame);
    let y = canvas.heading(&title, &format!("{truck} · chance that the teeth are still whole, run after run"));
    let area = canvas.area().below(y);
    let mut curves: Vec<(String, &Survival)> = vec![(named("both gears", &life.both), &life.both)];
    curves.extend(life.gears.iter().map(|gear| (named(gear.name, &gear.survival), &gear.survival)));
    let names: Vec<String> = curves.iter().map(|(name, _)| name.clone()).collect();
    let y = legend(&mut canvas, area, &names, |canvas, place, [x, y]| {
        stroke_of(canvas, Shape::line([x - 14.0, y], [x + 14.0, y]), place)
    });
    let end = last_shown(life);
    let across = Ruler { title: "runs", values: &[], ends: Some([0.0, end]) };
    let upright = Ruler { title: "still whole, %", values: &[], ends: Some([0.0, 100.0]) };
    let plot = Plot::new(&mut canvas, area.below(y + 6.0), HEIGHT, &across, &upright);
    let horizon = plot.x.at(life.horizon_runs);
    let [bottom, top] = plot.y.ends_px();
    let line = Shape::line([horizon, top], [horizon, bottom]).stroke(canvas.paint(Role::Ink), 1.2);
    canvas.draw(line.dashed(&[3.0, 3.0]));
    let mut group = Shape::group(canvas.id("curves"));
    for (place, (_, survival)) in curves.iter().enumerate().rev() {
        let step = end / f64::from(POINTS);
        let points: Vec<[f64; 2]> = (0..=POINTS)
            .map(|point| f64::from(point) * step)
            .map(|runs| [runs, 100.0 * survival.after(runs)])
            .collect();
        group.push(stroke_of(&canvas, plot.curve(&points), place));
    }
    canvas.draw(group);
    let whole = chance(life.both.after(life.horizon_runs));
    let told =
        format!("After {:.0} runs (dotted line) both gears are whole with a chance of {whole}.", life.horizon_runs);
    let bottom = canvas.paragraph(area.below(plot.bottom + 2.0), BODY, Role::Ink, &told);
    canvas.reach(bottom);
    Ok(Figure::of(canvas, &title, &format!("{truck}. {told} {}.", names.join("; "))))
}

fn named(name: &str, survival: &Survival) -> String {
    match survival.runs_to_strip().median {
        Some(runs) => format!("{name}: half have stripped by run {:.0}", runs.max(1.0)),
        None => format!("{name}: fewer than half ever strip"),
    }
}

fn last_shown(life: &Life) -> f64 {
    let [least, most] = [LEAST_HORIZONS, MOST_HORIZONS].map(|times| times * life.horizon_runs);
    let strips = life.both.after(most) < 1.0 - WORTH_DRAWING;
    let end = life.both.runs_to_strip().high.unwrap_or(f64::INFINITY);
    (if strips { end.clamp(least, most) } else { least }).ceil().max(1.0)
}
