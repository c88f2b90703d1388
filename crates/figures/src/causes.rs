//! The causes: how likely each is, from what is usual to what the findings make of it, and what it would do next.

use crate::canvas::{Canvas, Shape, polyline};
use crate::chart::{Axis, Columns, Mark, Placed, Row, legend, marker, rulings, scale, scale_title};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{chance, sentence};
use crate::{Error, Figure};
use toothsayer_verdict::{CauseVerdict, Diagnosis};

/// Causes that are drawn; what is surely there is drawn whatever its rank.
const SHOWN: usize = 9;
/// From this chance on a bar is told as something to act on.
const TELLS: f64 = 0.5;

/// The causes of a job, the likeliest culprit first.
pub fn causes(diagnosis: &Diagnosis<'_>, frame: &Frame) -> Result<Figure, Error> {
    let ranked = diagnosis.ranked();
    let shown: Vec<&CauseVerdict> = ranked
        .into_iter()
        .enumerate()
        .filter(|(place, cause)| cause.present > TELLS || (*place < SHOWN && cause.present > 0.01))
        .map(|(_, cause)| cause)
        .collect();
    if shown.is_empty() {
        return Err(Error::Nothing { what: "cause" });
    }
    let truck = diagnosis.job.built.fields.word("truck.name").unwrap_or("Truck");
    let stripped = diagnosis.job.strip_happened();
    let title = if stripped { "Why the teeth went" } else { "What would take the gears" };
    let mut canvas = Canvas::new("causes", frame);
    let y = canvas.heading(title, &format!("{truck} · chances, not accusations"));
    let area = canvas.area().below(y);
    let mut signs = vec!["usual chance, before looking", "chance that it is there, with the findings"];
    if stripped {
        signs.push("was there, and the teeth would have held without it");
    }
    signs.push("is there, and alone takes the next set");
    let signs: Vec<String> = signs.into_iter().map(str::to_owned).collect();
    let y = legend(&mut canvas, area, &signs, |canvas, place, at| sign(canvas, place, stripped, at)) + 6.0;
    let columns = Columns::of(area);
    let axis = Axis::between([0.0, 1.0], columns.track());
    let y = scale_title(&mut canvas, &columns, y, "chance");
    let mut y = scale(&mut canvas, &axis, y, |value| format!("{:.0} %", 100.0 * value)) + 4.0;
    for cause in &shown {
        let placed = columns.row(&mut canvas, y, &told(cause, diagnosis));
        draw(&mut canvas, &axis, &placed, cause, diagnosis);
        y = placed.next;
    }
    canvas.reach(y);
    Ok(Figure::of(canvas, title, &describe(truck, &shown, diagnosis)))
}

fn name<'a>(cause: &'a CauseVerdict, diagnosis: &'a Diagnosis<'_>) -> &'a str {
    diagnosis.book.cause(&cause.id).map_or(cause.id.as_str(), |entry| entry.name.as_str())
}

fn told(cause: &CauseVerdict, diagnosis: &Diagnosis<'_>) -> Row {
    let mut words = vec![(format!("{} that it is there", chance(cause.present)), Role::Ink)];
    let tells = |value: f64| if value >= TELLS { Role::Bad } else { Role::Ink };
    if diagnosis.job.strip_happened() {
        words.push((format!("{} that it mattered", chance(cause.mattered)), tells(cause.mattered)));
    }
    words.push((format!("{} that it takes the next set", chance(cause.next_set)), tells(cause.next_set)));
    Row { name: sentence(name(cause, diagnosis)), under: known_from(cause, diagnosis), words }
}

/// What a cause is weighed by: the build itself, or the answers that it brings about.
fn known_from(cause: &CauseVerdict, diagnosis: &Diagnosis<'_>) -> String {
    if cause.decided {
        return "known from the build itself".into();
    }
    let Some(entry) = diagnosis.book.cause(&cause.id) else { return String::new() };
    let answers: Vec<String> = diagnosis
        .job
        .findings
        .iter()
        .filter(|finding| entry.findings.contains_key(&finding.check))
        .map(|finding| format!("{}: {}", finding.check.replace('-', " "), if finding.yes { "yes" } else { "no" }))
        .collect();
    if answers.is_empty() { "no answered check bears on it".into() } else { format!("by {}", answers.join(", ")) }
}

/// Share of the trucks in the book that have it.
fn usual(cause: &CauseVerdict, diagnosis: &Diagnosis<'_>) -> Option<f64> {
    let entry = diagnosis.book.cause(&cause.id)?;
    (!cause.decided).then(|| entry.prior.mean())
}

/// Half the height of the bar, px.
const BAR: f64 = 5.0;

fn draw(canvas: &mut Canvas, axis: &Axis, placed: &Placed, cause: &CauseVerdict, diagnosis: &Diagnosis<'_>) {
    let mut group = Shape::group(canvas.id(&cause.id)).told(name(cause, diagnosis));
    group.push(rulings(canvas, axis, placed));
    let (y, from) = (placed.middle, axis.at(0.0));
    let bar = Shape::rect([from, y - BAR], [axis.at(cause.present), y + BAR]);
    group.push(bar.fill(canvas.paint(Role::Metal2)).stroke(canvas.paint(Role::Ink), 1.0));
    if diagnosis.job.strip_happened() {
        let mattered = Shape::rect([from, y - BAR], [axis.at(cause.mattered), y + BAR]);
        group.push(mattered.fill(canvas.paint(Role::Accent)));
    }
    if let Some(usual) = usual(cause, diagnosis) {
        let x = axis.at(usual);
        group.push(Shape::line([x, y - BAR - 4.0], [x, y + BAR + 4.0]).stroke(canvas.paint(Role::Ink), 2.4));
    }
    group.push(marker(canvas, Mark::Diamond, [axis.at(cause.next_set), y], Role::Bad));
    canvas.draw(group);
}

fn sign(canvas: &Canvas, place: usize, stripped: bool, [x, y]: [f64; 2]) -> Shape {
    let bar = Shape::rect([x - 12.0, y - BAR], [x + 12.0, y + BAR]);
    match (place, stripped) {
        (0, _) => Shape::path(polyline(&[[x, y - 9.0], [x, y + 9.0]], false)).stroke(canvas.paint(Role::Ink), 2.4),
        (1, _) => bar.fill(canvas.paint(Role::Metal2)).stroke(canvas.paint(Role::Ink), 1.0),
        (2, true) => bar.fill(canvas.paint(Role::Accent)),
        _ => marker(canvas, Mark::Diamond, [x, y], Role::Bad),
    }
}

fn describe(truck: &str, shown: &[&CauseVerdict], diagnosis: &Diagnosis<'_>) -> String {
    let told: Vec<String> = shown
        .iter()
        .map(|cause| {
            format!(
                "{}: {} that it is there, {} that it takes the next set",
                name(cause, diagnosis),
                chance(cause.present),
                chance(cause.next_set)
            )
        })
        .collect();
    format!("Causes of {truck}, the likeliest culprit first. {}.", told.join("; "))
}
