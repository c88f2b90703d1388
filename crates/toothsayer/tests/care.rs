//! The care plan as a person asks for it: figures that agree with `screws` and `plan`, days, refusals.

use serde_json::Value;
use std::path::PathBuf;
use std::process::{Command, Output};

/// Two prints of one number.
const PRINTED: f64 = 1e-12;

fn toothsayer(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_toothsayer")).args(args).env_remove("COLUMNS").output().unwrap()
}

fn example(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// A path of its own for each test, with nothing there.
fn fresh(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_file(&path);
    path
}

#[track_caller]
fn text(args: &[&str]) -> String {
    let output = toothsayer(args);
    assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

#[track_caller]
fn json(args: &[&str]) -> Value {
    serde_json::from_str(&text(args)).unwrap()
}

#[track_caller]
fn refused(args: &[&str], wanted: &[&str]) {
    let output = toothsayer(args);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{args:?}: {told}");
    assert!(output.stdout.is_empty());
    for words in wanted {
        assert!(told.contains(words), "{words} is missing in {told}");
    }
}

#[track_caller]
fn same(got: &Value, wanted: &Value, what: &str) {
    let [got, wanted] = [got, wanted].map(|value| value.as_f64().unwrap_or_else(|| panic!("{what}: {value}")));
    assert!((got - wanted).abs() <= PRINTED * wanted.abs(), "{what}: {got}, {wanted}");
}

#[test]
fn clamps_and_windows_are_those_of_screws() {
    for name in ["tarnhorn.toml", "tarnhorn-check.toml", "tarnhorn-wheels.toml"] {
        let file = example(name);
        let care = json(&["care", &file, "--json"]);
        let screws = json(&["screws", &file, "--state", "proposed", "--json"]);
        let joints = screws["joints"].as_array().unwrap();
        let mut held = 0;
        for item in care["care"].as_array().unwrap().iter().filter(|item| item["task"] == "joint") {
            let joint = joints.iter().find(|joint| joint["name"] == item["joint"]).unwrap();
            same(&item["window_n_m"][0], &joint["window_low_n_m"], "low end");
            same(&item["window_n_m"][1], &joint["window_high_n_m"], "high end");
            same(&item["needed_clamp_n"], &joint["needed_clamp_n"], "needed clamp");
            // Where the truck's own torque lies outside its window, the plan tells the one to aim at instead.
            if item["torque_n_m"] == joint["torque_n_m"] {
                let [own, other] = [item, joint].map(|row| row["clamp_after_runs"].as_array().unwrap());
                assert_eq!(own.len(), 5);
                own.iter().zip(other).for_each(|(own, other)| same(&own["n"], &other["n"], "clamp"));
                held += 1;
            }
        }
        assert!(held >= 2, "{name}: {held} joints were held");
    }
}

#[test]
fn plan_and_care_tell_the_same_lines() {
    let file = example("tarnhorn.toml");
    let [plan, care] = ["plan", "care"].map(|command| json(&[command, &file, "--json"]));
    assert_eq!(plan["care"], care["care"]);
    for item in care["care"].as_array().unwrap() {
        for key in ["when", "what", "why"] {
            assert!(item[key].is_string(), "{key} in {item}");
        }
        assert!(item["first_run"].is_number() && !item["cautions"].as_array().unwrap().is_empty(), "{item}");
        assert!(item["cautions"][0].as_str().unwrap().contains("battery out"), "{item}");
    }
}

#[test]
fn the_same_asks_give_the_same_calendar() {
    let file = example("tarnhorn.toml");
    let args = ["care", &file, "--calendar", "--from", "2026-12-01", "--runs-per-week", "2"];
    let calendar = text(&args);
    assert_eq!(calendar, text(&args));
    for line in ["BEGIN:VCALENDAR\r\n", "DTSTAMP:20261201T000000Z\r\n", "DTSTART;VALUE=DATE:20261204\r\n"] {
        assert!(calendar.contains(line), "{line} is missing in {calendar}");
    }
    // Two runs a week from a Tuesday on: the 50th falls 175 days later.
    assert!(
        calendar.contains("DTSTART;VALUE=DATE:20270525\r\n") && calendar.contains("RRULE:FREQ=WEEKLY;COUNT=25\r\n")
    );
    assert!(!calendar.contains("VALARM"));
    let days = json(&["care", &file, "--from", "2026-12-01", "--runs-per-week", "2", "--json"]);
    let events = days["days"].as_array().unwrap();
    assert_eq!(calendar.matches("BEGIN:VEVENT").count(), events.len());
    for event in events {
        assert!(calendar.contains(&format!("UID:{}", event["uid"].as_str().unwrap())), "{event}");
    }
}

#[test]
fn a_calendar_is_written_where_nothing_is() {
    let path = fresh("care.ics");
    let file = example("tarnhorn.toml");
    let day = ["--from", "2026-12-01", "--runs-per-week", "0.5"];
    let args = [&["care", &file, "--calendar", "-o", path.to_str().unwrap()][..], &day].concat();
    assert!(text(&args).contains("saved:"));
    let written = std::fs::read_to_string(&path).unwrap();
    assert!(written.starts_with("BEGIN:VCALENDAR\r\n") && written.ends_with("END:VCALENDAR\r\n"));
    assert_eq!(toothsayer(&args).status.code(), Some(1), "a file that is there is never written over");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), written);
}

#[test]
fn a_calendar_without_days_is_refused_with_what_is_needed() {
    let file = example("tarnhorn.toml");
    let ask = |more: &[&'static str]| [&["care", file.as_str(), "--calendar"][..], more].concat();
    let need = "--from 2026-12-01 --runs-per-week 2";
    refused(&ask(&[]), &["--from is missing", need]);
    refused(&ask(&["--from", "2026-12-01"]), &["--runs-per-week is missing", need]);
    refused(&ask(&["--runs-per-week", "2"]), &["--from is missing", need]);
    let rhythm = ["--runs-per-week", "2"];
    refused(&ask(&[&["--from", "1 December"][..], &rhythm].concat()), &["\"1 December\" is no day", "2026-12-01"]);
    refused(&ask(&[&["--from", "2026-02-30"][..], &rhythm].concat()), &["is no day"]);
    refused(&ask(&[&["--from", "1926-12-01"][..], &rhythm].concat()), &["before the year 1970"]);
    refused(&ask(&[&["--from", "9999-12-01"][..], &rhythm].concat()), &["past the year 9999"]);
    for runs in ["0", "-1", "200", "nan"] {
        refused(&ask(&["--from", "2026-12-01", "--runs-per-week", runs]), &["outside 0.1 to 50"]);
    }
}

#[test]
fn the_plan_is_told_in_both_families_of_units_on_any_width() {
    for (name, width) in [("tarnhorn.toml", 46), ("tarnhorn-threads.toml", 46), ("tarnhorn-check.toml", 100)] {
        let mut run = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
        run.args(["care", &example(name), "--units", "us"]).env("COLUMNS", width.to_string());
        let output = run.output().unwrap();
        let told = String::from_utf8(output.stdout).unwrap();
        assert!(output.status.success() && !told.contains("NaN"), "{name}");
        let widest = told.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= width, "{name} at {width}: {widest}\n{told}");
        let line = told.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in ["lbf·in, no tighter", "lbf after 50 runs", "battery out", "The makers' own instructions"] {
            assert!(line.contains(words), "{words} is missing in {line}");
        }
        assert!(!line.contains(" N·m") && !line.contains(" mm"), "{line}");
    }
}
