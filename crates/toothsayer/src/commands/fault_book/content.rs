//! The book's whole content as JSON.

use serde_json::{Value, json};
use toothsayer_fault_book::{Above, Change, Decision, FaultBook};

/// The whole content, SI.
pub(super) fn as_json(book: &FaultBook) -> Value {
    let changes = |changes: &[Change]| changes.iter().map(change_json).collect::<Vec<Value>>();
    let causes: Vec<Value> = book
        .causes()
        .iter()
        .map(|cause| {
            json!({
                "id": cause.id, "name": cause.name, "plain": cause.plain, "prior": cause.prior.mean(),
                "prior_yes": cause.prior.yes, "prior_no": cause.prior.no,
                "outlives_gear_change": cause.outlives_gear_change, "computed": cause.is_computed(),
                "changes": changes(&cause.present), "cured_changes": changes(&cause.absent),
                "decided_by": cause.decided_by.iter().map(decision_json).collect::<Vec<Value>>(),
                "cautions": cause.cautions, "modes": cause.modes, "findings": cause.findings,
                "cured_by": cause.cured_by,
            })
        })
        .collect();
    let modes: Vec<Value> = book
        .modes()
        .iter()
        .map(|mode| json!({ "id": mode.id, "name": mode.name, "plain": mode.plain, "leak": mode.leak }))
        .collect();
    let findings: Vec<Value> = book
        .findings()
        .iter()
        .map(|finding| {
            json!({
                "id": finding.id, "question": finding.question, "how": finding.how, "minutes": finding.minutes,
                "order": finding.order, "needs": finding.needs, "tools": finding.tools, "cautions": finding.cautions,
                "leak": finding.leak, "modes": finding.modes, "frees": finding.frees, "means": changes(&finding.means),
                "measures": finding.value.as_ref().map(|value| {
                    json!({ "input": value.input, "adds": value.adds, "yes_above_si": value.yes_above })
                }),
            })
        })
        .collect();
    let steps: Vec<Value> = book
        .steps()
        .iter()
        .map(|step| {
            json!({
                "id": step.id, "name": step.name, "what": step.what, "minutes": step.minutes, "order": step.order,
                "needs": step.needs, "parts": step.parts, "tools": step.tools, "cautions": step.cautions,
                "tightens": step.tightens, "stage": step.stage,
            })
        })
        .collect();
    let removals: Vec<Value> = book
        .removals()
        .iter()
        .map(|part| {
            json!({
                "id": part.id, "name": part.name, "off_minutes": part.off_minutes, "on_minutes": part.on_minutes,
                "needs": part.needs, "tools": part.tools, "cautions": part.cautions, "cautions_back": part.cautions_back,
                "tightens": part.tightens,
            })
        })
        .collect();
    let cautions: Vec<Value> =
        book.cautions().iter().map(|caution| json!({ "id": caution.id, "text": caution.text })).collect();
    let complaints: Vec<Value> = book
        .complaints()
        .iter()
        .map(|complaint| {
            json!({
                "id": complaint.id, "name": complaint.name, "plain": complaint.plain, "stripped": complaint.stripped,
                "implies": complaint.implies, "steps": complaint.steps,
            })
        })
        .collect();
    json!({
        "complaints": complaints, "always": book.plans().always, "new_truck": book.plans().new_truck,
        "name": book.name(), "source": book.source(), "causes": causes, "modes": modes, "findings": findings,
        "removals": removals, "steps": steps, "cautions": cautions,
    })
}

fn change_json(change: &Change) -> Value {
    match change {
        Change::Set { input, to_si } => json!({ "set": input, "to_si": to_si }),
        Change::Add { input, amount_si, low, high } => {
            json!({ "add": input, "amount_si": amount_si, "low_si": low, "high_si": high })
        }
        Change::Scale { input, by } => json!({ "scale": input, "by": by }),
        Change::Usual { input } => json!({ "usual": input }),
        Change::Frees { carries } => json!({ "frees": carries }),
    }
}

fn decision_json(decision: &Decision) -> Value {
    match &decision.above {
        Above::Value(limit) => json!({ "input": decision.input, "above_si": limit }),
        Above::Usual(factor) => json!({ "input": decision.input, "above_usual": factor }),
        Above::Other { input, factor } => {
            json!({ "input": decision.input, "above_input": input, "times": factor })
        }
    }
}
