//! The margins of a truck: what each part bears over what is asked of it, with its range, and where it fails.

use crate::canvas::{Canvas, SMALL, Shape, polyline};
use crate::chart::{Axis, Columns, Mark, Placed, Row, legend, marker, rulings, scale, scale_title, tick};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{Standing, amount, chance, margin_words, number, sentence, state_words, step_words, worst_of_each};
use crate::{Error, Figure};
use toothsayer_verdict::{Holds, Margin, StateMargins};

/// The track's ends: what lies outside stands at the end as an arrow.
const ENDS: [f64; 2] = [0.1, 10.0];

/// The margins of the first state, with those of the others as marks beside them.
pub fn margins(truck: &str, states: &[&StateMargins], frame: &Frame) -> Result<Figure, Error> {
    let (Some(first), others) = (states.first(), states.get(1..).unwrap_or(&[])) else {
        return Err(Error::Nothing { what: "state" });
    };
    let title = format!("Margins, {}", state_words(first.state));
    let mut canvas = Canvas::new("margins", frame);
    let under = format!("{truck} · what a part bears over what is asked of it · below 1 it fails");
    let y = canvas.heading(&title, &under);
    let area = canvas.area().below(y);
    let named: Vec<String> = states.iter().map(|state| state_words(state.state).to_owned()).collect();
    let named = if ranged(first) { [named, vec!["range of nine draws in ten".into()]].concat() } else { named };
    let named = if named.len() == 1 { Vec::new() } else { named };
    let y = legend(&mut canvas, area, &named, |canvas, place, at| sign(canvas, place, states.len(), at)) + 6.0;
    let columns = Columns::of(area);
    let axis = Axis::powers(ENDS, columns.track());
    let y = scale_title(&mut canvas, &columns, y, "bears / asked");
    let mut y = scale(&mut canvas, &axis, y, tick) + 4.0;
    for margin in worst_of_each(&first.margins) {
        let placed = columns.row(&mut canvas, y, &told(margin, frame));
        draw(&mut canvas, &axis, &placed, margin, others);
        y = placed.next;
    }
    let foot = "Wear of the flanks and a wheel stopped from outside are shown and do not decide. Estimates for \
                hobby-size machines, not a design approval.";
    let bottom = canvas.paragraph(area.below(y + 4.0), SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    Ok(Figure::of(canvas, &title, &describe(truck, first)))
}

fn ranged(state: &StateMargins) -> bool {
    state.margins.iter().any(|margin| margin.low.is_some())
}

fn told(margin: &Margin, frame: &Frame) -> Row {
    let case = if margin.case == "any" {
        String::new()
    } else {
        format!(", {}", margin.case.replace("-on-", " on the ").replace('-', " "))
    };
    let verdict = match margin.fails_at.filter(|_| margin.fails()) {
        Some(step) => format!("{} {}", margin_words(margin), step_words(step)),
        None => margin_words(margin),
    };
    let [asked, borne] = [margin.demand, margin.capacity].map(|si| amount(margin.limit, si, frame.system));
    let mut words = vec![(verdict, Standing::of(margin).role())];
    let borne = if margin.margin.is_some_and(|value| value >= 100.0) { "far more".to_owned() } else { borne };
    words.push((format!("asked {asked}, bears {borne}"), Role::Quiet));
    if let Some([low, high]) = spread(margin) {
        let exceeded = margin.chance().filter(|chance| *chance >= 0.005);
        let exceeded = exceeded.map_or(String::new(), |value| format!("; {} below 1", chance(value)));
        words.push((format!("{} to {}{exceeded}", number(low), number(high)), Role::Quiet));
    }
    Row { name: sentence(&margin.part.replace('-', " ")), under: format!("{}{case}", margin.limit.row().plain), words }
}

/// The ends of its range, where it has one that can be told from a point.
fn spread(margin: &Margin) -> Option<[f64; 2]> {
    let ends = [margin.low?, margin.high?];
    (ends[1] - ends[0] > 0.01 * ends[0]).then_some(ends)
}

/// The zone below 1, the range, the other states' marks and its own on top.
fn draw(canvas: &mut Canvas, axis: &Axis, placed: &Placed, margin: &Margin, others: &[&StateMargins]) {
    let role = Standing::of(margin).role();
    let [from, _] = axis.ends_px();
    let one = axis.at(1.0);
    let name = format!("{}-{}", margin.part, margin.limit.row().name);
    let mut group = Shape::group(canvas.id(&name)).told(&format!("{}: {}", margin.part, margin_words(margin)));
    let zone = Shape::rect([from - 8.0, placed.top], [one, placed.bottom]);
    group.push(zone.fill(canvas.paint(Role::BadTint)));
    group.push(rulings(canvas, axis, placed));
    group.push(Shape::line([one, placed.top], [one, placed.bottom]).stroke(canvas.paint(Role::Ink), 1.4));
    let y = placed.middle;
    if let Some([low, high]) = spread(margin) {
        group.push(range([axis.at(low), axis.at(high)], y).stroke(canvas.paint(Role::Ink), 1.4));
    }
    for (place, other) in others.iter().enumerate() {
        let same = |known: &&Margin| known.part == margin.part && known.limit == margin.limit;
        if let Some(value) = worst_of_each(&other.margins).into_iter().find(same).and_then(|known| known.margin) {
            group.push(pointed(canvas, axis, Mark::nth(place + 1), y, (value, Role::Ink)));
        }
    }
    if let Some(value) = margin.margin {
        group.push(pointed(canvas, axis, Mark::nth(0), y, (value, role)));
    }
    canvas.draw(group);
}

/// A bar with its ends.
fn range([low, high]: [f64; 2], y: f64) -> Shape {
    let end = |x: f64| polyline(&[[x, y - 5.0], [x, y + 5.0]], false);
    Shape::path(format!("{}{}{}", polyline(&[[low, y], [high, y]], false), end(low), end(high)))
}

/// A marker, with an arrow behind it where it stands for a value past the end.
fn pointed(canvas: &Canvas, axis: &Axis, mark: Mark, y: f64, (value, role): (f64, Role)) -> Shape {
    let x = axis.at(value);
    let mut group = Shape::plain_group();
    if !axis.holds(value) {
        let way = if value < 1.0 { -1.0 } else { 1.0 };
        let tip = [[x + way * 6.0, y - 5.0], [x + way * 12.0, y], [x + way * 6.0, y + 5.0]];
        group.push(Shape::path(polyline(&tip, false)).stroke(canvas.paint(role), 1.6));
    }
    group.push(marker(canvas, mark, [x, y], role));
    group
}

fn sign(canvas: &Canvas, place: usize, states: usize, [x, y]: [f64; 2]) -> Shape {
    if place < states {
        return marker(canvas, Mark::nth(place), [x, y], Role::Ink);
    }
    range([x - 12.0, x + 12.0], y).stroke(canvas.paint(Role::Ink), 1.4)
}

fn describe(truck: &str, state: &StateMargins) -> String {
    let told: Vec<String> = worst_of_each(&state.margins)
        .into_iter()
        .map(|margin| format!("{}, {}: {}", margin.part, margin.limit.row().name, margin_words(margin)))
        .collect();
    let holds = match state.holds {
        Holds::Yes => "holds",
        Holds::No => "does not hold",
        Holds::Unsure => "holds on the usual values, but not surely",
    };
    format!("{truck}, {}, {holds}. {}.", state_words(state.state), told.join("; "))
}
