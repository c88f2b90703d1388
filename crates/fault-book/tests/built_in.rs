//! The built-in book: its schema, its facts of the trade, and how a broken book is refused.

use toothsayer_fault_book::{FaultBook, Wanted};

const TEXT: &str = include_str!("../data/pinion-and-spur.toml");

#[test]
fn the_built_in_book_has_no_problem() {
    if let Err(problems) = FaultBook::parse(TEXT) {
        panic!("{}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"));
    }
    let book = FaultBook::built_in();
    assert!(book.causes().len() >= 10);
    assert!(book.findings().len() >= 25);
}

#[test]
fn every_caution_is_told_somewhere() {
    let book = FaultBook::built_in();
    for caution in book.cautions() {
        let told = book.findings().iter().flat_map(|finding| &finding.cautions);
        let told = told.chain(book.steps().iter().flat_map(|step| &step.cautions));
        let mut told = told.chain(book.removals().iter().flat_map(|removal| &removal.cautions));
        assert!(told.any(|id| *id == caution.id), "{}", caution.id);
    }
}

// common practice, no source
#[test]
fn the_motors_screws_are_found_loose_more_often_than_the_mounts() {
    let prior = |id| FaultBook::built_in().cause(id).unwrap().prior.mean();
    assert!(prior("motor-loose") > prior("mount-loose"));
}

// common practice, no source
#[test]
fn behind_the_cover_the_support_bearing_is_looked_at_first() {
    let book = FaultBook::built_in();
    let first = book.findings().iter().find(|finding| finding.needs.iter().any(|need| need == "gear-cover")).unwrap();
    assert_eq!(first.id, "support-bearing-destroyed");
}

// common practice, no source
#[test]
fn every_plan_clears_fragments_with_a_magnet() {
    let step = FaultBook::built_in().step("clear-fragments").unwrap();
    assert!(step.wanted == Some(Wanted::Always) && step.tools.iter().any(|tool| tool == "magnet"));
}

// common practice, no source
#[test]
fn screws_into_plastic_are_finished_by_hand() {
    let book = FaultBook::built_in();
    for step in book.steps().iter().filter(|step| step.tightens.as_deref() == Some("input shaft")) {
        assert!(step.cautions.iter().any(|id| id == "plastic-by-hand"), "{}", step.id);
    }
    assert!(book.caution("plastic-by-hand").unwrap().contains("power driver never seats"));
}

// common practice, no source
#[test]
fn after_the_first_run_plastic_wheels_and_motor_are_checked_once_more() {
    let step = FaultBook::built_in().step("first-run").unwrap();
    assert_eq!(step.wanted, Some(Wanted::Always));
    for word in ["plastic", "wheel", "motor"] {
        assert!(step.what.contains(word), "{word}");
    }
}

// common practice, no source
#[test]
fn a_ruined_thread_means_a_new_part_and_much_labour() {
    let book = FaultBook::built_in();
    let cure = book.step(&book.cause("cover-threads-ruined").unwrap().cured_by[0]).unwrap();
    assert_eq!(cure.parts, ["gearbox half"]);
    let off: f64 =
        book.removals_for(cure.needs.iter().map(String::as_str)).iter().map(|r| r.off_minutes + r.on_minutes).sum();
    assert!(off + cure.minutes > 60.0);
}

#[test]
fn what_must_come_off_comes_off_once_and_in_order() {
    let ids: Vec<_> =
        FaultBook::built_in().removals_for(["spur", "pinion"]).iter().map(|removal| removal.id.clone()).collect();
    assert_eq!(ids, ["battery", "gear-cover", "input-cover", "spur", "pinion"]);
}

#[track_caller]
fn refused(change: (&str, &str), message: &str) {
    let text = TEXT.replacen(change.0, change.1, 1);
    assert_ne!(text, TEXT, "nothing to change");
    let problems = FaultBook::parse(&text).unwrap_err();
    let all = problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    assert!(all.contains(message), "{all}");
    assert!(problems.iter().all(|problem| problem.line > 1), "{all}");
}

#[test]
fn a_broken_book_is_refused_at_its_line() {
    refused(("cured_by = [\"tighten-motor\"]", "cured_by = [\"tighten-moter\"]"), "did you mean \"tighten-motor\"?");
    refused(("leak = 0.02", "leak = 1.02"), "its leak is 1.02, outside 0 to 1");
    refused(("set = \"support.stiffness\"", "set = \"support.stifness\""), "did you mean `support.stiffness`?");
    refused(("to = \"0 N/mm\"", "to = \"0 mm\""), "`mm` measures a length");
    refused(("frees = \"motor\"", "frees = \"moter\""), "nothing here frees \"moter\"");
    refused(("needs = [\"battery\"]", "needs = [\"motor\"]"), "must be off before itself");
    refused(("tightens = \"motor\"", "tightens = \"moter\""), "did you mean \"motor\"?");
    refused(("wanted = \"always\"", "wanted = \"allways\""), "`allways`, expected one of `always`");
    refused(("name = \"gear cover\"", "nam = \"gear cover\""), "unknown field");
}
