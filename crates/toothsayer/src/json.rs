//! Machine-readable output: SI, the unit at the end of each key.

use crate::failure::Failure;
use serde::Serialize;
use serde_json::{Map, Value, json};
use toothsayer_job::Assumption;
use toothsayer_verdict::{Margin, StateMargins};

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
                "settle": state.settle,
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
        "margin_high": margin.high,
        "probability_exceeded": margin.exceeded,
        "fails_at": margin.fails_at.map(|at| at.name()),
    })
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
