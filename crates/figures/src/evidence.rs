//! One cause opened: bars for what speaks for and against it, and where each open check's answer would leave it.

use crate::canvas::{BODY, Canvas, HEAD, SMALL, Shape, polyline};
use crate::chart::{Axis, Columns, Mark, Placed, Row, legend, marker, rulings, scale, scale_title, tick};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{chance, sentence};
use crate::{Error, Figure};
use toothsayer_fault_book::FaultBook;
use toothsayer_verdict::{Diagnosis, Explanation, Known, Speaks, Turn, strength};

/// Ends of the odds' track: what speaks louder stands on the end.
const ODDS: [f64; 2] = [0.01, 100.0];
/// Half the height of a bar, px.
const BAR: f64 = 6.0;

/// The evidence of one cause of a diagnosis.
pub fn cause_evidence(explanation: &Explanation, diagnosis: &Diagnosis<'_>, frame: &Frame) -> Result<Figure, Error> {
    let book = diagnosis.book;
    let cause = book.cause(&explanation.cause.id).ok_or(Error::Nothing { what: "cause of that name in the book" })?;
    let truck = diagnosis.job.built.fields.word("truck.name").unwrap_or("Truck");
    let title = format!("{}: what speaks for it", sentence(&cause.name));
    let mut canvas = Canvas::new("evidence", frame);
    let y = canvas.heading(&title, &format!("{truck} · a cause is a probability, not an accusation"));
    let area = canvas.area().below(y);
    let told = told(explanation);
    let mut y = canvas.paragraph(area, BODY, Role::Ink, &told) + 8.0;
    let columns = Columns::of(area);
    if !explanation.speaks.is_empty() {
        let axis = Axis::powers(ODDS, columns.track());
        y = canvas.paragraph(area.below(y), HEAD, Role::Ink, "What is known") + 2.0;
        y = scale_title(&mut canvas, &columns, y, "makes the odds so many times as large");
        y = scale(&mut canvas, &axis, y, tick) + 4.0;
        for (place, speaks) in explanation.speaks.iter().enumerate() {
            let placed = columns.row(&mut canvas, y, &row_of(speaks, book));
            draw(&mut canvas, &axis, &placed, speaks, place);
            y = placed.next;
        }
        y += 8.0;
    }
    if !explanation.turns.is_empty() {
        y = canvas.paragraph(area.below(y), HEAD, Role::Ink, "What would change it") + 4.0;
        let signs = ["after yes", "after no", "as it stands"].map(str::to_owned);
        y = legend(&mut canvas, area.below(y), &signs, sign) + 2.0;
        let axis = Axis::between([0.0, 1.0], columns.track());
        y = scale_title(&mut canvas, &columns, y, "chance that it is there");
        y = scale(&mut canvas, &axis, y, |value| format!("{:.0} %", 100.0 * value)) + 4.0;
        for turn in &explanation.turns {
            let placed = columns.row(&mut canvas, y, &turn_row(turn, book));
            draw_turn(&mut canvas, &axis, &placed, turn, explanation.cause.present);
            y = placed.next;
        }
    }
    let foot = "Each bar tells what one thing does to the odds, everything else that is known being known.";
    let bottom = canvas.paragraph(area.below(y + 2.0), SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    let bars: Vec<String> =
        explanation.speaks.iter().map(|speaks| format!("{}: {}", known(speaks, book), words(speaks))).collect();
    Ok(Figure::of(canvas, &title, &format!("{truck}. {told} {}.", bars.join("; "))))
}

/// From what is usual to what is known.
fn told(explanation: &Explanation) -> String {
    let now = chance(explanation.cause.present);
    match explanation.prior {
        None => "The build itself decides on it: no evidence is weighed.".into(),
        Some(prior) => format!(
            "Before anything was looked at {} of trucks have it; with all that is known the chance is {now}.",
            chance(prior)
        ),
    }
}

fn question<'a>(id: &'a str, book: &'a FaultBook) -> &'a str {
    book.finding(id).map_or(id, |entry| entry.question.as_str())
}

fn known(speaks: &Speaks, book: &FaultBook) -> String {
    match &speaks.known {
        Known::Strip => "The teeth went".into(),
        Known::Check { id, yes, .. } => format!("{} {}", question(id, book), if *yes { "Yes" } else { "No" }),
    }
}

/// "speaks strongly for it, odds × 12".
fn words(speaks: &Speaks) -> String {
    let word = strength(speaks.log_odds_nat).word;
    let side = if speaks.log_odds_nat >= 0.0 { "for" } else { "against" };
    format!("speaks {word} {side} it")
}

fn row_of(speaks: &Speaks, book: &FaultBook) -> Row {
    let under = match &speaks.known {
        Known::Check { by_complaint: true, .. } => "by the complaint: nobody looked".to_owned(),
        _ => String::new(),
    };
    let factor = speaks.log_odds_nat.abs().exp();
    let way = if speaks.log_odds_nat >= 0.0 { "times" } else { "divided by" };
    let factor = if factor > 1000.0 { "over 1000".to_owned() } else { format!("{factor:.1}") };
    let odds = format!("odds {way} {factor}; {} without it", chance(speaks.without));
    Row { name: known(speaks, book), under, words: vec![(words(speaks), Role::Ink), (odds, Role::Quiet)] }
}

fn draw(canvas: &mut Canvas, axis: &Axis, placed: &Placed, speaks: &Speaks, place: usize) {
    let mut group = Shape::group(canvas.id(&format!("known-{}", place + 1))).told(&words(speaks));
    group.push(rulings(canvas, axis, placed));
    let (y, one) = (placed.middle, axis.at(1.0));
    let bar = Shape::rect([one, y - BAR], [axis.at(speaks.log_odds_nat.exp()), y + BAR]);
    let fill = if speaks.log_odds_nat >= 0.0 { canvas.paint(Role::Accent) } else { canvas.paint(Role::Metal2) };
    group.push(bar.fill(fill).stroke(canvas.paint(Role::Ink), 1.0));
    group.push(Shape::line([one, placed.top], [one, placed.bottom]).stroke(canvas.paint(Role::Ink), 1.4));
    canvas.draw(group);
}

fn turn_row(turn: &Turn, book: &FaultBook) -> Row {
    let after = |answer: &str, after: &Option<toothsayer_verdict::After>| {
        after.as_ref().map(|after| format!("{answer}: {}", chance(after.present)))
    };
    let ends: Vec<String> =
        [after("yes", &turn.after_yes), after("no", &turn.after_no)].into_iter().flatten().collect();
    let yes = format!("yes is expected with {}", chance(turn.yes));
    Row {
        name: question(&turn.check, book).to_owned(),
        under: String::new(),
        words: vec![(ends.join(", "), Role::Ink), (yes, Role::Quiet)],
    }
}

fn draw_turn(canvas: &mut Canvas, axis: &Axis, placed: &Placed, turn: &Turn, now: f64) {
    let mut group = Shape::group(canvas.id(&turn.check)).told(&turn.check.replace('-', " "));
    group.push(rulings(canvas, axis, placed));
    let (y, here) = (placed.middle, axis.at(now));
    let ends: Vec<(Mark, f64)> = [(Mark::Disc, &turn.after_yes), (Mark::Ring, &turn.after_no)]
        .into_iter()
        .filter_map(|(mark, after)| Some((mark, axis.at(after.as_ref()?.present))))
        .collect();
    for (_, x) in &ends {
        group.push(Shape::line([here, y], [*x, y]).stroke(canvas.paint(Role::Ink), 1.4));
    }
    group.push(Shape::line([here, y - BAR - 3.0], [here, y + BAR + 3.0]).stroke(canvas.paint(Role::Ink), 2.4));
    for (mark, x) in ends {
        group.push(marker(canvas, mark, [x, y], Role::Ink));
    }
    canvas.draw(group);
}

fn sign(canvas: &Canvas, place: usize, [x, y]: [f64; 2]) -> Shape {
    match place {
        0 => marker(canvas, Mark::Disc, [x, y], Role::Ink),
        1 => marker(canvas, Mark::Ring, [x, y], Role::Ink),
        _ => Shape::path(polyline(&[[x, y - 9.0], [x, y + 9.0]], false)).stroke(canvas.paint(Role::Ink), 2.4),
    }
}
