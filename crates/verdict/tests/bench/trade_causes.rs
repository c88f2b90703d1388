//! What the trade knows of causes and checks: fragments, the support bearing. Common practice, no source.

use crate::bench::{FRAGMENTS, HEALTHY, Judged, STRIPPED, unopened};
use std::sync::LazyLock;
use toothsayer_evidence::CauseId;
use toothsayer_verdict::Diagnosis;

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
    let job = toothsayer_job::Job::parse(&text, toothsayer_fault_book::FaultBook::built_in()).unwrap();
    let memo = toothsayer_verdict::Memo::default();
    let verdict = toothsayer_verdict::Verdict::new(&job, toothsayer_fault_book::FaultBook::built_in(), &memo).unwrap();
    for one in &verdict.plan.alternatives[1..] {
        assert!(one.steps.iter().any(|step| step.id == "new-support-bearing"), "{}", one.name);
    }
}
