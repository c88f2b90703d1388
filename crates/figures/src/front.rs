//! Price against the chance of a comeback: every repair that no other beats, and the alternatives among them.

use crate::canvas::{BODY, Canvas, SMALL, Shape};
use crate::chart::{Mark, Plot, Ruler, legend, marker};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{Drawn, chance, drawn_repairs, major};
use crate::{Error, Figure};
use toothsayer_verdict::{Alternative, Verdict};

/// Height of the plot, px.
const HEIGHT: f64 = 280.0;

/// The price/comeback front of a plan.
pub fn price_and_comeback(verdict: &Verdict<'_>, frame: &Frame) -> Result<Figure, Error> {
    let (plan, horizon_runs) = (&verdict.plan, verdict.job.shop.horizon_runs);
    let truck = verdict.job.built.fields.word("truck.name").unwrap_or("Truck");
    let Some(first) = plan.front.first() else { return Err(Error::Nothing { what: "repair" }) };
    let title = "Price and comeback";
    let mut canvas = Canvas::new("price-comeback", frame);
    let under =
        format!("{truck} · chance that the gears strip again within {horizon_runs:.0} runs, by what is paid now");
    let y = canvas.heading(title, &under);
    let area = canvas.area().below(y);
    let drawn = drawn_repairs(verdict);
    let words: Vec<String> = drawn.iter().map(told).collect();
    let y = legend(&mut canvas, area, &words, |canvas, place, at| marker(canvas, Mark::nth(place), at, Role::Ink));
    let points: Vec<[f64; 2]> = plan.front.iter().map(|point| [major(point.price), 100.0 * point.comeback]).collect();
    let of = |alternative: &Alternative| [major(alternative.price), 100.0 * alternative.comeback];
    let all: Vec<[f64; 2]> = points.iter().copied().chain(plan.alternatives.iter().map(of)).collect();
    let [prices, chances] = [0, 1].map(|axis| all.iter().map(|point| point[axis]).collect::<Vec<f64>>());
    let money = format!("price of the repair, {}", first.price.currency);
    let across = Ruler { title: &money, values: &[], ends: Some(around(&prices)) };
    let upright = Ruler { title: "chance of a comeback, %", values: &chances, ends: Some([0.0, 100.0]) };
    let plot = Plot::new(&mut canvas, area.below(y + 6.0), HEIGHT, &across, &upright);
    let mut group = Shape::group(canvas.id("front"));
    group.push(plot.curve(&stairs(&points, plot.x.ends()[1])).stroke(canvas.paint(Role::Accent), 1.8));
    for point in &points {
        group.push(Shape::circle(plot.at(*point), 2.6).fill(canvas.paint(Role::Accent)));
    }
    canvas.draw(group);
    for (place, repair) in drawn.iter().enumerate() {
        let mut mark = Shape::group(canvas.id(repair.one.name)).told(&told(repair));
        mark.push(marker(&canvas, Mark::nth(place), plot.at(of(repair.one)), Role::Ink));
        canvas.draw(mark);
    }
    let foot = "The line joins the repairs that no other beats in both price and chance; each dot is one of them.";
    let bottom = canvas.paragraph(area.below(plot.bottom + 2.0), SMALL, Role::Quiet, foot);
    let bottom = cures(&mut canvas, verdict, area.below(bottom + 8.0));
    canvas.reach(bottom);
    Ok(Figure::of(canvas, title, &format!("{truck}. {}.", words.join("; "))))
}

/// "Recommended: 86.40 EUR, 12 % comeback, 80 min".
fn told(Drawn { one, name, .. }: &Drawn<'_>) -> String {
    format!("{name}: {}, {} comeback, {:.0} min", one.price, chance(one.comeback), one.minutes)
}

/// From each point on the chance stays until more is paid.
fn stairs(points: &[[f64; 2]], end: f64) -> Vec<[f64; 2]> {
    let mut line: Vec<[f64; 2]> = Vec::with_capacity(2 * points.len());
    for point in points {
        if let Some(last) = line.last() {
            line.push([point[0], last[1]]);
        }
        line.push(*point);
    }
    if let Some(last) = line.last().copied() {
        line.push([end, last[1]]);
    }
    line
}

/// The prices with some room around them.
fn around(prices: &[f64]) -> [f64; 2] {
    let least = prices.iter().copied().fold(f64::MAX, f64::min);
    let most = prices.iter().copied().fold(0.0, f64::max);
    let room = (0.08 * (most - least)).max(1.0);
    [(least - room).max(0.0), most + room]
}

/// What each alternative cures and leaves.
fn cures(canvas: &mut Canvas, verdict: &Verdict<'_>, area: crate::canvas::Area) -> f64 {
    let mut y = area.y;
    for Drawn { one, name, .. } in drawn_repairs(verdict) {
        let named = |id: &String| verdict.diagnosis.book.cause(id).map_or(id.clone(), |cause| cause.name.clone());
        let cured: Vec<String> = one.cures.iter().map(named).collect();
        let cured = match cured.is_empty() {
            true if verdict.job.strip_happened() => "nothing but the broken gears".to_owned(),
            true => "nothing".to_owned(),
            false => cured.join(", "),
        };
        let text = format!("{name} cures: {cured}.");
        y = canvas.paragraph(area.below(y), BODY, Role::Ink, &text) + 3.0;
    }
    y
}
