//! Tables that more than one paper shows: margins, assumptions.

use crate::typeset::{Head, Table, Tone, Words};
use crate::words::{amount, number, value, worst_of_each};
use toothsayer_job::{Assumption, Entry};
use toothsayer_quantity::{Kind, System};
use toothsayer_verdict::{Limit, Margin, StateMargins};

/// From this margin on nobody needs the figure of what is borne.
const FAR_MORE: f64 = 100.0;

/// The least margin of every part and limit of a state.
pub(crate) fn margins_table(state: &StateMargins, system: System) -> Table {
    let mut heads = vec![
        Head::left("part, limit", 0.28),
        Head::left("case", 0.17),
        Head::right("asked", 0.13),
        Head::right("borne", 0.13),
        Head::left("margin", 0.14),
    ];
    let ranges = state.drawn.is_some();
    if ranges {
        heads.push(Head::left("range", 0.15));
    }
    let rows = worst_of_each(&state.margins).into_iter().map(|margin| row(margin, ranges, system)).collect();
    Table { heads, rows }
}

fn row(margin: &Margin, ranges: bool, system: System) -> Vec<Words> {
    let [asked, borne] = [margin.demand, margin.capacity].map(|si| amount(margin.limit, si, system));
    let borne = if margin.margin.is_some_and(|margin| margin >= FAR_MORE) { "far more".to_owned() } else { borne };
    let range = match (margin.low, margin.high) {
        (Some(low), _) if low >= FAR_MORE => number(low),
        (Some(low), Some(high)) => format!("{} to {}", number(low), number(high)),
        _ => String::new(),
    };
    let part = format!("{}, {}", margin.part, margin.limit.row().name);
    let mut cells = vec![part.into(), margin.case.into(), asked.into(), borne.into(), standing(margin)];
    if ranges {
        cells.push(range.into());
    }
    cells
}

/// A margin with its word, so that it never depends on colour.
fn standing(margin: &Margin) -> Words {
    let Some(value) = margin.margin else { return Words::quiet("no load") };
    let aside = if margin.limit == Limit::Flank { "wears" } else { "accident" };
    let (word, tone) = match value {
        value if value < 1.0 && !margin.counts() => (aside, Tone::Doubt),
        value if value < 1.0 => ("fails", Tone::Bad),
        value if value < 1.3 => ("tight", Tone::Doubt),
        _ => ("holds", Tone::Good),
    };
    Words::from(format!("{} ", number(value))).and_toned(word, tone)
}

/// Every value that nobody measured or stated.
pub(crate) fn assumptions_table(assumptions: &[Assumption], system: System) -> Table {
    let heads = vec![
        Head::left("value", 0.27),
        Head::left("taken as", 0.16),
        Head::left("range", 0.2),
        Head::left("from", 0.37),
    ];
    let row = |one: &Assumption| {
        let kind = toothsayer_inputs::find(one.input).map_or(Kind::Number, toothsayer_inputs::Input::kind);
        let show = |si: f64| value(kind, si, system);
        let taken = one.entry.as_ref().map(|entry| show(entry.value)).or_else(|| one.word.clone());
        let spread = one.entry.as_ref().filter(|entry| entry.has_spread());
        let range =
            spread.map_or_else(String::new, |entry: &Entry| format!("{} to {}", show(entry.low), show(entry.high)));
        vec![one.key.as_str().into(), taken.unwrap_or_default().into(), range.into(), one.origin.to_string().into()]
    };
    Table { heads, rows: assumptions.iter().map(row).collect() }
}
