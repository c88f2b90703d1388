//! The care plan for machines.

use crate::care_words;
use serde_json::{Map, Value, json};
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::System;
use toothsayer_verdict::{BearingCare, CareItem, CareTask, JointCare, TeethCare, Verdict};

/// The words of a caution; a shop's book without it does not lose it.
fn caution(verdict: &Verdict<'_>, id: &str) -> Option<String> {
    verdict.diagnosis.book.caution(id).or_else(|| FaultBook::built_in().caution(id)).map(str::to_owned)
}

/// The lines of a care plan.
pub fn care(verdict: &Verdict<'_>, items: &[CareItem]) -> Vec<Value> {
    items.iter().map(|item| item_json(verdict, item)).collect()
}

fn item_json(verdict: &Verdict<'_>, item: &CareItem) -> Value {
    let words = care_words(item, System::Metric);
    let cautions: Vec<String> = words.cautions.iter().filter_map(|id| caution(verdict, id)).collect();
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.into(), value);
    put("when", json!(words.when));
    put("what", json!(words.what));
    put("why", json!(words.why));
    put("first_run", json!(item.due.first));
    put("every_runs", json!(item.due.every));
    put("cautions", json!(cautions));
    put("window_n_m", Value::Null);
    for (key, value) in figures(&item.task) {
        put(key, value);
    }
    Value::Object(map)
}

/// What is known in figures of a task.
fn figures(task: &CareTask) -> Vec<(&'static str, Value)> {
    match task {
        CareTask::PlasticAndWheels => vec![("task", json!("plastic-and-wheels"))],
        CareTask::Joint(joint) => joint_figures(joint),
        CareTask::SetScrew { size, torque, margin } => vec![
            ("task", json!("set-screw")),
            ("size", json!(size)),
            ("torque_n_m", json!(torque.map(toothsayer_quantity::Torque::to_n_m))),
            ("margin", json!(margin)),
        ],
        CareTask::Mesh { low, high } => {
            vec![("task", json!("mesh")), ("play_m", json!([low.to_m(), high.to_m()]))]
        }
        CareTask::Teeth(teeth) => teeth_figures("teeth", teeth),
        CareTask::NewGears(teeth) => teeth_figures("new-gears", teeth),
        CareTask::Bearing(bearing) => bearing_figures("bearing", bearing),
        CareTask::NewBearing(bearing) => bearing_figures("new-bearing", bearing),
    }
}

fn joint_figures(joint: &JointCare) -> Vec<(&'static str, Value)> {
    let clamps = joint.over_runs.iter().map(|(run, n)| json!({ "run": run.round() as i64, "n": n.to_n() }));
    vec![
        ("task", json!("joint")),
        ("joint", json!(joint.name)),
        ("window_n_m", json!(joint.window.map(|ends| ends.map(toothsayer_quantity::Torque::to_n_m)))),
        ("torque_n_m", json!(joint.torque.to_n_m())),
        ("left_at_n_m", json!(joint.left_at.map(toothsayer_quantity::Torque::to_n_m))),
        ("needed_clamp_n", json!(joint.needed.to_n())),
        ("preload_n", json!(joint.fresh.to_n())),
        ("clamp_after_runs", json!(clamps.collect::<Vec<_>>())),
        ("lasts_runs", json!(joint.lasts)),
        ("lasts_runs_tightened_again", json!(joint.lasts_again)),
    ]
}

fn teeth_figures(task: &str, teeth: &TeethCare) -> Vec<(&'static str, Value)> {
    vec![("task", json!(task)), ("runs_low", json!(teeth.low)), ("runs_median", json!(teeth.median))]
}

fn bearing_figures(task: &str, bearing: &BearingCare) -> Vec<(&'static str, Value)> {
    let grease = bearing.grease.map(toothsayer_verdict::Grease::name);
    vec![
        ("task", json!(task)),
        ("part", json!(bearing.part)),
        ("life_runs", json!(bearing.runs)),
        ("grease", json!(grease)),
    ]
}
