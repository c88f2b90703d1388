//! A cause opened: its weights against the same file without an answer, its turns against the file with one more.

use crate::bench::{Judged, STRIPPED, example, near, with};
use toothsayer_verdict::{Error, Explanation, FIRST_CAUSES, Known, LimitFrom, Measure, Speaks};

/// The same inference on the same network, along another way of summing.
const ROUNDING: f64 = 1e-9;

const WHEELS: &str = "tarnhorn-wheels.toml";

#[track_caller]
fn explain(judged: &Judged, id: &str) -> Explanation {
    judged.verdict.diagnosis.explain(id).expect("the book has the cause")
}

#[track_caller]
fn of_check<'a>(explanation: &'a Explanation, check: &str) -> &'a Speaks {
    let is = |one: &&Speaks| matches!(&one.known, Known::Check { id, .. } if id == check);
    explanation.speaks.iter().find(is).unwrap_or_else(|| panic!("{check} is weighed"))
}

/// The text with one more answered check at its end.
fn answered(text: &str, check: &str, answer: &str) -> String {
    format!("{text}\n[[findings]]\ncheck = \"{check}\"\nanswer = \"{answer}\"\n")
}

#[test]
fn a_weight_is_what_the_file_without_that_answer_lacks() {
    // A "no" changes neither the build nor a severity, so that the shorter file has the same network.
    let text = example(WHEELS);
    let whole = Judged::of(&text);
    for check in ["fragments-seen", "set-screw-turns"] {
        let entry = format!("[[findings]]\ncheck = \"{check}\"\nanswer = \"no\"\n");
        let shorter = Judged::of(&with(&text, &entry, ""));
        for cause in ["motor-loose", "fragments-left", "set-screw-loose"] {
            let told = explain(&whole, cause);
            let lacking = explain(&shorter, cause);
            let one = of_check(&told, check);
            near(one.without, lacking.cause.present, ROUNDING, &format!("{cause} without {check}"));
            let [_, with] = told.log_odds_nat.expect("undecided");
            let [_, without] = lacking.log_odds_nat.expect("undecided");
            near(one.log_odds_nat, with - without, ROUNDING / lacking.cause.present, "the weight");
        }
    }
}

#[test]
fn an_open_checks_no_leads_where_the_answered_file_is() {
    let judged = &STRIPPED;
    let told = explain(judged, "motor-loose");
    assert!(!told.turns.is_empty());
    let moves: Vec<f64> = told.turns.iter().map(|turn| turn.moves).collect();
    assert!(moves.is_sorted_by(|a, b| a >= b), "{moves:?}");
    for turn in told.turns.iter().take(2) {
        let after = turn.after_no.as_ref().expect("it may be no");
        let then = Judged::of(&answered(&example("tarnhorn.toml"), &turn.check, "no"));
        near(after.present, explain(&then, "motor-loose").cause.present, ROUNDING, &turn.check);
        let ranked = then.verdict.diagnosis.ranked();
        let first: Vec<&str> = ranked.iter().take(after.first.len()).map(|cause| cause.id.as_str()).collect();
        assert_eq!(after.first, first, "{}", turn.check);
        assert!(after.first.len() <= FIRST_CAUSES);
        let mean = turn.yes * (turn.after_yes.as_ref().expect("it may be yes").present - told.cause.present).abs()
            + (1.0 - turn.yes) * (after.present - told.cause.present).abs();
        near(turn.moves, mean, ROUNDING, "the mean move");
    }
}

#[test]
fn odds_probability_and_prior_tell_the_same() {
    for cause in &STRIPPED.verdict.diagnosis.causes {
        let told = explain(&STRIPPED, &cause.id);
        assert_eq!(told.cause.decided, told.log_odds_nat.is_none() && told.prior.is_none() && told.speaks.is_empty());
        if let (Some([prior, now]), Some(mean), true) = (told.log_odds_nat, told.prior, told.shown_by.is_empty()) {
            near(1.0 / (1.0 + (-prior).exp()), mean, ROUNDING, "beforehand");
            near(1.0 / (1.0 + (-now).exp()), told.cause.present, ROUNDING, &cause.id);
        }
    }
}

#[test]
fn a_rocking_motor_is_told_beside_its_limits() {
    // The check says yes above 0.05 mm; 36.05 mm and the rock's 0.45 mm lie past what the mesh is set to.
    let told = explain(&STRIPPED, "motor-loose");
    let [rock, distance, ratio] = &told.beside[..] else { panic!("{:?}", told.beside) };
    assert_eq!((&rock.measure, rock.from), (&Measure::Check("motor-rocks".into()), LimitFrom::Check));
    near(rock.found, 0.45e-3, ROUNDING, "the rock");
    near(rock.limit, 0.05e-3, ROUNDING, "its limit");
    near(distance.found, 36.5e-3, ROUNDING, "the centre distance");
    near(ratio.limit, 1.2, ROUNDING, "the contact ratio that is needed");
    assert!(told.beside.iter().all(toothsayer_verdict::Beside::is_past) && ratio.least);
}

#[test]
fn what_the_build_decides_has_a_limit_and_no_evidence() {
    let told = explain(&STRIPPED, "strong-brake");
    assert!(told.cause.decided && told.speaks.is_empty() && told.turns.is_empty());
    let brake = &told.beside[0];
    assert_eq!(brake.from, LimitFrom::Book);
    near(brake.found, 1.0, ROUNDING, "full brake");
    near(brake.limit, 0.8, ROUNDING, "the book's limit");
    let wheels = Judged::of(&example(WHEELS));
    let mass = &explain(&wheels, "heavy-wheels").beside[0];
    assert_eq!(mass.from, LimitFrom::Usual { factor: 1.25 });
    near(mass.limit, 1.25 * 0.38, ROUNDING, "1.25 times the stock wheel of 380 g");
}

#[test]
fn a_finding_that_shows_a_cause_is_named() {
    // The check's yes takes the support away: the bearing is gone, whatever the odds.
    let text = answered(&example("tarnhorn.toml"), "support-bearing-destroyed", "yes");
    let told = explain(&Judged::of(&text), "support-bearing-gone");
    assert_eq!(told.shown_by, ["support-bearing-destroyed"]);
    near(told.cause.present, 1.0, ROUNDING, "it is there");
}

#[test]
fn a_cause_that_is_not_in_the_book_is_refused() {
    let error = STRIPPED.verdict.diagnosis.explain("gremlins").expect_err("no such cause");
    assert_eq!(error, Error::NoCause { id: "gremlins".into() });
    assert_eq!(error.to_string(), "the fault book has no cause \"gremlins\"");
}
