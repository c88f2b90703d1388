//! Figures in words: margins, chances, minutes, values with their unit.

use crate::paper::{Cell, Paper, Tint};
use toothsayer_job::{Fields, State};
use toothsayer_quantity::{Kind, System, digits, show};
pub use toothsayer_report::torque_window as window;
use toothsayer_verdict::{Derivation, Holds, Limit, Margin, MeshState, Stopping};

/// A state in words.
pub fn state_words(state: State) -> &'static str {
    match state {
        State::Stock => "as sold",
        State::Built => "as built and in good order",
        State::Found => "as found",
        State::Proposed => "with the recommended repair",
        State::After => "as measured after the work",
    }
}

/// Whether it holds, in words.
pub fn holds_words(holds: Holds) -> (&'static str, Tint) {
    match holds {
        Holds::Yes => ("holds", Tint::Good),
        Holds::Unsure => ("holds on the usual values, but not surely", Tint::Doubt),
        Holds::No => ("does not hold", Tint::Bad),
    }
}

/// What is wrong with a mesh, and what that does to the figures; nothing where it runs.
pub fn mesh_words(state: MeshState, system: System) -> Option<String> {
    match state {
        MeshState::Runs => None,
        MeshState::Binds { by, once_a_turn } => {
            let by = value(Kind::Length, by.to_m(), system);
            let when = if once_a_turn { ", once a turn of the bent shaft" } else { "" };
            Some(format!("The mesh binds by {by} along the line of action{when}: it runs hot and scuffs."))
        }
        MeshState::Apart => Some(
            "The gears do not meet: the teeth pass each other and drive nothing. The blows shown are those of teeth \
             that would still catch at their tips."
                .into(),
        ),
    }
}

/// What a limit's demand and capacity measure.
fn kind_of(limit: Limit) -> Kind {
    match limit.row().unit {
        "Pa" => Kind::Pressure,
        "m" => Kind::Length,
        "N" => Kind::Force,
        "N*m" => Kind::Torque,
        "s" => Kind::Time,
        _ => Kind::Number,
    }
}

/// A margin with its word, so that it never depends on colour.
pub fn margin_cell(margin: &Margin) -> Cell {
    let Some(value) = margin.margin else { return Cell::plain("no load") };
    let text = number(value);
    match value {
        _ if !margin.counts() && value < 1.0 => Cell::tinted(Tint::Doubt, format!("{text} {}", aside(margin))),
        value if value < 1.0 => Cell::tinted(Tint::Bad, format!("{text} FAILS")),
        value if value < 1.3 => Cell::tinted(Tint::Doubt, format!("{text} tight")),
        _ => Cell::tinted(Tint::Good, format!("{text} holds")),
    }
}

fn aside(margin: &Margin) -> &'static str {
    if margin.limit == Limit::Flank { "wears" } else { "accident" }
}

/// A plain number of three digits; a big one as what it is, and never 1.00 for what lies below 1.
pub fn number(value: f64) -> String {
    match value {
        value if value >= 100.0 => "over 100".into(),
        value if (0.995..1.0).contains(&value) => format!("{:.3}", value.min(0.999)),
        value => format!("{value:.2}"),
    }
}

/// A range of margins.
pub fn range_words(margin: &Margin) -> String {
    match (margin.low, margin.high) {
        (Some(low), Some(high)) => format!("{} to {}", number(low), number(high)),
        _ => String::new(),
    }
}

/// A probability.
pub fn chance(p: f64) -> String {
    match 100.0 * p {
        percent if percent < 0.5 => "under 1 %".into(),
        percent if percent > 99.5 => "over 99 %".into(),
        percent => format!("{percent:.0} %"),
    }
}

/// A share as a percentage.
pub fn share(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// What is asked or borne, in the unit of its limit: a difference of temperatures has no zero to be counted from.
pub fn amount(limit: Limit, si: f64, system: System) -> String {
    match (limit.row().unit, system) {
        ("K", System::Metric) => format!("{} K", digits(si)),
        ("K", System::Us) => format!("{} °F", digits(1.8 * si)),
        _ => value(kind_of(limit), si, system),
    }
}

/// Minutes of work.
pub fn minutes(minutes: f64) -> String {
    let whole = minutes.round() as i64;
    if whole < 60 { format!("{whole} min") } else { format!("{} h {:02} min", whole / 60, whole % 60) }
}

/// A value in the units that people see; forces too small to feel are none.
pub fn value(kind: Kind, si: f64, system: System) -> String {
    let nothing = kind == Kind::Force && si.abs() < 0.05;
    show(kind, if nothing { 0.0 } else { si }, system)
}

/// The value under a key as people write it.
pub fn field(fields: &Fields, key: &str, system: System) -> String {
    let kind = toothsayer_inputs::find(key).map(toothsayer_inputs::Input::kind);
    match (fields.number(key), kind, fields.word(key)) {
        (Some(si), Some(kind), _) => value(kind, si, system),
        (_, _, Some(word)) => word.to_owned(),
        _ => "not given".into(),
    }
}

/// A way to a stop, to a metre or a foot where it is long: nobody drives finer.
pub fn way(stop: &Stopping, system: System) -> String {
    let metres = stop.distance.map(|distance| distance.to_m());
    metres.map_or("more than 1 km".into(), |metres| match system {
        System::Metric if metres < 10.0 => format!("{metres:.1} m"),
        System::Metric => format!("{metres:.0} m"),
        System::Us => format!("{:.0} ft", metres / 0.3048),
    })
}

/// A word with its first letter large.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// "a, b and c".
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [init @ .., last] => format!("{} and {last}", init.join(", ")),
    }
}

/// Formula and source of each figure, under a heading.
pub fn derivations(rows: &[Derivation], paper: &mut Paper) {
    paper.heading("How the figures come about");
    for row in rows {
        let head = paper.tint(Tint::Strong, row.name);
        paper.paragraph(&head);
        paper.item("  formula:", row.formula);
        paper.item("  source:", row.source);
    }
}
