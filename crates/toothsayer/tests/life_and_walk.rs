//! The life of the teeth and a mesh that walks, as a person asks for them: keys, curves, refusals.

use std::process::{Command, Output};

fn toothsayer(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_toothsayer")).args(args).env_remove("COLUMNS").output().unwrap()
}

fn example(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

#[track_caller]
fn json(args: &[&str]) -> serde_json::Value {
    let output = toothsayer(args);
    assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[track_caller]
fn numbers(value: &serde_json::Value, keys: &[&str]) {
    for key in keys {
        assert!(value[*key].is_number(), "{key} in {value}");
    }
}

#[test]
fn a_life_has_its_keys_and_its_curve() {
    let file = example("tarnhorn.toml");
    let life = json(&["life", &file, "--json"]);
    assert_eq!(life["state"], "found");
    numbers(&life, &["horizon_runs"]);
    for strips in [&life["runs_to_strip"], &life["gears"][0]["runs_to_strip"], &life["gears"][1]["runs_to_strip"]] {
        numbers(strips, &["low", "median", "high", "probability_whole_after_horizon"]);
    }
    let case = &life["cases"][0];
    assert_eq!(case["case"], "landing-on-brake");
    numbers(case, &["per_run", "usual_force_n", "hardest_force_n", "damage_share_pinion", "damage_share_spur"]);
    numbers(case, &["probability_breaks_per_run"]);
    let curve = life["survival"].as_array().unwrap();
    assert_eq!(curve[0]["probability_whole"], 1.0);
    numbers(&curve[100], &["runs", "probability_whole", "probability_whole_pinion", "probability_whole_spur"]);
    let built = json(&["life", &file, "--state", "built", "--json"]);
    assert!(built["runs_to_strip"]["median"].is_null(), "{built}");
}

#[test]
fn a_walk_has_its_keys_and_its_ends() {
    let file = example("tarnhorn.toml");
    let hand_tight = ["walk", &file, "--state", "built", "--torque", "1.4 N*m", "--clearance", "1.2 mm", "--json"];
    let walk = json(&hand_tight);
    assert_eq!((walk["end"].as_str(), walk["joint"].as_str()), (Some("rides-over"), Some("motor to mount")));
    numbers(
        &walk,
        &["clearance_m", "events_per_run", "events", "events_until_moved", "events_until_contact_ratio_1_2"],
    );
    let points = walk["points"].as_array().unwrap();
    assert_eq!(points.len() as u64, walk["events"].as_u64().unwrap() + 1);
    numbers(&points[1], &["events", "centre_distance_m", "clamp_n", "contact_ratio", "peak_force_n"]);
    numbers(&points[1], &["slip_margin", "root_margin"]);
    let built = json(&["walk", &file, "--state", "built", "--json"]);
    assert_eq!(built["end"], "holds");
    let run = json(&["walk", &file, "--every-event", "--joint", "mount to chassis", "--json"]);
    assert!(run["points"][1]["case"].is_string(), "{run}");
    for (wrong, told) in [
        (vec!["walk", &file, "--joint", "boot"], "motor to mount, mount to chassis"),
        (vec!["walk", &file, "--case", "jump"], "landing-on-throttle"),
        (vec!["walk", &file, "--torque", "4 mm"], "--torque"),
        (vec!["walk", &file, "--case", "launch", "--every-event"], "--every-event"),
    ] {
        let output = toothsayer(&wrong);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(!output.status.success() && said.contains(told), "{wrong:?}: {said}");
    }
}
