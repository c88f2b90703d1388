//! Machine-readable output: SI, the unit at the end of each key.

use crate::failure::Failure;
use serde::Serialize;
use serde_json::{Map, Value, json};
use toothsayer_job::Assumption;
use toothsayer_verdict::{Answer, Margin, Narrowing, StateMargins};

/// One value as indented JSON with a newline.
pub fn text(value: &impl Serialize) -> Result<String, Failure> {
    let mut text = serde_json::to_string_pretty(value)
        .map_err(|error| Failure::could(format!("the result cannot be written: {error}"), ""))?;
    text.push('\n');
    Ok(text)
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

/// Every assumed value with its range and where it comes from.
pub fn assumptions(assumptions: &[Assumption]) -> Value {
    assumptions.iter().map(assumption).collect()
}

fn assumption(assumption: &Assumption) -> Value {
    let mut map = Map::new();
    let kind = toothsayer_inputs::find(assumption.input).map(toothsayer_inputs::Input::kind);
    let suffix = kind.map_or("", toothsayer_quantity::Kind::key_suffix);
    let key = |name: &str| if suffix.is_empty() { name.to_owned() } else { format!("{name}_{suffix}") };
    map.insert("key".into(), json!(assumption.key));
    if let Some(entry) = &assumption.entry {
        map.insert(key("value"), json!(entry.value));
        map.insert(key("low"), json!(entry.low));
        map.insert(key("high"), json!(entry.high));
    }
    if let Some(word) = &assumption.word {
        map.insert("word".into(), json!(word));
    }
    map.insert("source".into(), json!(assumption.origin.to_string()));
    map.insert("measure".into(), json!(toothsayer_inputs::find(assumption.input).map_or("", |input| input.measure)));
    Value::Object(map)
}
