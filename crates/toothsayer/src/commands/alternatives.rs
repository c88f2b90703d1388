//! The alternatives of a plan, what each leaves open, and the curve of price and comeback.

use crate::input::Desk;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{chance, list, minutes};
use toothsayer_job::Job;
use toothsayer_report::words::{brake_words, name_words, names, repairs};
use toothsayer_verdict::{Alternative, FrontPoint, Verdict};

/// Smaller drops of the chance of a comeback are left out of the curve that is told.
const TOLD_DROP: f64 = 0.01;

/// Alternatives with what they leave open, and what more money buys.
pub fn write(desk: &Desk<'_>, verdict: &Verdict<'_>, paper: &mut Paper) {
    paper.heading("Alternatives");
    let repairs = repairs(&verdict.plan.alternatives);
    table(desk, verdict, &repairs, paper);
    for same in &repairs {
        leaves(desk, verdict, same, paper);
    }
    curve(desk, verdict, paper);
}

fn table(desk: &Desk<'_>, verdict: &Verdict<'_>, repairs: &[Vec<&Alternative>], paper: &mut Paper) {
    let mut table = Table::new(&["alternative", "price>", "time>", "comeback>", "range>", "cures"]);
    for same in repairs {
        let one = same[0];
        table.row(vec![
            Cell::plain(names(same, verdict.job)),
            Cell::plain(one.price.to_string()),
            Cell::plain(minutes(one.minutes)),
            risk(one.comeback),
            Cell::plain(range(one.comeback_range)),
            Cell::plain(cures(desk, &one.cures, verdict.job)),
        ]);
    }
    paper.table(&table);
    paper.blank();
    paper.paragraph(&format!(
        "comeback: every cause that may still be there counts, also the many that are unlikely; with all of them cured {} \
         would remain. range: were every blow as soft or as hard as model and inputs leave open (5 % and 95 %). Smallest \
         sound: the cheapest that cures what would surely take the next set and comes back less likely than not; \
         recommended: of the sound ones the least expected cost, a comeback's included; sturdiest: the least chance of \
         a comeback.",
        chance(verdict.plan.unavoidable)
    ));
}

fn risk(comeback: f64) -> Cell {
    let tint = match comeback {
        p if p > 0.5 => Tint::Bad,
        p if p > 0.2 => Tint::Doubt,
        _ => Tint::Good,
    };
    Cell::tinted(tint, chance(comeback))
}

fn range([low, high]: [f64; 2]) -> String {
    format!("{} to {}", chance(low), chance(high))
}

fn cures(desk: &Desk<'_>, cures: &[String], job: &Job) -> String {
    let names: Vec<&str> = cures.iter().filter_map(|id| desk.book.cause(id)).map(|cause| cause.name.as_str()).collect();
    match names[..] {
        [] if job.strip_happened() => "nothing beyond the gears".to_owned(),
        [] => "nothing".to_owned(),
        [one] => one.to_owned(),
        [first, ..] => format!("{first} and {} more", names.len() - 1),
    }
}

fn leaves(desk: &Desk<'_>, verdict: &Verdict<'_>, same: &[&Alternative], paper: &mut Paper) {
    let one = same[0];
    let open = match one.leaves_open.is_empty() {
        true => "no cause that alone would likely come back".into(),
        false => list(&one.leaves_open),
    };
    paper.item("·", &format!("{} leaves open: {open}.", names(same, verdict.job)));
    if let Some(stops) = &one.stops {
        paper.item("  caution:", &brake_words(stops, desk.system));
    }
}

/// What each further sum of money buys: the combinations that no other beats, the alternatives among them.
fn curve(desk: &Desk<'_>, verdict: &Verdict<'_>, paper: &mut Paper) {
    let mut told: Vec<&FrontPoint> = Vec::new();
    for point in &verdict.plan.front {
        let drops = told.last().is_none_or(|last| last.comeback - point.comeback >= TOLD_DROP);
        if drops || !point.marks.is_empty() {
            told.push(point);
        }
    }
    if told.len() < 3 {
        return;
    }
    paper.heading("What more money buys");
    let mut table = Table::new(&["price>", "comeback>", "which"]);
    for (place, point) in told.iter().enumerate() {
        let before = place.checked_sub(1).map(|before| told[before]);
        table.row(vec![
            Cell::plain(point.price.to_string()),
            risk(point.comeback),
            Cell::plain(which(desk, verdict.job, point, before)),
        ]);
    }
    paper.table(&table);
}

/// The names of a point, and what it cures that the row before it does not.
fn which(desk: &Desk<'_>, job: &Job, point: &FrontPoint, before: Option<&FrontPoint>) -> String {
    let names: Vec<String> = point.marks.iter().map(|mark| name_words(mark, job).to_lowercase()).collect();
    let more: Vec<&str> = point
        .cures
        .iter()
        .filter(|id| before.is_none_or(|before| !before.cures.contains(id)))
        .filter_map(|id| desk.book.cause(id))
        .map(|cause| cause.name.as_str())
        .collect();
    let added = match more[..] {
        [] => String::new(),
        [one] => format!("cures also {one}"),
        [first, ..] => format!("cures also {first} and {} more", more.len() - 1),
    };
    match (names.is_empty(), added.is_empty()) {
        (true, _) => added,
        (_, true) => names.join(", "),
        _ => format!("{} ({added})", names.join(", ")),
    }
}
