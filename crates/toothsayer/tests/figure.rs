//! The `figure` command: every kind as SVG and PNG, and what it refuses.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The first bytes of every PNG (ISO/IEC 15948, clause 5.2).
const PNG: [u8; 8] = [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a];
const KINDS: [&str; 14] = [
    "gear-bay", "margins", "causes", "evidence", "force", "price", "comeback", "sweep", "clamp", "life", "mesh",
    "stack", "screws", "removal",
];

fn figure(args: &[&str]) -> Output {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/tarnhorn.toml");
    let mut run = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
    run.arg("figure").arg(example).args(args).output().unwrap()
}

fn target(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(name)
}

#[test]
fn every_kind_comes_as_svg_on_standard_output() {
    for kind in KINDS {
        let output = figure(&["--kind", kind, "--points", "--width", "400", "--sweep", "wheels.mass=300 g .. 900 g"]);
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(output.status.success(), "{kind}: {}", String::from_utf8_lossy(&output.stderr));
        assert!(text.starts_with("<svg") && text.trim_end().ends_with("</svg>"), "{kind}");
    }
}

#[test]
fn a_file_that_ends_in_png_is_a_png_and_is_told() {
    let path = target("bay.png");
    let output = figure(&["-o", path.to_str().unwrap(), "--beside", "built", "--json"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(std::fs::read(path).unwrap()[..8], PNG);
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(told["title"], "Gear bay, as found and as built");
    assert!(told["description"].as_str().unwrap().contains("centre distance 36.5 mm"), "{told}");
}

#[test]
fn the_same_file_gives_the_same_bytes() {
    let [one, other] = [(); 2].map(|()| figure(&["--kind", "causes"]).stdout);
    assert!(!one.is_empty());
    assert_eq!(one, other);
}

#[track_caller]
fn check_refused(args: &[&str], code: i32, words: &str) {
    let output = figure(args);
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(code), "{told}");
    assert!(told.contains(words), "{told}");
}

#[test]
fn what_cannot_be_drawn_is_told_with_a_way_out() {
    check_refused(&["--width", "100"], 2, "320 to 2400 px are allowed");
    check_refused(&["--kind", "sweep"], 2, "a sweep needs a setting and its two ends");
    check_refused(&["--kind", "sweep", "--sweep", "wheels.mas=1 kg .. 2 kg"], 2, "wheels.mas");
    check_refused(&["--kind", "evidence", "--cause", "gremlins"], 1, "gremlins");
    check_refused(&["--state", "after"], 1, "after");
    let missing = target("no/such/folder/bay.svg");
    check_refused(&["-o", missing.to_str().unwrap()], 1, "cannot be written");
}
