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

/// Every command that works on the found state answers.
#[track_caller]
fn every_command_answers(file: &str) {
    for command in [
        &["margins", "--points"][..],
        &["why"],
        &["plan"],
        &["gears"],
        &["screws"],
        &["statement"],
        &["motor"],
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
fn worn_teeth_are_judged() {
    let file =
        found("worn", "[found]\ngears = { pinion = { thinning = \"0.3 mm\" }, spur = { thinning = \"0.3 mm\" } }");
    every_command_answers(&file);
}

#[test]
fn a_bent_shaft_is_judged() {
    let file = found("bent", "[found]\nmotor = { run_out = \"0.25 mm\" }");
    every_command_answers(&file);
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
fn two_pitches_as_built_are_a_problem_of_the_file() {
    let path = format!("{}/../../examples/tarnhorn.toml", env!("CARGO_MANIFEST_DIR"));
    let text =
        std::fs::read_to_string(path).unwrap().replacen("teeth = 53,", "teeth = 53, pressure_angle = \"14.5 deg\",", 1);
    let file = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("built-pitch.toml");
    std::fs::write(&file, text).unwrap();
    let output = toothsayer(&["margins", file.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8_lossy(&output.stderr);
    for words in ["pitches differ", "per tooth", "give them under [found]"] {
        assert!(told.contains(words), "{words} is missing in\n{told}");
    }
}
