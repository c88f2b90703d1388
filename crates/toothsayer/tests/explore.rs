//! `explore` as a person runs it: keys, figures that hold together, bad wishes refused with the way out.

use std::process::{Command, Output};

fn explore(args: &[&str]) -> Output {
    let example = format!("{}/../../examples/tarnhorn-wheels.toml", env!("CARGO_MANIFEST_DIR"));
    let program = env!("CARGO_BIN_EXE_toothsayer");
    Command::new(program).arg("explore").arg(example).args(args).env("COLUMNS", "46").output().unwrap()
}

#[track_caller]
fn check(args: &[&str], wanted: &str) {
    let output = explore(args);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{args:?}: {told}");
    assert!(told.contains(wanted) && output.stdout.is_empty(), "{args:?}: {told}");
}

#[test]
fn wishes_that_make_no_sense_are_refused_with_the_way_out() {
    check(&["--margin-at-least", "9"], "outside 1 to 5");
    check(&["--margin-at-least", "nan"], "outside 1 to 5");
    check(&["--stop-within", "0 m"], "not above 0");
    check(&["--stop-within", "20"], "unit");
    check(&["--top-speed-at-least", "15 kg"], "a speed is expected");
}

#[test]
fn what_is_told_in_json_carries_units_and_keeps_the_wishes() {
    let output = explore(&["--json", "--stop-within", "20 m", "--top-speed-at-least", "12 m/s"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(told["combinations"].as_u64().unwrap() >= 100_000, "{told}");
    assert_eq!(told["curves"].as_array().unwrap().len(), 4);
    let front = told["front"].as_array().unwrap();
    assert!(!front.is_empty());
    for one in front {
        assert_eq!(one["computed"], "full");
        assert!(one["stopping_distance_m"].as_f64().unwrap() <= 20.0, "{one}");
        assert!(one["top_speed_m_s"].as_f64().unwrap() >= 12.0, "{one}");
    }
}

#[test]
fn a_narrow_page_keeps_its_width() {
    let output = explore(&[]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.contains("What was explored"), "{text}");
    let wide: Vec<&str> = text.lines().filter(|line| line.chars().count() > 46).collect();
    assert!(wide.is_empty(), "{wide:?}");
}
