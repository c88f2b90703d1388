//! Assumed values for machines.

use serde_json::{Map, Value, json};
use toothsayer_job::Assumption;

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
