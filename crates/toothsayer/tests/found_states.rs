//! Trucks in a bad state: every command answers sensibly for a mesh that binds, gears apart, worn teeth, mixed pitch.

use std::path::PathBuf;
use std::process::{Command, Output};

fn toothsayer(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_toothsayer")).args(args).env_remove("COLUMNS").output().unwrap()
}

/// The example without its finding, with these tables as found.
fn found(name: &str, tables: &str) -> String {
    let path = format!("{}/../../examples/tarnhorn.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let built = text.split("[[findings]]").next().unwrap();
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join(format!("{name}.toml"));
    std::fs::write(&file, format!("{built}\n{tables}\n")).unwrap();
    file.to_str().unwrap().to_owned()
}

#[track_caller]
fn answers(file: &str, command: &[&str]) -> String {
    let args: Vec<&str> = command[..1].iter().copied().chain([file]).chain(command[1..].iter().copied()).collect();
    let output = toothsayer(&args);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{args:?}: {told}");
    String::from_utf8(output.stdout).unwrap()
}

fn contact_ratio(file: &str, state: &str) -> f64 {
    let text = answers(file, &["gears", "--json", "--state", state]);
    serde_json::from_str::<serde_json::Value>(&text).unwrap()["contact_ratio"].as_f64().unwrap()
}

/// Every command that works on the found state answers.
#[track_caller]
fn every_command_answers(file: &str) {
    for command in [
        &["margins", "--points"][..],
        &["why"],
        &["plan"],
        &["gears"],
        &["measure"],
        &["screws"],
        &["statement"],
        &["motor"],
        &["life"],
        &["walk"],
        &["walk", "--every-event", "--clearance", "4 mm"],
        &["shock", "--case", "launch"],
    ] {
        let text = answers(file, command);
        assert!(!text.contains("NaN") && !text.contains("inf "), "{command:?}: {text}");
    }
}

#[test]
fn a_mesh_that_binds_is_told_by_how_much() {
    let file = found("binds", "[found]\ngears = { centre_distance = \"35.9 mm\" }");
    every_command_answers(&file);
    assert!(answers(&file, &["gears"]).contains("BINDS by 0.0"));
    assert!(answers(&file, &["shock", "--case", "launch"]).contains("it was run without play"));
    assert!(answers(&file, &["why"]).contains("as found the mesh binds"));
    let margins = answers(&file, &["margins", "--points"]);
    assert!(margins.contains("the mesh binds") && margins.contains("binds by 0.0"), "{margins}");
}

#[test]
fn gears_that_hardly_reach_each_other_ride_over() {
    let file = found("apart", "[found]\ngears = { centre_distance = \"37.4 mm\" }");
    every_command_answers(&file);
    assert!(answers(&file, &["margins", "--points"]).contains("teeth ride over each other"));
}

#[test]
fn a_mesh_without_play_and_without_strain_does_not_bind() {
    let file = found("closed", "[found]\ngears = { centre_distance = \"36 mm\" }");
    let margins = answers(&file, &["margins", "--points"]);
    assert!(!margins.contains("binds by"), "{margins}");
    assert!(answers(&file, &["gears"]).contains("the mesh runs, contact ratio 1.65, backlash 0 mm"));
}

#[test]
fn gears_that_do_not_meet_are_told() {
    let file = found("far", "[found]\ngears = { centre_distance = \"45 mm\" }");
    every_command_answers(&file);
    for command in [&["margins", "--points"][..], &["shock", "--case", "launch"], &["life"], &["walk"]] {
        assert!(answers(&file, command).contains("The gears do not meet"), "{command:?}");
    }
    assert!(answers(&file, &["gears"]).contains("do NOT MEET"));
    assert!(answers(&file, &["why"]).contains("as found the gears do not meet"));
}

#[test]
fn teeth_worn_past_a_point_are_shorter() {
    let file =
        found("point", "[found]\ngears = { pinion = { thinning = \"1 mm\" }, spur = { thinning = \"0.9 mm\" } }");
    every_command_answers(&file);
    let gears = answers(&file, &["gears"]);
    assert!(gears.contains("worn to a point"), "{gears}");
    // A new gear is still measured against its full height.
    let measure = answers(&file, &["measure"]);
    assert!(measure.contains("calipers over the tips       21 mm"), "{measure}");
    assert!(contact_ratio(&file, "found") < contact_ratio(&file, "built") - 0.2);
}

#[test]
fn worn_teeth_are_judged() {
    let file =
        found("worn", "[found]\ngears = { pinion = { thinning = \"0.3 mm\" }, spur = { thinning = \"0.3 mm\" } }");
    every_command_answers(&file);
}

#[test]
fn a_bent_shaft_is_judged() {
    let file = found("bent", "[found]\nmotor = { run_out = \"0.25 mm\" }");
    every_command_answers(&file);
    let gears = answers(&file, &["gears"]);
    assert!(gears.contains("once a turn") && gears.contains("wide end of the bent shaft's swing"), "{gears}");
    assert!(answers(&file, &["margins", "--points"]).contains("mesh, backlash"));
}

#[test]
fn two_pitches_as_found_are_a_verdict_of_their_own() {
    let file = found("pitch", "[found]\ngears = { spur = { diametral_pitch = \"24 1/in\" } }");
    every_command_answers(&file);
    let margins = answers(&file, &["margins", "--points"]);
    for words in ["the gears do not belong together", "base pitch 2.9521 mm against 3.1243 mm", "error of 172.2 um"] {
        assert!(margins.contains(words), "{words} is missing in\n{margins}");
    }
}

#[test]
fn a_gear_of_another_pitch_is_measured_by_its_own() {
    let file = found("own", "[found]\ngears = { spur = { diametral_pitch = \"24 1/in\" } }");
    let measure = answers(&file, &["measure"]);
    // Over the tips: (53 + 2) x 25.4/24 mm of the spur, (19 + 2) x 1 mm of the pinion (ISO 21771, 4).
    for words in ["58.21 mm", "21 mm", "pitches differ"] {
        assert!(measure.contains(words), "{words} is missing in\n{measure}");
    }
}

#[test]
fn a_pitch_that_both_gears_were_found_to_have_is_the_pairs() {
    let tables = "[found]\ngears = { pinion = { diametral_pitch = \"24 1/in\" }, spur = { diametral_pitch = \"24 1/in\" }, \
                  centre_distance = \"38.2 mm\" }";
    let file = found("both", tables);
    let gears = answers(&file, &["gears"]);
    // (19 + 53)/2 teeth of 25.4/24 mm.
    assert!(gears.contains("38.1 mm"), "{gears}");
    assert!(!answers(&file, &["margins", "--points"]).contains("do not belong together"));
}

#[test]
fn a_gears_pitch_is_said_once() {
    let file = found("twice", "[found]\ngears = { spur = { module = \"1 mm\", diametral_pitch = \"24 1/in\" } }");
    let output = toothsayer(&["margins", &file]);
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("both say the same thing"));
}

#[test]
fn two_pitches_as_built_are_a_problem_of_the_file() {
    let path = format!("{}/../../examples/tarnhorn.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let angle = "teeth = 53, pressure_angle = \"14.5 deg\",";
    // Alike, but not the pair's.
    let both = text.replacen("teeth = 19,", "teeth = 19, module = \"0.8 mm\",", 1);
    let both = both.replacen("teeth = 53,", "teeth = 53, module = \"0.8 mm\",", 1);
    for (name, text) in [("angle", text.replacen("teeth = 53,", angle, 1)), ("both", both)] {
        let file = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("built-pitch-{name}.toml"));
        std::fs::write(&file, text).unwrap();
        let output = toothsayer(&["margins", file.to_str().unwrap()]);
        assert_eq!(output.status.code(), Some(1));
        let told = String::from_utf8_lossy(&output.stderr);
        for words in ["pitches differ", "per tooth", "give them under [found]"] {
            assert!(told.contains(words), "{words} is missing in\n{told}");
        }
    }
}
