//! The chance of a comeback over the next runs, a curve for each alternative.

use crate::canvas::{Canvas, SMALL, Shape};
use crate::chart::{Mark, Plot, Ruler, legend_of_curves, marker, stroke_of};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{Drawn, chance, drawn_repairs};
use crate::{Error, Figure};
use toothsayer_verdict::{Memo, Verdict};

/// Height of the plot, px.
const HEIGHT: f64 = 260.0;
/// Shares of the horizon that are computed, the plan knows the whole: a comeback grows fastest at first.
const SHARES: [f64; 5] = [0.02, 0.1, 0.22, 0.42, 0.7];

/// The chance of a comeback of each alternative up to the horizon.
#[derive(Clone, Debug)]
pub struct Comebacks {
    runs: Vec<f64>,
    chances: Vec<Vec<f64>>,
}

impl Comebacks {
    /// Computes them; known simulations are not run again.
    pub fn new(verdict: &Verdict<'_>, memo: &Memo) -> Result<Comebacks, Error> {
        let horizon = verdict.job.shop.horizon_runs;
        let mut runs: Vec<f64> = SHARES.iter().map(|share| (share * horizon).round().max(1.0)).collect();
        runs.dedup();
        runs.retain(|runs| *runs < horizon);
        let mut chances = verdict.plan.comeback_over_runs(&verdict.diagnosis, &runs, memo)?;
        runs.push(horizon);
        for (alternative, chances) in verdict.plan.alternatives.iter().zip(&mut chances) {
            chances.push(alternative.comeback);
        }
        Ok(Comebacks { runs, chances })
    }
}

/// Draws them.
pub fn comeback_over_runs(verdict: &Verdict<'_>, comebacks: &Comebacks, frame: &Frame) -> Result<Figure, Error> {
    let Some(end) = comebacks.runs.last().copied() else { return Err(Error::Nothing { what: "comeback" }) };
    let truck = verdict.job.built.fields.word("truck.name").unwrap_or("Truck");
    let title = "Will it come back?";
    let mut canvas = Canvas::new("comeback", frame);
    let y =
        canvas.heading(title, &format!("{truck} · chance that the teeth have gone again, run after run, by repair"));
    let area = canvas.area().below(y);
    let drawn = drawn_repairs(verdict);
    let words: Vec<String> = drawn
        .iter()
        .map(|Drawn { one, name, .. }| format!("{name}: {} after {end:.0} runs, {}", chance(one.comeback), one.price))
        .collect();
    let y = legend_of_curves(&mut canvas, area, &words);
    let across = Ruler { title: "runs after the repair", values: &[], ends: Some([0.0, end]) };
    let upright = Ruler { title: "chance of a comeback, %", values: &[], ends: Some([0.0, 100.0]) };
    let plot = Plot::new(&mut canvas, area.below(y + 6.0), HEIGHT, &across, &upright);
    let mut group = Shape::group(canvas.id("curves"));
    let curves = drawn.iter().filter_map(|repair| comebacks.chances.get(repair.place));
    for (place, chances) in curves.enumerate() {
        let known = comebacks.runs.iter().zip(chances).map(|(runs, chance)| [*runs, 100.0 * chance]);
        let points: Vec<[f64; 2]> = std::iter::once([0.0, 0.0]).chain(known).collect();
        group.push(stroke_of(&canvas, plot.curve(&points), place));
        for point in &points[1..] {
            group.push(marker(&canvas, Mark::nth(place), plot.at(*point), Role::Ink));
        }
    }
    canvas.draw(group);
    let foot = "Computed at the marks. The causes are weighed as now; driving stays as it is.";
    let bottom = canvas.paragraph(area.below(plot.bottom + 2.0), SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    Ok(Figure::of(canvas, title, &format!("{truck}. {}.", words.join("; "))))
}
