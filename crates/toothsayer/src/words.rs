//! Figures in words: margins, chances, minutes, values with their unit.

use crate::paper::{Cell, Paper, Tint};
use toothsayer_quantity::{Kind, System};
pub use toothsayer_report::torque_window as window;
pub use toothsayer_report::words::{amount, chance, field, list, minutes, number, sentence, state_words, value, way};
use toothsayer_verdict::{Derivation, Holds, Limit, Margin, MeshState};

/// Whether it holds, in words.
pub fn holds_words(holds: Holds) -> (&'static str, Tint) {
    let tint = match holds {
        Holds::Yes => Tint::Good,
        Holds::Unsure => Tint::Doubt,
        Holds::No => Tint::Bad,
    };
    (toothsayer_report::words::holds_words(holds), tint)
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

/// A range of margins.
pub fn range_words(margin: &Margin) -> String {
    match (margin.low, margin.high) {
        (Some(low), Some(high)) => format!("{} to {}", number(low), number(high)),
        _ => String::new(),
    }
}

/// A share as a percentage.
pub fn share(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
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
