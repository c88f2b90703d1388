//! The registry's whole ranges: every input at its ends, trucks of every class drawn anywhere in what is assumed of them.
//!
//! No outside source: what must never come out (NaN, infinity, a panic), and which way a margin must move.

use crate::bench::{MEMO, example, job, least, margins_of};
use crate::five_facts::{TRUCKS, unit};
use std::sync::LazyLock;
use toothsayer_fault_book::FaultBook;
use toothsayer_inputs::{DRIVER_ROWS, Form, Input, JOINT_ROWS, build_inputs};
use toothsayer_job::{Entry, Job, Origin, Sheet};
use toothsayer_mechanics::screw::Tightness;
use toothsayer_verdict::{Error, JointFriction, Limit, Margin, TightJoint, Verdict};

static EXAMPLE: LazyLock<Job> = LazyLock::new(|| job(&example("tarnhorn.toml")));

/// Draws a class; many more where time is no matter.
fn draws() -> u64 {
    if std::env::var_os("TOOTHSAYER_LONG").is_some() { 40 } else { 2 }
}

/// Of the inputs' ends, every so-manieth also gets its causes and its plan.
fn every() -> usize {
    if std::env::var_os("TOOTHSAYER_LONG").is_some() { 1 } else { 10 }
}

#[track_caller]
fn sound(margins: &Result<Vec<Margin>, Error>, what: &str) {
    match margins {
        Err(error) => {
            let text = error.to_string();
            assert!(!text.is_empty() && !text.contains("NaN"), "{what}: {text}");
        }
        Ok(margins) => {
            for margin in margins {
                let numbers = [Some(margin.demand), Some(margin.capacity), margin.margin].into_iter().flatten();
                assert!(numbers.into_iter().all(|number| number >= 0.0 && number.is_finite()), "{what}: {margin:?}");
            }
        }
    }
}

/// Causes and alternatives without NaN, or an error that says something.
#[track_caller]
fn weighed(job: &Job, what: &str) {
    match Verdict::new(job, FaultBook::built_in(), &MEMO) {
        Err(error) => assert!(!error.to_string().contains("NaN"), "{what}: {error}"),
        Ok(verdict) => {
            for cause in &verdict.diagnosis.causes {
                for chance in [cause.present, cause.mattered, cause.next_set] {
                    assert!((0.0..=1.0 + 1e-9).contains(&chance), "{what}: {} {chance}", cause.id);
                }
            }
            for check in &verdict.diagnosis.open {
                assert!(check.bits >= -1e-12 && check.minutes > 0.0, "{what}: {} {}", check.id, check.bits);
            }
            for alternative in &verdict.plan.alternatives {
                assert!((0.0..=1.0 + 1e-9).contains(&alternative.comeback), "{what}: {}", alternative.comeback);
                assert!(alternative.price.minor >= 0 && alternative.minutes > 0.0, "{what}");
            }
        }
    }
}

fn at(sheet: &Sheet, input: &'static Input, value: f64) -> Sheet {
    let mut sheet = sheet.clone();
    let value = if input.form == Form::Count { value.round() } else { value };
    let entry = Entry::exact(value, Origin::Given);
    if input.key.starts_with("joints.") {
        sheet.joints.iter_mut().for_each(|joint| {
            joint.fields.numbers.insert(input.key, entry.clone());
        });
    } else {
        sheet.fields.numbers.insert(input.key, entry);
    }
    sheet
}

fn numbers() -> impl Iterator<Item = &'static Input> {
    let of_build = build_inputs().chain(JOINT_ROWS).filter(|input| input.is_number());
    // One key gives the pitch; the backlash is what the centre distance was made from.
    of_build.filter(|input| !["gears.diametral_pitch", "gears.backlash"].contains(&input.key))
}

#[test]
fn every_input_at_either_end_is_judged_or_refused() {
    for (place, input) in numbers().enumerate() {
        for (end, value) in [("least", input.least), ("most", input.most)] {
            let what = format!("{} at its {end}", input.key);
            let sheet = at(&EXAMPLE.built, input, value);
            sound(&margins_of(&sheet), &what);
            if place % every() == 0 {
                weighed(&Job { built: sheet, found: None, findings: Vec::new(), ..EXAMPLE.clone() }, &what);
            }
        }
    }
}

/// Every assumed value somewhere between its low and its high.
fn drawn(sheet: &Sheet, seed: u64) -> Sheet {
    let mut sheet = sheet.clone();
    let joints = sheet.joints.iter_mut().flat_map(|joint| joint.fields.numbers.values_mut());
    for (place, entry) in sheet.fields.numbers.values_mut().chain(joints).enumerate() {
        if entry.has_spread() {
            entry.value = entry.low + unit(seed, place) * (entry.high - entry.low);
        }
    }
    sheet
}

#[test]
fn trucks_of_every_class_anywhere_in_their_ranges_have_margins_causes_and_plans() {
    for truck in TRUCKS {
        let begun = job(&format!("{}[job]\ncomplaint = \"stripped\"\n", truck.to_toml()));
        for seed in 0..draws() {
            let what = format!("{} drawn with seed {seed}", truck.class);
            let sheet = drawn(&begun.built, seed);
            let margins = margins_of(&sheet);
            assert!(margins.is_ok(), "{what}: {:?}", margins.err());
            sound(&margins, &what);
            weighed(&Job { built: sheet, ..begun.clone() }, &what);
        }
    }
}

#[test]
fn a_driver_who_does_nothing_asks_nothing_over_the_horizon() {
    let counts = DRIVER_ROWS.iter().filter(|input| input.form == Form::Count);
    let idle = counts.fold(EXAMPLE.built.clone(), |sheet, input| at(&sheet, input, 0.0));
    for margin in margins_of(&idle).expect("margins").iter().filter(|one| one.limit == Limit::RootEndurance) {
        assert_eq!(margin.margin, None, "{margin:?}");
    }
}

/// The least margin of a part and limit at rising values of an input.
fn series(key: &str, values: &[f64], part: &str, limit: Limit) -> Vec<f64> {
    let input = toothsayer_inputs::find(key).expect("an input");
    let of = |value: &f64| least(&margins_of(&at(&EXAMPLE.built, input, *value)).expect("margins"), part, limit);
    values.iter().map(of).collect()
}

#[track_caller]
fn rises(series: &[f64]) {
    assert!(series.is_sorted_by(|less, more| less < more), "{series:?}");
}

#[test]
fn more_torque_slips_later_and_strips_earlier() {
    let torques_n_m = [0.4, 0.8, 1.2, 1.6];
    for joint in ["motor to mount", "mount to chassis"] {
        rises(&series("joints.torque", &torques_n_m, joint, Limit::Slip));
        let mut strips = series("joints.torque", &torques_n_m, joint, Limit::Strip);
        strips.reverse();
        rises(&strips);
    }
}

#[test]
fn a_tighter_set_screw_holds_more_and_a_wider_circle_slips_later() {
    rises(&series("set_screw.torque", &[0.5, 1.0, 2.0, 4.0], "set-screw", Limit::Hold));
    rises(&series("joints.circle", &[0.012, 0.02, 0.04, 0.08], "motor to mount", Limit::Slip));
}

#[test]
fn a_thicker_shaft_and_a_wider_overlap_bear_more() {
    rises(&series("motor.shaft_yield", &[3e8, 6e8, 12e8], "motor-shaft", Limit::Bending));
    let wide = series("stack.overlap", &[3e-3, 6e-3, 9e-3], "mesh", Limit::Overlap);
    rises(&wide);
}

#[test]
fn clamp_falls_over_the_runs_and_never_below_nothing() {
    let build = EXAMPLE.built.build().expect("it builds");
    for joint in &build.joints {
        let tight = TightJoint::new(joint, &build, &[], JointFriction::NOMINAL).expect("a joint");
        let window = tight.window(toothsayer_quantity::Force::n(100.0)).expect("a window");
        for word in ["loose", "hand", "set"] {
            let torque = Tightness::parse(word).expect("a word").torque(&window);
            let clamps: Vec<f64> =
                (0..=60).map(|runs| tight.clamp_after(torque, f64::from(runs)).expect("a clamp").to_n()).collect();
            assert!(clamps.is_sorted_by(|more, less| more >= less), "{}: {clamps:?}", joint.name);
            assert!(clamps.iter().all(|clamp| *clamp >= 0.0), "{}", joint.name);
        }
    }
}

#[test]
fn more_thread_strips_later_until_the_screw_gives_way() {
    let lengths_m = [0.008, 0.009, 0.010, 0.011];
    let name = "input shaft cover, into plastic";
    let input = toothsayer_inputs::find("joints.length").expect("an input");
    let strips =
        |value: &f64| least(&margins_of(&at(&EXAMPLE.built, input, *value)).expect("margins"), name, Limit::Strip);
    let strips: Vec<f64> = lengths_m.iter().map(strips).collect();
    assert!(strips.is_sorted(), "{strips:?}");
}
