//! What the trade knows of causes and checks: fragments, the support bearing, the order of work. Common practice, no source.

use crate::bench::{FRAGMENTS, HEALTHY, Judged, STRIPPED, unopened};
use std::sync::LazyLock;
use toothsayer_evidence::{CauseId, CauseSet};
use toothsayer_fault_book::FaultBook;
use toothsayer_verdict::{Alternative, Diagnosis};

/// The example of which only the complaint is known.
static UNOPENED: LazyLock<Judged> = LazyLock::new(|| Judged::of(&unopened()));

fn place(diagnosis: &Diagnosis<'_>, cause: &str) -> CauseId {
    CauseId(diagnosis.causes.iter().position(|known| known.id == cause).expect("the cause"))
}

#[test]
fn one_fragment_left_in_takes_the_next_set() {
    for judged in [&STRIPPED, &FRAGMENTS, &HEALTHY] {
        let diagnosis = &judged.verdict.diagnosis;
        let alone = diagnosis.ahead.alone(place(diagnosis, "fragments-left"));
        assert!(alone > 0.8, "{alone}");
    }
}

#[test]
fn every_alternative_clears_the_fragments() {
    for judged in [&STRIPPED, &FRAGMENTS, &HEALTHY, &UNOPENED] {
        for alternative in &judged.verdict.plan.alternatives {
            assert!(alternative.steps.iter().any(|step| step.id == "clear-fragments"), "{}", alternative.name);
        }
    }
}

#[test]
fn after_a_strip_the_support_bearing_is_destroyed_more_often_than_not() {
    let diagnosis = &UNOPENED.verdict.diagnosis;
    let check = diagnosis.open.iter().position(|check| check.id == "support-bearing-destroyed").expect("the check");
    let (yes, _, _) = &diagnosis.answered[check];
    assert!(*yes > 0.5, "{yes}");
}

#[test]
fn the_support_bearing_is_the_first_thing_seen_behind_the_cover() {
    let diagnosis = &UNOPENED.verdict.diagnosis;
    let behind = diagnosis.open.iter().filter(|check| {
        let finding = diagnosis.book.finding(&check.id).expect("a finding of the book");
        finding.needs.iter().any(|needed| needed == "gear-cover")
    });
    let first = behind.min_by_key(|check| check.place).expect("checks behind the cover");
    assert_eq!(first.id, "support-bearing-destroyed");
}

#[test]
fn the_motors_two_screws_are_suspected_first_when_only_a_strip_is_known() {
    assert_eq!(UNOPENED.verdict.diagnosis.ranked()[0].id, "motor-loose");
}

#[test]
fn a_rocking_motor_found_makes_the_loose_motor_likelier() {
    let present = |judged: &Judged| judged.verdict.diagnosis.cause("motor-loose").expect("the cause").present;
    assert!(present(&STRIPPED) > 2.0 * present(&UNOPENED));
    assert!(present(&HEALTHY) < 0.1 * present(&UNOPENED));
}

#[test]
fn new_gears_only_is_always_offered_first_and_never_the_safest() {
    for judged in [&STRIPPED, &FRAGMENTS, &HEALTHY, &UNOPENED] {
        let alternatives = &judged.verdict.plan.alternatives;
        assert_eq!(alternatives[0].name, "new-gears-only");
        let sturdiest = alternatives.iter().find(|one| one.name == "sturdiest").expect("the sturdiest");
        assert!(sturdiest.comeback <= alternatives[0].comeback);
    }
}

// common practice, no source
#[test]
fn a_bearing_found_destroyed_is_replaced_whatever_broke_it() {
    let text = format!(
        "{}\n[[findings]]\ncheck = \"support-bearing-destroyed\"\nanswer = \"yes\"\n",
        crate::bench::example("tarnhorn.toml")
    );
    let judged = Judged::of(&text);
    for one in &judged.verdict.plan.alternatives[1..] {
        assert!(one.steps.iter().any(|step| step.id == "new-support-bearing"), "{}", one.name);
    }
}

fn ids(alternative: &Alternative) -> Vec<&str> {
    alternative.steps.iter().map(|step| step.id.as_str()).collect()
}

// common practice, no source
#[test]
fn the_mesh_is_set_with_both_gears_in_place_and_the_cover_goes_on_after_the_last_look() {
    for judged in [&STRIPPED, &FRAGMENTS, &HEALTHY, &UNOPENED] {
        for alternative in &judged.verdict.plan.alternatives {
            let ids = ids(alternative);
            let at = |id: &str| ids.iter().position(|known| *known == id);
            for gear in ["on pinion", "on spur", "tighten-motor", "tighten-mount"] {
                assert!(at(gear) < at("set-mesh"), "{gear} in {ids:?}");
            }
            assert_eq!(at("final-check").map(|last| last + 1), at("on gear-cover"), "{ids:?}");
        }
    }
}

#[test]
fn what_comes_off_goes_back_once_in_reverse_order() {
    for judged in [&STRIPPED, &FRAGMENTS, &HEALTHY, &UNOPENED] {
        for alternative in &judged.verdict.plan.alternatives {
            let ids = ids(alternative);
            let off: Vec<&str> = ids.iter().filter_map(|id| id.strip_prefix("off ")).collect();
            let mut back: Vec<&str> = ids.iter().filter_map(|id| id.strip_prefix("on ")).collect();
            back.sort_by_key(|part| off.iter().position(|known| known == part));
            assert_eq!(off, back, "{}", alternative.name);
            for part in &off {
                let needs = &FaultBook::built_in().removal(part).expect("a removal of the book").needs;
                let place = |id: String| ids.iter().position(|known| *known == id);
                for under in needs {
                    assert!(place(format!("off {under}")) < place(format!("off {part}")), "{ids:?}");
                    assert!(place(format!("on {under}")) > place(format!("on {part}")), "{ids:?}");
                }
            }
        }
    }
}

// common practice, no source
#[test]
fn a_new_truck_gets_its_screws_checked_before_its_first_run() {
    let text = crate::bench::example("tarnhorn-check.toml");
    let new = text.replace("runs_since_gears = 30", "runs_since_gears = 0");
    assert_ne!(new, text);
    let judged = Judged::of(&new);
    for alternative in &judged.verdict.plan.alternatives {
        let ids = ids(alternative);
        let at = |id: &str| ids.iter().position(|known| *known == id).expect("the step");
        assert!(at("new-truck-check") < at("first-run"), "{ids:?}");
    }
    assert!(HEALTHY.verdict.plan.alternatives.iter().all(|run_in| !ids(run_in).contains(&"new-truck-check")));
}

// common practice, no source
#[test]
fn a_truck_that_did_not_strip_keeps_its_gears() {
    assert!(HEALTHY.verdict.plan.alternatives[..2].iter().all(|one| !ids(one).contains(&"new-gears")));
}

// common practice, no source
#[test]
fn whatever_goes_back_with_screws_is_tightened_to_its_joint() {
    let steps = STRIPPED.verdict.plan.alternatives.iter().flat_map(|alternative| &alternative.steps);
    let cover: Vec<_> = steps.filter(|step| step.id == "on input-cover").collect();
    assert!(!cover.is_empty());
    for step in cover {
        assert_eq!(step.tightens.as_deref(), Some("input shaft"));
        assert!(step.cautions.iter().any(|caution| caution.contains("by hand")));
    }
}

#[test]
fn a_bearing_seen_destroyed_is_there_for_every_figure() {
    let text = format!(
        "{}\n[[findings]]\ncheck = \"support-bearing-destroyed\"\nanswer = \"yes\"\n",
        crate::bench::example("tarnhorn.toml")
    );
    let judged = Judged::of(&text);
    let diagnosis = &judged.verdict.diagnosis;
    let gone = place(diagnosis, "support-bearing-gone");
    let present = diagnosis.cause("support-bearing-gone").expect("the cause").present;
    assert!((present - 1.0).abs() < 1e-12, "{present}");
    assert!(diagnosis.belief.none_of(CauseSet::only(gone)).abs() < 1e-12);
    let answered = diagnosis.answered.iter().flat_map(|(_, yes, no)| [yes, no]).flatten();
    assert!(answered.into_iter().all(|belief| belief.none_of(CauseSet::only(gone)).abs() < 1e-12));
    let alternatives = &judged.verdict.plan.alternatives;
    assert!(alternatives[0].comeback > alternatives[1].comeback, "leaving it out is told in the chance");
}

/// The example on heavy wheels and soft gears with a brake that bites: what it strips by is the brake.
fn braking_hard() -> String {
    let changes = [
        ("landings = 20", "landings = 0"),
        ("brake_current = \"140 A\"", "brake_current = \"600 A\""),
        ("resistance = \"14 mohm\"", "resistance = \"6 mohm\""),
        ("\"through-hardened-alloy\"", "\"sintered-steel\""),
        ("grip = 0.9", "grip = 1.6"),
        ("mass = \"410 g\"", "mass = \"700 g\""),
        ("rotor_inertia = \"3.4e-5", "rotor_inertia = \"9e-5"),
    ];
    let text = changes.iter().fold(unopened(), |text, (old, new)| crate::bench::with(&text, old, new));
    format!("{text}\n[[findings]]\ncheck = \"brake-at-full\"\nanswer = \"yes\"\n")
}

// common practice, no source: who lowers a brake says by how much the truck stops later.
#[test]
fn no_repair_lowers_the_brake_without_the_way_to_a_stop() {
    // The second truck's tyres skid before its lowered brake lets go.
    for (text, longer) in [(braking_hard(), true), (crate::bench::example("tarnhorn-motor.toml"), false)] {
        let judged = Judged::of(&text);
        let mut lowered = 0;
        for one in &judged.verdict.plan.alternatives {
            let lowers =
                one.steps.iter().any(|step| ["lower-brake", "limit-drive-current"].contains(&step.id.as_str()));
            assert_eq!(lowers, one.stops.is_some(), "{}", one.name);
            if let Some([before, after]) = one.stops {
                let [before, after] = [before, after].map(|stop| stop.distance.expect("a way"));
                assert!(if longer { after > before } else { after == before }, "{before:?} {after:?}");
                lowered += 1;
            }
        }
        assert!(lowered > 0, "no alternative lowers the brake");
    }
}
