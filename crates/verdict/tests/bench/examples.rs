//! The three examples say what the product is for: healthy as built, failing as found, and why.
//!
//! No outside source: the figures are this project's own models on its own invented truck, held so that a change of
//! either is seen.

use crate::bench::{FRAGMENTS, HEALTHY, Judged, MEMO, STRIPPED, least, margin, near, ranges};
use toothsayer_evidence::{CauseId, CauseSet};
use toothsayer_job::State;
use toothsayer_verdict::{FrontPoint, Holds, Limit};

/// Half a unit of the last digit in which the figures are stated.
const OF_RATIO: f64 = 0.01;
const OF_SLIP: f64 = 0.05;
const OF_ACCIDENT: f64 = 0.02;
/// Windows are stated to half a percent.
const OF_WINDOW: f64 = 0.005;

const MOTOR_JOINT: &str = "motor to mount";

#[test]
fn the_example_holds_as_built() {
    let built = STRIPPED.state(State::Built);
    assert_ne!(built.holds, Holds::No);
    let least_of_all = built.least().expect("margins");
    assert_eq!((least_of_all.part.as_str(), least_of_all.limit), ("mesh", Limit::Overlap));
    near(least_of_all.margin.unwrap_or(0.0), 1.25, OF_RATIO, "least margin");
    near(least(&built.margins, "mesh", Limit::Engagement), 1.33, OF_RATIO, "engagement");
    near(least(&built.margins, MOTOR_JOINT, Limit::Slip), 1.88, OF_SLIP, "slip of the motor's joint");
}

#[test]
fn the_example_fails_as_found() {
    let found = STRIPPED.state(State::Found);
    assert_eq!(found.holds, Holds::No);
    near(least(&found.margins, MOTOR_JOINT, Limit::Slip), 0.0, f64::EPSILON, "slip of the motor's joint");
    near(least(&found.margins, "mesh", Limit::Engagement), 0.98, OF_RATIO, "engagement");
    near(margin(&found.margins, "pinion", Limit::Root, "wheel-stop"), 0.60, OF_ACCIDENT, "root in the wheel stop");
}

#[test]
fn the_examples_first_cause_is_the_loose_motor() {
    let ranked = STRIPPED.verdict.diagnosis.ranked();
    assert_eq!(ranked[0].id, "motor-loose");
    assert!(ranked[0].present > 0.9 && ranked[0].mattered > 0.5, "{:?}", ranked[0]);
    assert!(ranked[0].mattered > 2.0 * ranked[1].mattered, "{:?}", ranked[1]);
}

#[test]
fn new_gears_only_come_first_and_come_back() {
    let first = &STRIPPED.verdict.plan.alternatives[0];
    assert_eq!(first.name, "new-gears-only");
    assert!(first.comeback > 0.8, "{}", first.comeback);
    assert!(first.cures.is_empty());
}

#[test]
fn curing_the_loose_motor_alone_lowers_the_chance_of_a_comeback_most() {
    let diagnosis = &STRIPPED.verdict.diagnosis;
    let after = |place: usize| {
        let cured = CauseSet::only(CauseId(place));
        diagnosis.belief.failure(&diagnosis.ahead, cured).expect("a chance")
    };
    let places = 0..diagnosis.causes.len();
    let best = places.min_by(|a, b| after(*a).total_cmp(&after(*b))).expect("causes");
    assert_eq!(diagnosis.causes[best].id, "motor-loose");
    let front = &STRIPPED.verdict.plan.front;
    let drop = |pair: &&[FrontPoint]| pair[0].comeback - pair[1].comeback;
    let steepest = front.windows(2).max_by(|a, b| drop(a).total_cmp(&drop(b))).expect("a curve");
    assert_eq!(steepest[1].cures, ["motor-loose"]);
    assert!(steepest[1].comeback < 0.2 && steepest[0].comeback > 0.8);
}

#[track_caller]
fn steps(judged: &Judged, name: &str) -> Vec<String> {
    let plan = &judged.verdict.plan;
    let alternative = plan.alternatives.iter().find(|alternative| alternative.name == name).expect("the alternative");
    alternative.steps.iter().map(|step| step.id.clone()).collect()
}

#[test]
fn the_recommended_plan_tightens_the_motor_and_clears_fragments() {
    let steps = steps(&STRIPPED, "recommended");
    for needed in ["tighten-motor", "clear-fragments", "new-gears", "set-mesh", "first-run"] {
        assert!(steps.iter().any(|step| step == needed), "{needed} is not in {steps:?}");
    }
    assert_eq!(STRIPPED.holds(State::Proposed), Holds::Unsure, "nothing fails, and no ranges were run");
}

#[test]
fn the_examples_windows_are_those_of_its_three_joints() {
    let check = |name: &str, low_n_m: f64, high_n_m: f64| {
        let window = &STRIPPED.verdict.windows[name];
        near(window.low.to_n_m(), low_n_m, OF_WINDOW * low_n_m, name);
        near(window.high.to_n_m(), high_n_m, OF_WINDOW * high_n_m, name);
        assert!(window.is_open());
    };
    check(MOTOR_JOINT, 2.035, 3.870);
    check("mount to chassis", 0.969, 1.735);
    check("input shaft cover, into plastic", 0.2696, 0.8209);
}

#[test]
fn ranges_lie_about_the_point_values_and_leave_the_built_truck_standing() {
    let ranges = ranges(64, 1);
    let states = STRIPPED.verdict.margins(Some(&ranges), &MEMO).expect("margins");
    for (state, holds) in [(State::Built, None), (State::Found, Some(Holds::No))] {
        let margins = states.iter().find(|margins| margins.state == state).expect("the state");
        match holds {
            Some(holds) => assert_eq!(margins.holds, holds),
            None => assert_ne!(margins.holds, Holds::No),
        }
        for margin in margins.margins.iter().filter(|margin| margin.margin.is_some()) {
            let chance = margin.exceeded.expect("a probability");
            let ends = [0.0, chance.low, chance.value, chance.high, 1.0];
            assert!(ends.is_sorted() && chance.low < chance.high, "{margin:?}");
            if let (Some(low), Some(median), Some(high)) = (margin.low, margin.median, margin.high) {
                assert!([0.0, low, median, high].is_sorted(), "{margin:?}");
            }
        }
    }
}

#[test]
fn a_fragment_left_in_is_found_out() {
    assert_eq!(FRAGMENTS.verdict.diagnosis.ranked()[0].id, "fragments-left");
    assert_ne!(FRAGMENTS.holds(State::Built), Holds::No);
    assert_ne!(FRAGMENTS.holds(State::Proposed), Holds::No);
    for alternative in ["new-gears-only", "recommended", "sturdiest"] {
        assert!(steps(&FRAGMENTS, alternative).iter().any(|step| step == "clear-fragments"), "{alternative}");
    }
}

#[test]
fn a_healthy_truck_is_not_accused() {
    for cause in &HEALTHY.verdict.diagnosis.causes {
        assert!(cause.present < 0.2, "{} {}", cause.id, cause.present);
    }
    assert_ne!(HEALTHY.holds(State::Built), Holds::No);
    let steps = steps(&HEALTHY, "recommended");
    assert!(!steps.iter().any(|step| step == "new-gears"), "{steps:?}");
}
