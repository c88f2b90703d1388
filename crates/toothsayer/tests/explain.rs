//! `why FILE --explain CAUSE` as a person asks it: words that agree with the numbers, on any width, in either order.

use std::process::{Command, Output};

fn example(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn why(args: &[&str], columns: usize) -> Output {
    let mut run = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
    run.arg("why").args(args).env("COLUMNS", columns.to_string()).output().unwrap()
}

/// The text in one line.
#[track_caller]
fn told(args: &[&str]) -> String {
    let output = why(args, 100);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn explanation(args: &[&str]) -> serde_json::Value {
    let output = why(&[args, &["--json"]].concat(), 100);
    assert!(output.status.success() && output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    let whole: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(whole["causes"].is_array(), "the ranked causes stay");
    whole["explanation"].clone()
}

#[test]
fn words_and_numbers_agree() {
    // Jeffreys' grades begin at 5, 10 and 20 decibans (from memory); 1 is about the least that is felt (Good 1985).
    let file = example("tarnhorn-wheels.toml");
    let opened = explanation(&[&file, "--explain", "motor-loose"]);
    let text = told(&[&file, "--explain", "motor-loose"]);
    let weights = opened["weights"].as_array().unwrap();
    assert!(weights.len() >= 5, "{weights:?}");
    let mut loud = 0;
    for weight in weights {
        let decibans = weight["decibans"].as_f64().unwrap();
        let nats = weight["log_odds_nat"].as_f64().unwrap();
        assert!((decibans - nats * 10.0 / 10_f64.ln()).abs() < 1e-9, "{weight}");
        let word = match decibans.abs() {
            strong if strong >= 20.0 => "very strongly",
            strong if strong >= 10.0 => "strongly",
            clear if clear >= 5.0 => "clearly",
            little if little >= 1.0 => "a little",
            _ => "hardly",
        };
        assert_eq!(weight["strength"], word);
        let side = if nats > 0.0 { "for it" } else { "against it" };
        let sentence = format!("speaks {word} {side}.");
        assert!(word == "hardly" || text.contains(&sentence), "{sentence} is missing in {text}");
        loud += usize::from(word != "hardly");
    }
    // The heading and the closing sentence speak too.
    let others = 1 + usize::from(text.contains("Nothing that is known speaks"));
    assert_eq!(text.matches("speaks ").count(), loud + others);
    for words in
        ["found 0.3 mm; above 0.05 mm the answer counts as yes: past it", "is computed from this truck's gears"]
    {
        assert!(text.contains(words), "{words} is missing in {text}");
    }
}

#[test]
fn the_step_from_prior_to_posterior_is_told_in_odds() {
    let opened = explanation(&[&example("tarnhorn.toml"), "--explain", "motor-loose"]);
    let [prior, present] = ["prior", "present"].map(|key| opened[key].as_f64().unwrap());
    let [before, now] = ["prior_log_odds_nat", "log_odds_nat"].map(|key| opened[key].as_f64().unwrap());
    // Two counts for and twelve against (fault book).
    assert!((prior - 2.0 / 14.0).abs() < 1e-12 && (before - f64::ln(2.0 / 12.0)).abs() < 1e-12);
    assert!((now - f64::ln(present / (1.0 - present))).abs() < 1e-9);
    assert_eq!(opened["cause"], "motor-loose");
}

#[test]
fn file_and_cause_may_stand_in_either_order() {
    let file = example("tarnhorn.toml");
    let [usual, swapped] = [[&file, "--explain", "motor-loose"], ["--explain", "motor-loose", &file]];
    assert_eq!(told(&usual), told(&swapped));
    assert_eq!(told(&[&file, "motor-loose"]), told(&usual), "the cause alone opens it");
    assert!(told(&[&file, "--explain"]).contains("How the figures come about"), "without a cause as before");
}

#[test]
fn an_unknown_cause_is_refused_with_the_one_that_was_meant() {
    let output = why(&[&example("tarnhorn.toml"), "--explain", "motor-lose"], 100);
    let message = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    for words in ["the fault book has no cause \"motor-lose\"", "did you mean \"motor-loose\"?"] {
        assert!(message.contains(words), "{message}");
    }
}

#[test]
fn every_cause_is_told_on_narrow_terminals_and_accuses_nobody() {
    for cause in ["motor-loose", "heavy-wheels", "landings-on-throttle", "support-bearing-gone", "worn-out"] {
        let output = why(&[&example("tarnhorn-wheels.toml"), "--units", "us", "--explain", cause], 46);
        assert!(output.status.success(), "{cause}: {}", String::from_utf8_lossy(&output.stderr));
        let text = String::from_utf8(output.stdout).unwrap();
        let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= 46 && !text.contains("NaN") && !text.contains("inf "), "{cause}: {widest}\n{text}");
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(line.contains("A cause is a probability, not an accusation."), "{line}");
        assert!(!line.contains("fault of") && !line.contains("blame"), "{line}");
    }
}

#[test]
fn a_network_is_written_where_nothing_is() {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("why.bif");
    let _ = std::fs::remove_file(&path);
    let args = [&example("tarnhorn.toml"), "--network", path.to_str().unwrap()];
    assert!(told(&args).contains("saved:"));
    let written = std::fs::read_to_string(&path).unwrap();
    assert!(written.starts_with("network \"") && written.contains("// evidence: strip = yes\n"), "{written}");
    assert_eq!(why(&args, 100).status.code(), Some(1), "a file that is there is never written over");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), written);
}
