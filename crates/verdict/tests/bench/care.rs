//! The care plan: short for a healthy truck, in time for every joint, sooner for what wears sooner.
//!
//! No outside source: clamp, life and ratings are held against published values in the rooms below; here it is when
//! they make something due.

use crate::bench::{HEALTHY, Judged, MEMO, STRIPPED, example, near, with};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::sync::LazyLock;
use toothsayer_job::{Joint, Tightening};
use toothsayer_quantity::{Force, Length, Torque};
use toothsayer_verdict::{
    COVER_OFF_RUNS, CareAsk, CareItem, CareTask, JointCare, JointFriction, LONGEST_RUNS, Life, LifeAsk, Loaded,
    TightJoint, care, life, windows,
};

const SEED: u64 = 20_261_125;
/// Two sums of the same few terms.
const ROUNDING: f64 = 1e-9;
/// A customer reads a plan once and keeps a page of it.
const PAGE: usize = 9;

const COVER: &str = "input shaft cover, into plastic";
const MOUNT: &str = "mount to chassis";

#[track_caller]
fn plan(judged: &Judged) -> Vec<CareItem> {
    judged.verdict.care(1, &MEMO).expect("a care plan")
}

#[track_caller]
fn joint<'a>(items: &'a [CareItem], name: &str) -> (&'a CareItem, &'a JointCare) {
    let of = |item: &'a CareItem| match &item.task {
        CareTask::Joint(joint) if joint.name == name => Some((item, joint)),
        _ => None,
    };
    items.iter().find_map(of).unwrap_or_else(|| panic!("{name} is in the plan"))
}

#[test]
fn a_healthy_trucks_plan_is_short() {
    let items = plan(&HEALTHY);
    assert!(items.len() <= PAGE, "{} lines", items.len());
    let seldom = |item: &CareItem| item.due.every.is_none_or(|every| every >= COVER_OFF_RUNS);
    let often: Vec<&CareItem> = items.iter().filter(|item| !seldom(item)).collect();
    // Common practice, no source: the motor's screws are tried after every run.
    assert!(matches!(&often[..], [CareItem { task: CareTask::Joint(joint), .. }] if joint.holds_motor), "{often:?}");
    assert!(!items.iter().any(|item| matches!(item.task, CareTask::NewGears(_) | CareTask::NewBearing(_))));
    assert!(items.is_sorted_by_key(|item| item.due.first));
}

#[test]
fn what_settles_in_the_first_run_is_tightened_after_it() {
    let items = plan(&STRIPPED);
    for name in [COVER, MOUNT] {
        let (item, joint) = joint(&items, name);
        assert_eq!((item.due.first, item.due.every), (1, Some(LONGEST_RUNS)), "{name}");
        assert!(joint.lasts_long() && joint.kept_by_first_run() < 0.9, "{joint:?}");
    }
}

#[test]
fn a_joint_that_needs_more_is_due_sooner() {
    // The cover's screw keeps 610 N after the first run and 553 N after 50 (`screws`): how long it lasts follows from
    // what is asked of it.
    let text = example("tarnhorn-check.toml");
    let every = |needed: &str| {
        let judged = Judged::of(&with(&text, "needed_clamp = \"300 N\"", &format!("needed_clamp = \"{needed}\"")));
        let items = plan(&judged);
        let (item, joint) = joint(&items, COVER);
        (item.due, joint.lasts, joint.window.is_some())
    };
    let (usual, more, most) = (every("300 N"), every("590 N"), every("5000 N"));
    assert_eq!(usual.1, Some(LONGEST_RUNS));
    assert!(more.1 < usual.1 && more.0.every <= usual.0.every, "{more:?}");
    assert!(!most.2 && most.0.is_every_run(), "no torque does: {most:?}");
}

/// The healthy truck with another spur.
fn with_spur(spur: &str) -> Vec<CareItem> {
    let own = "face_width = \"10 mm\", shift = 0.0, thinning = \"0 mm\", material = \"through-hardened-alloy\", \
               hardness = \"300 HV\"";
    plan(&Judged::of(&with(&example("tarnhorn-check.toml"), own, spur)))
}

#[track_caller]
fn look(items: &[CareItem]) -> &CareItem {
    items.iter().find(|item| matches!(item.task, CareTask::Teeth(_))).expect("a look at the teeth")
}

#[test]
fn weak_gears_are_looked_at_sooner_and_changed_in_time() {
    let items = with_spur("face_width = \"6 mm\", material = \"sintered-steel\"");
    let change = items.iter().find_map(|item| match item.task {
        CareTask::NewGears(teeth) => Some((item.due.first, teeth.low?)),
        _ => None,
    });
    let (first, low) = change.expect("new gears");
    assert!(low > 10.0 && f64::from(first) <= low && f64::from(first) > low - 1.0, "{first} {low}");
    let every = look(&items).due.every.expect("again and again");
    assert!(every < COVER_OFF_RUNS && 4.0 * f64::from(every) <= low, "{every} {low}");
}

#[test]
fn teeth_that_go_in_the_first_run_are_no_matter_of_care() {
    let items = with_spur("face_width = \"10 mm\", material = \"pom\"");
    let CareTask::Teeth(teeth) = look(&items).task else { panic!("teeth") };
    assert!(teeth.low.is_some_and(|low| low < 1.0) && look(&items).due.is_every_run(), "{teeth:?}");
    assert!(!items.iter().any(|item| matches!(item.task, CareTask::NewGears(_))));
}

#[test]
fn a_bearing_is_changed_before_its_rating_life_ends() {
    // A bearing of 15 N instead of the 8x16x5's.
    let small = "c = \"15 N\"\nc0 = \"400 N\"";
    let text = with(&example("tarnhorn-check.toml"), "bearing = \"8x16x5\"", small);
    let items = plan(&Judged::of(&text));
    let change = items.iter().find_map(|item| match item.task {
        CareTask::NewBearing(bearing) => Some((item.due.first, bearing)),
        _ => None,
    });
    let (first, bearing) = change.expect("a new bearing");
    assert!(f64::from(first) <= bearing.runs.expect("a life").max(1.0), "{first} {bearing:?}");
    assert_eq!(bearing.grease, None, "nothing is known of its size");
}

/// The healthy truck after the work, for joints to be changed on.
static LOADED: LazyLock<(Loaded, Life)> = LazyLock::new(|| {
    let verdict = &HEALTHY.verdict;
    let stage = verdict.stage(toothsayer_job::State::Proposed).expect("a repair");
    let life = life(stage, &LifeAsk { horizon_runs: 50.0, seed: 1 }).expect("a life");
    (verdict.loaded(toothsayer_job::State::Proposed, &MEMO).expect("blows"), life)
});

/// The plan of one joint of the healthy truck, changed.
fn changed(name: &str, change: impl Fn(&mut Joint)) -> (Loaded, CareItem) {
    let (loaded, life) = &*LOADED;
    let mut loaded = Loaded { build: loaded.build.clone(), bay: loaded.bay.clone(), peaks: loaded.peaks.clone() };
    loaded.build.joints.retain(|joint| joint.name == name);
    loaded.build.joints.iter_mut().for_each(change);
    let windows = windows(&loaded).expect("windows");
    let items = care(&CareAsk { loaded: &loaded, done: false, windows: &windows, life }).expect("a plan");
    let item = joint(&items, name).0.clone();
    (loaded, item)
}

/// The least clamp over the needed one from the first run to the last, the plan kept.
fn least_over_need(loaded: &Loaded, item: &CareItem, last: u32) -> f64 {
    let CareTask::Joint(care) = &item.task else { panic!("a joint") };
    let joint = &loaded.build.joints[0];
    let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL).expect("a joint");
    let due = item.due.runs(last);
    let clamp = |run: u32| match due.iter().rev().find(|tightened| **tightened < run) {
        None => tight.clamp_after(care.torque, f64::from(run)),
        Some(at) => tight.clamp_after_again(care.torque, f64::from(*at), f64::from(run - at)),
    };
    (1..=last).map(|run| clamp(run).expect("a clamp") / care.needed).fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 256, failure_persistence: None, rng_seed: RngSeed::Fixed(SEED), ..ProptestConfig::default()
    })]

    /// A joint that keeps its clamp for a run at all never falls below its need between two times that the plan asks
    /// for it: it is asked for before.
    #[test]
    fn no_joint_falls_short_between_two_times(needed_n in 50.0..2000.0, torque_n_m in 0.2..2.5, mount in any::<bool>()) {
        let name = if mount { MOUNT } else { COVER };
        let (loaded, item) = changed(name, |joint| {
            joint.needed_clamp = Some(Force::n(needed_n));
            joint.tightening = Tightening::Torque(Torque::n_m(torque_n_m));
        });
        let CareTask::Joint(care) = &item.task else { panic!("a joint") };
        let least = least_over_need(&loaded, &item, 200);
        let lasts = |runs: Option<u32>| runs.is_some_and(|runs| runs >= 1);
        if lasts(care.lasts) && lasts(care.lasts_again) {
            prop_assert!(least >= 1.0, "{least} {item:?}");
        } else {
            prop_assert!(item.due.every == Some(1) || item.due.first == 1, "{item:?}");
        }
        if let Some([low, high]) = care.window {
            let inside = low.to_n_m() * (1.0 - ROUNDING)..=high.to_n_m() * (1.0 + ROUNDING);
            prop_assert!(inside.contains(&care.torque.to_n_m()), "{item:?}");
        }
    }
}

/// A joint whose need is exactly what it keeps until run `until`: as tightened, or tightened again after one run.
fn at_its_edge(name: &str, torque_n_m: f64, clamped: Length, until: u32, again: bool) -> (Loaded, CareItem) {
    let set = |joint: &mut Joint| {
        joint.tightening = Tightening::Torque(Torque::n_m(torque_n_m));
        joint.clamped = clamped;
        joint.length = clamped + Length::mm(8.0);
    };
    let torque = Torque::n_m(torque_n_m);
    let (loaded, _) = changed(name, set);
    let tight = TightJoint::new(&loaded.build.joints[0], &loaded.build, &loaded.peaks, JointFriction::NOMINAL)
        .expect("a joint");
    let runs = f64::from(until);
    let kept = if again { tight.clamp_after_again(torque, 1.0, runs) } else { tight.clamp_after(torque, runs) };
    let needed = kept.expect("a clamp") * (1.0 - ROUNDING);
    changed(name, |joint| {
        set(joint);
        joint.needed_clamp = Some(needed);
    })
}

#[test]
fn a_joint_at_its_edge_is_asked_for_before_it_falls_short() {
    let (mut first_late, mut again_soon) = (0, 0);
    for name in [COVER, MOUNT] {
        for torque_n_m in [0.4, 0.7, 1.1, 1.6] {
            for clamped in [4.0, 12.0, 70.0].map(Length::mm) {
                for (until, again) in
                    [1, 2, 3, 5, 8, 13, 21, 34].into_iter().flat_map(|run| [(run, false), (run, true)])
                {
                    let (loaded, item) = at_its_edge(name, torque_n_m, clamped, until, again);
                    let CareTask::Joint(care) = &item.task else { panic!("a joint") };
                    if care.lasts.is_none_or(|runs| runs == 0) || care.lasts_again.is_none_or(|runs| runs == 0) {
                        continue;
                    }
                    let least = least_over_need(&loaded, &item, 200);
                    assert!(least >= 1.0, "{name}, {torque_n_m} N*m, until {until}: {least} {item:?}");
                    first_late += u32::from(item.due.first > 1);
                    again_soon += u32::from(care.lasts_again < Some(LONGEST_RUNS));
                }
            }
        }
    }
    assert!(first_late >= 10 && again_soon >= 10, "{first_late} and {again_soon} joints stood at an edge");
}

#[test]
fn what_the_work_left_too_loose_is_told() {
    // 1.2 N*m lies in the mount's window and does not outlast the first run; 1.6 N*m does.
    let after = |torque: &str| {
        let measured = format!("[after]\njoints = [{{ name = \"{MOUNT}\", torque = \"{torque}\" }}]\n\n[driver]");
        let items = plan(&Judged::of(&with(&example("tarnhorn.toml"), "[driver]", &measured)));
        let (_, joint) = joint(&items, MOUNT);
        (joint.left_at.map(Torque::to_n_m), joint.upper_end)
    };
    assert_eq!(after("1.2 N*m"), (Some(1.2), true));
    assert_eq!(after("1.6 N*m"), (None, false));
}

#[test]
fn the_plan_in_the_file_is_told_by_its_own_torque_where_that_is_right() {
    // 0.7 N*m lies in the cover's window; 0.1 N*m does not, and the plan aims at the window instead.
    let set = |n_m: f64| {
        let (_, item) = changed(COVER, |joint| joint.tightening = Tightening::Torque(Torque::n_m(n_m)));
        let CareTask::Joint(care) = item.task else { panic!("a joint") };
        (care.torque.to_n_m(), care.window.expect("a window").map(Torque::to_n_m))
    };
    near(set(0.7).0, 0.7, ROUNDING, "the file's torque");
    let (aimed, [low, high]) = set(0.1);
    near(aimed, (low + high) / 2.0, ROUNDING, "the window's middle");
}
