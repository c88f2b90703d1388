//! `why FILE --explain CAUSE`: one cause in sentences to be read aloud, and the numbers behind them below.

mod numbers;
mod text;

pub use text::write;

use crate::failure::Failure;
use serde_json::{Map, Value, json};
use toothsayer_fault_book::{Cause, FaultBook};
use toothsayer_quantity::nearest;
use toothsayer_verdict::{
    After, Beside, DECIBANS_PER_NAT, Explanation, Known, LimitFrom, Measure, Speaks, Turn, strength,
};

/// The cause of an id or a name, or the one that was meant.
pub fn known_cause<'a>(book: &'a FaultBook, id: &str) -> Result<&'a Cause, Failure> {
    let ids = || book.causes().iter().map(|cause| cause.id.as_str());
    let named = || book.causes().iter().find(|cause| cause.name == id);
    book.cause(id).or_else(named).ok_or_else(|| {
        let hint = nearest(id, ids())
            .map_or("`toothsayer fault-book` lists the causes".into(), |near| format!("did you mean \"{near}\"?"));
        Failure::usage(format!("the fault book has no cause \"{id}\""), hint)
    })
}

/// For machines.
pub fn as_json(explanation: &Explanation) -> Value {
    let [prior_nat, now_nat] = explanation.log_odds_nat.map_or([None; 2], |odds| odds.map(Some));
    json!({
        "cause": explanation.cause.id,
        "place": explanation.place,
        "prior": explanation.prior,
        "present": explanation.cause.present,
        "mattered": explanation.cause.mattered,
        "next_set": explanation.cause.next_set,
        "decided_by_build": explanation.cause.decided,
        "computed": explanation.cause.computed,
        "shown_by": explanation.shown_by,
        "prior_log_odds_nat": prior_nat,
        "log_odds_nat": now_nat,
        "weights": explanation.speaks.iter().map(weight_json).collect::<Vec<_>>(),
        "limits": explanation.beside.iter().map(beside_json).collect::<Vec<_>>(),
        "neglected": explanation.neglected,
        "open_checks": explanation.turns.iter().map(turn_json).collect::<Vec<_>>(),
    })
}

fn weight_json(speaks: &Speaks) -> Value {
    let (check, answer, by_complaint) = match &speaks.known {
        Known::Check { id, yes, by_complaint } => (Some(id), *yes, *by_complaint),
        Known::Strip => (None, true, true),
    };
    json!({
        "check": check,
        "answer": if answer { "yes" } else { "no" },
        "by_complaint": by_complaint,
        "log_odds_nat": speaks.log_odds_nat,
        "decibans": speaks.log_odds_nat * DECIBANS_PER_NAT,
        "present_without": speaks.without,
        "strength": strength(speaks.log_odds_nat).word,
    })
}

fn beside_json(beside: &Beside) -> Value {
    let suffix = beside.kind.key_suffix();
    let key = |name: &str| if suffix.is_empty() { name.to_owned() } else { format!("{name}_{suffix}") };
    let (what, name) = match &beside.measure {
        Measure::Check(id) => ("check", id.as_str()),
        Measure::Input(key) => ("input", key.as_str()),
        Measure::ContactRatio => ("figure", "contact_ratio"),
        Measure::Overlap => ("figure", "face_overlap"),
    };
    let mut map = Map::new();
    map.insert(what.into(), json!(name));
    map.insert(key("found"), json!(beside.found));
    map.insert(key("limit"), json!(beside.limit));
    let from = match beside.from {
        LimitFrom::Check => "check",
        LimitFrom::Book => "book",
        LimitFrom::Usual { .. } => "usual",
        LimitFrom::Build => "build",
    };
    map.insert("limit_from".into(), json!(from));
    map.insert("past".into(), json!(beside.is_past()));
    Value::Object(map)
}

fn turn_json(turn: &Turn) -> Value {
    let after = |after: &Option<After>| {
        let after = after.as_ref()?;
        Some(json!({ "present": after.present, "first_causes": after.first, "reorders": after.reorders }))
    };
    json!({
        "check": turn.check,
        "yes": turn.yes,
        "after_yes": after(&turn.after_yes),
        "after_no": after(&turn.after_no),
        "mean_move": turn.moves,
    })
}
