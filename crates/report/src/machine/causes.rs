//! Causes and the next checks for machines.

use super::assumptions;
use serde_json::{Value, json};
use toothsayer_verdict::{CauseVerdict, Verdict};

/// The causes of a job with what is worth looking at next.
pub fn causes(verdict: &Verdict<'_>) -> Value {
    let causes: Vec<Value> = verdict.diagnosis.ranked().iter().map(|one| cause(one)).collect();
    let checks: Vec<Value> = verdict
        .next_checks()
        .into_iter()
        .map(|(check, worth)| {
            json!({
                "id": check.id, "bits": check.bits, "worth": worth.minor, "worth_minor": worth.minor,
                "minutes": check.minutes,
            })
        })
        .collect();
    json!({
        "causes": causes,
        "neglected": verdict.diagnosis.neglected,
        "next_checks": checks,
        "enough_is_known": verdict.enough_is_known(),
        "assumptions": assumptions(&verdict.job.assumptions()),
        "currency": verdict.job.shop.currency.to_string(),
    })
}

fn cause(cause: &CauseVerdict) -> Value {
    json!({
        "id": cause.id, "present": cause.present, "mattered": cause.mattered, "next_set": cause.next_set,
        "decided_by_build": cause.decided, "computed": cause.computed,
    })
}
