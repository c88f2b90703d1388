//! Margins for machines.

use super::assumptions;
use serde_json::{Value, json};
use toothsayer_verdict::{Answer, Margin, Narrowing, StateMargins, Verdict};

/// A job's margins in every state; `ranges` says whether its inputs' ranges were drawn.
pub fn margins(verdict: &Verdict<'_>, judged: &[StateMargins], ranges: bool) -> Value {
    let job = verdict.job;
    json!({
        "states": states(judged),
        "ranges": ranges,
        "warnings": job.warnings,
        "assumptions": assumptions(&job.assumptions()),
    })
}

/// The margins of every state.
pub fn states(states: &[StateMargins]) -> Value {
    states
        .iter()
        .map(|state| {
            json!({
                "state": state.state.name(),
                "holds": state.holds.name(),
                "settle": state.settle(),
                "draws": state.drawn.map(|drawn| drawn.used),
                "draws_lost": state.drawn.map(|drawn| drawn.lost),
                "narrowing": state.narrowing.as_ref().map(narrowing),
                "chance_share": state.narrowing.as_ref().map(|narrowing| narrowing.chance.total),
                "margins": state.margins.iter().map(margin).collect::<Vec<_>>(),
            })
        })
        .collect()
}

fn margin(margin: &Margin) -> Value {
    json!({
        "part": margin.part,
        "limit": margin.limit.row().name,
        "case": margin.case,
        "demand": margin.demand,
        "capacity": margin.capacity,
        "unit": margin.limit.row().unit,
        "margin": margin.margin,
        "margin_low": margin.low,
        "margin_median": margin.median,
        "margin_high": margin.high,
        "probability_exceeded": margin.chance(),
        "probability_exceeded_low": margin.exceeded.map(|chance| chance.low),
        "probability_exceeded_high": margin.exceeded.map(|chance| chance.high),
        "fails_at": margin.fails_at.map(|at| at.name()),
    })
}

/// The inputs whose measurement would narrow the verdict, the most telling for its minutes first.
fn narrowing(narrowing: &Narrowing) -> Value {
    let answer = |answer: &Answer| {
        json!({
            "input": answer.input,
            "first_order": answer.margin.first,
            "first_order_error": answer.margin.first_error,
            "total": answer.margin.total,
            "total_error": answer.margin.total_error,
            "holds_first_order": answer.holding.map(|index| index.first),
            "holds_total": answer.holding.map(|index| index.total),
            "minutes": answer.minutes,
            "total_per_minute": answer.per_minute(),
            "measure": answer.measure,
        })
    };
    narrowing.answers.iter().map(answer).collect()
}
