//! The repairs in alternatives for machines.

use super::care;
use serde_json::{Value, json};
use toothsayer_quantity::Torque;
use toothsayer_verdict::{Alternative, CareItem, FrontPoint, Holds, Left, Verdict};

/// A job's alternatives with the care plan; `repaired` says whether the truck holds as the recommended repair leaves it.
pub fn plan(verdict: &Verdict<'_>, items: &[CareItem], repaired: Option<Holds>) -> Value {
    let (plan, shop) = (&verdict.plan, &verdict.job.shop);
    json!({
        "currency": shop.currency.to_string(),
        "alternatives": plan.alternatives.iter().map(|one| alternative(one, verdict)).collect::<Vec<_>>(),
        "front": plan.front.iter().map(point).collect::<Vec<_>>(),
        "unavoidable_probability": plan.unavoidable,
        "repaired_holds": repaired.map(Holds::name),
        "care": care(verdict, items),
        "assumed_prices": shop.assumed,
    })
}

fn point(point: &FrontPoint) -> Value {
    json!({
        "price_minor": point.price.minor, "comeback_probability": point.comeback,
        "comeback_range": point.comeback_range, "cures": point.cures, "marks": point.marks,
    })
}

fn alternative(one: &Alternative, verdict: &Verdict<'_>) -> Value {
    let steps: Vec<Value> = one
        .steps
        .iter()
        .map(|step| {
            let windows: Vec<Value> = joints_of(verdict, step.tightens.as_deref())
                .map(|(name, low, high)| json!({ "joint": name, "window_low_n_m": low.to_n_m(), "window_high_n_m": high.to_n_m() }))
                .collect();
            json!({
                "id": step.id, "name": step.name, "what": step.what, "minutes": step.minutes, "tools": step.tools,
                "cautions": step.cautions, "tightening": windows,
            })
        })
        .collect();
    let parts: Vec<Value> = one
        .parts
        .iter()
        .map(|part| {
            json!({
                "part": part.name, "price_minor": part.price.map(|price| price.minor), "on_shelf": part.on_shelf,
                "lead_days": part.lead_days,
            })
        })
        .collect();
    json!({
        "name": one.name, "price_minor": one.price.minor, "comeback_probability": one.comeback,
        "comeback_range": one.comeback_range, "minutes": one.minutes, "steps": steps, "parts": parts, "leaves_open": texts(&one.leaves_open), "cures": one.cures,
        "cautions": one.cautions,
        "stopping_from_m_s": one.stops.map(|stops| stops[0].from.to_m_per_s()),
        "stopping_distance_m": one.stops.map(|stops| stops.map(|stop| stop.distance.map(|way| way.to_m()))),
    })
}

/// What is left, in a line each.
fn texts(left: &[Left]) -> Vec<String> {
    left.iter().map(ToString::to_string).collect()
}

/// Joints that a step tightens, with their windows.
fn joints_of<'a>(
    verdict: &'a Verdict<'_>,
    carries: Option<&'a str>,
) -> impl Iterator<Item = (&'a str, Torque, Torque)> {
    let joints = verdict.job.built.joints.iter().filter(move |joint| Some(joint.carries()) == carries);
    joints.filter_map(|joint| {
        verdict.windows.get(&joint.name).map(|window| (joint.name.as_str(), window.low, window.high))
    })
}
