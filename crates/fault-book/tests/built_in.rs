//! The built-in book: its schema, its facts of the trade, and how a broken book is refused.

use std::sync::LazyLock;
use toothsayer_fault_book::FaultBook;

/// The built-in book as one file.
static TEXT: LazyLock<String> = LazyLock::new(|| FaultBook::built_in_parts().map(|part| part.text).join("\n"));

#[track_caller]
fn told(problems: &[toothsayer_fault_book::Problem]) -> String {
    problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_built_in_book_has_no_problem() {
    if let Err(problems) = FaultBook::parse_parts(&FaultBook::built_in_parts()) {
        panic!("{}", told(&problems));
    }
    let book = FaultBook::built_in();
    assert!(book.causes().len() >= 25, "{}", book.causes().len());
    assert!(book.findings().len() >= 48, "{}", book.findings().len());
    assert!(book.steps().len() >= 51, "{}", book.steps().len());
}

#[test]
fn every_caution_is_told_somewhere() {
    let book = FaultBook::built_in();
    for caution in book.cautions() {
        let told = book.findings().iter().flat_map(|finding| &finding.cautions);
        let told = told.chain(book.steps().iter().flat_map(|step| &step.cautions));
        let told = told.chain(book.causes().iter().flat_map(|cause| &cause.cautions));
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
    let book = FaultBook::built_in();
    assert!(book.plans().always.iter().any(|id| id == "clear-fragments"));
    assert!(book.step("clear-fragments").unwrap().tools.iter().any(|tool| tool == "magnet"));
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
    let book = FaultBook::built_in();
    let step = book.step("first-run").unwrap();
    assert!(book.plans().always.contains(&step.id));
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

#[test]
fn every_cause_is_reachable_by_what_is_seen_and_by_what_is_done() {
    let book = FaultBook::built_in();
    for finding in book.findings() {
        let pointed = book.causes().iter().any(|cause| cause.findings.contains_key(&finding.id));
        assert!(pointed || !finding.modes.is_empty(), "nothing brings about {}", finding.id);
        assert!(finding.minutes > 0.0 && !finding.how.is_empty(), "{}", finding.id);
    }
    for mode in book.modes() {
        assert!(book.findings().iter().any(|finding| finding.modes.contains_key(&mode.id)), "{}", mode.id);
        let brought = book.causes().iter().any(|cause| cause.modes.contains_key(&mode.id));
        assert!(brought || mode.computed.is_some(), "{}", mode.id);
    }
    for step in book.steps() {
        assert!(!step.tools.is_empty() && step.minutes > 0.0 && !step.what.is_empty(), "{}", step.id);
    }
}

// common practice, no source
#[test]
fn work_that_concerns_plastic_magnets_brakes_and_packs_says_so() {
    let book = FaultBook::built_in();
    let check = |id: &str, caution: &str| {
        let step = book.step(id).unwrap();
        assert!(step.cautions.iter().any(|told| told == caution), "{id} does not tell {caution}");
    };
    check("lower-brake", "stopping-distance");
    check("clear-fragments", "magnet");
    check("clear-fragments", "eyes");
    check("tighten-motor", "screw-length");
    check("wash-gear-bay", "solvent");
    check("store-pack", "swollen-pack");
    check("first-run", "wheels-in-air");
    check("fit-smaller-pinion", "makers-limits");
    check("new-motor", "hot");
    assert!(book.caution("plastic-by-hand").unwrap().contains("without thread locker"));
    assert!(book.caution("swollen-pack").unwrap().contains("local rules"));
    for step in book.steps().iter().filter(|step| step.cautions.iter().any(|id| id == "plastic-by-hand")) {
        assert!(!step.tools.iter().any(|tool| tool == "thread locker"), "{}", step.id);
    }
}

#[track_caller]
fn refused(change: (&str, &str), message: &str) {
    let text = TEXT.replacen(change.0, change.1, 1);
    assert!(text != *TEXT, "nothing to change");
    let problems = FaultBook::parse(&text).unwrap_err();
    let all = told(&problems);
    assert!(all.contains(message), "{all}");
    let line = |text: &str, needle: &str| text[..text.find(needle).unwrap()].matches('\n').count() + 1;
    let expected = line(&text, change.1);
    assert!(problems.iter().any(|problem| problem.line == expected && problem.column > 0), "line {expected}: {all}");
}

#[test]
fn a_broken_book_is_refused_at_its_line() {
    refused(("cured_by = [\"tighten-motor\"", "cured_by = [\"tighten-moter\""), "did you mean \"tighten-motor\"?");
    refused(("leak = 0.02", "leak = 1.02"), "its leak is 1.02, outside 0 to 1");
    refused(("set = \"support.stiffness\"", "set = \"support.stifness\""), "did you mean `support.stiffness`?");
    refused(("to = \"0 N/mm\"", "to = \"0 mm\""), "`mm` measures a length");
    refused(("frees = \"motor\"", "frees = \"moter\""), "did you mean \"motor\"?");
    refused(("needs = [\"battery\"]", "needs = [\"motor\"]"), "must be off before itself");
    refused(("tightens = \"motor\"", "tightens = \"moter\""), "did you mean \"motor\"?");
    refused(("stripped = true", "striped = true"), "has no key `striped` (did you mean \"stripped\"?)");
    refused(("name = \"gear cover\"", "nam = \"gear cover\""), "has no key `nam` (did you mean \"name\"?)");
    refused(("implies = [\"gear-noise\"]", "implies = [\"gear-noize\"]"), "did you mean \"gear-noise\"?");
    refused(("above_usual = 1.25", "above_usuall = 1.25"), "did you mean \"above_usual\"?");
    refused(("id = \"season-end\"", "id = \"seasons-end\""), "did you mean \"season-end\"?");
    refused(("[[cautions]]", "[[caution]]\n[[cautions]]"), "did you mean \"cautions\"?");
}

#[test]
fn every_problem_of_a_book_is_told_at_once() {
    let text = TEXT.replacen("leak = 0.02", "leak = 1.02", 1).replacen("op = \"add\"", "op = \"plus\"", 1);
    let text = text.replacen("\nminutes = 2", "\nminute = 2", 1);
    let all = told(&FaultBook::parse(&text).unwrap_err());
    assert!(all.contains("`value.op` cannot be \"plus\"") && all.contains("has no key `minute`"), "{all}");
}

const OWN: &str = r#"
extends = "built-in"
name = "pinion and spur, with our own"
[[causes]]
id = "motor-loose"
name = "motor loose in its mount"
plain = "As in the built-in book, with our counts."
prior = { yes = 9, no = 91 }
findings = { motor-rocks = 0.95 }
cured_by = ["tighten-motor"]
"#;

#[test]
fn a_shops_book_replaces_what_has_its_id_and_keeps_the_rest() {
    let own = FaultBook::parse(OWN).unwrap();
    let built_in = FaultBook::built_in();
    assert_eq!(own.causes().len(), built_in.causes().len());
    assert_eq!(own.cause("motor-loose").unwrap().prior.yes, 9.0);
    assert_eq!(own.steps().len(), built_in.steps().len());
    let wrong = OWN.replace("motor-rocks", "motor-rock");
    let problems = FaultBook::parse(&wrong).unwrap_err();
    assert_eq!((problems.len(), problems[0].line, problems[0].column), (1, 9, 14), "{}", told(&problems));
    assert!(problems[0].hint.contains("motor-rocks"));
}

#[test]
fn a_book_without_causes_says_so() {
    let all = told(&FaultBook::parse("name = \"nothing\"\nsource = \"nobody\"\n").unwrap_err());
    assert!(all.contains("no cause") && all.contains("extends = \"built-in\""), "{all}");
}

#[test]
fn every_visit_of_a_job_file_is_known_to_a_book_that_writes_none() {
    let text = include_str!("../../../reference/noisy-or.toml");
    let book = FaultBook::parse(text).unwrap();
    assert!(book.complaints().is_empty());
    for word in toothsayer_inputs::COMPLAINTS {
        assert!(FaultBook::built_in().complaints().iter().any(|complaint| complaint.id == *word), "{word}");
        assert_eq!(book.complaint(word).unwrap().stripped, word.starts_with("stripped"), "{word}");
    }
}
