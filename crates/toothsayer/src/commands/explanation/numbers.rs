//! The numbers of a cause, for an engineer.

use crate::paper::{Cell, Paper, Table};
use crate::words::value;
use toothsayer_quantity::{Kind, System};
use toothsayer_verdict::{DECIBANS_PER_NAT, Explanation, Known, STRENGTHS};

/// Odds, weights, and the figures of the ranking.
pub(super) fn write(explanation: &Explanation, paper: &mut Paper) {
    paper.heading("For an engineer");
    if let Some([prior, now]) = explanation.log_odds_nat {
        paper.table(&odds(prior, now));
        paper.blank();
    }
    if !explanation.shown_by.is_empty() {
        paper.paragraph("The odds are those of the evidence alone: a check has shown it, so present is 1.");
        paper.blank();
    }
    if !explanation.speaks.is_empty() {
        paper.table(&weights(explanation));
        paper.blank();
        paper.paragraph(
            "A weight is the difference of the log-odds with and without that one answer, all others known (weight of \
             evidence, Good 1985). Weights do not add up to the whole step: answers that say the same share what they \
             say.",
        );
    }
    figures(explanation, paper);
}

fn figures(explanation: &Explanation, paper: &mut Paper) {
    let verdict = &explanation.cause;
    paper.item("present:", &number(verdict.present));
    paper.item("mattered:", &number(verdict.mattered));
    paper.item("takes the next set:", &number(verdict.next_set));
    paper.item("place in the ranking:", &explanation.place.to_string());
    if !verdict.decided {
        paper.item("share of the evidence passed over:", &format!("at most {}", number(explanation.neglected)));
        let scale: Vec<String> =
            STRENGTHS.iter().map(|row| format!("{} from {}", row.word, row.from_decibans)).collect();
        paper.item("words by decibans:", &format!("{}.", scale.join(", ")));
    }
}

/// Prior and posterior odds with the step between them.
fn odds(prior: f64, now: f64) -> Table {
    let mut table = Table::new(&["odds of the cause", "probability>", "odds>", "ln odds, nat>", "decibans>"]);
    for (name, nat) in [("beforehand", prior), ("by all that is known", now)] {
        let [odds, nats, decibans] = scales(nat);
        let cells = [name.to_owned(), number(1.0 / (1.0 + (-nat).exp())), odds, nats, decibans];
        table.row(cells.map(Cell::plain).into());
    }
    let [factor, nats, decibans] = scales(now - prior);
    let cells = ["the whole step".to_owned(), String::new(), format!("x {factor}"), nats, decibans];
    table.row(cells.map(Cell::plain).into());
    table
}

fn weights(explanation: &Explanation) -> Table {
    let heads = ["evidence", "answer", "odds x>", "weight, nat>", "decibans>", "without it>"];
    let mut table = Table::new(&heads);
    for one in &explanation.speaks {
        let (name, answer) = match &one.known {
            Known::Strip => ("teeth went".to_owned(), "yes"),
            Known::Check { id, yes, .. } => (id.clone(), if *yes { "yes" } else { "no" }),
        };
        let [factor, nats, decibans] = scales(one.log_odds_nat);
        let cells = [name, answer.to_owned(), factor, nats, decibans, number(one.without)];
        table.row(cells.map(Cell::plain).into());
    }
    table
}

/// Log-odds as odds, in natural units and in decibans.
fn scales(nat: f64) -> [String; 3] {
    [number(nat.exp()), signed(nat, 3), signed(nat * DECIBANS_PER_NAT, 1)]
}

/// A figure of four digits.
fn number(figure: f64) -> String {
    value(Kind::Number, figure, System::Metric)
}

/// With its sign, and none on nothing.
fn signed(figure: f64, decimals: usize) -> String {
    let text = format!("{figure:+.decimals$}");
    if text.chars().any(|digit| ('1'..='9').contains(&digit)) { text } else { text.replace(['+', '-'], "") }
}
