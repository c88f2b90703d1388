//! The `paper` command: every kind, all of them into a folder, and what it refuses.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn paper(args: &[&str]) -> Output {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/tarnhorn.toml");
    let mut run = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
    run.arg("paper").arg(example).args(args).output().unwrap()
}

fn target(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(name)
}

#[test]
fn one_command_writes_every_paper_the_page_and_every_drawing() {
    let folder = target("papers");
    let output = paper(&["--all", "--points", "--json", "-o", folder.to_str().unwrap()]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let files: Vec<&str> =
        told["files"].as_array().unwrap().iter().map(|file| file["file"].as_str().unwrap()).collect();
    let of = |ending: &str| files.iter().filter(|file| file.ends_with(ending)).count();
    assert_eq!((of(".pdf"), of(".html"), of(".svg")), (6, 1, 14), "{files:?}");
    assert_eq!(told["left_out"], serde_json::json!([]));
    for file in files {
        let bytes = std::fs::read(file).unwrap();
        let begins = ["%PDF-", "<!doctype html>", "<svg"].iter().any(|begin| bytes.starts_with(begin.as_bytes()));
        assert!(begins, "{file}");
    }
}

#[test]
fn what_the_shop_writes_stands_on_the_page() {
    let (path, notes) = (target("verdict.html"), target("notes.txt"));
    std::fs::write(&notes, "The belt squeals.\n").unwrap();
    let output = paper(&[
        "--kind",
        "page",
        "--points",
        "--shop",
        "Millrace Models",
        "--customer",
        "A. Fernhill",
        "--job-number",
        "1042",
        "--date",
        "2026-12-01",
        "--notes",
        notes.to_str().unwrap(),
        "-o",
        path.to_str().unwrap(),
    ]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let page = std::fs::read_to_string(path).unwrap();
    for words in ["Millrace Models · for A. Fernhill · job 1042 · 2026-12-01", "The belt squeals."] {
        assert!(page.contains(words), "{words}");
    }
}

#[track_caller]
fn check_refused(args: &[&str], code: i32, words: &str) {
    let output = paper(args);
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(code), "{told}");
    assert!(told.contains(words), "{told}");
}

#[test]
fn what_cannot_be_written_is_told_with_a_way_out() {
    let somewhere = target("refused.pdf");
    let somewhere = somewhere.to_str().unwrap();
    check_refused(&["-o", somewhere, "--date", "tomorrow"], 2, "\"tomorrow\" is no day");
    check_refused(&["-o", somewhere, "--notes", "no-such-file"], 1, "no-such-file cannot be read");
    check_refused(&["-o", somewhere, "--font", "no-such-font"], 1, "no-such-font cannot be read");
    check_refused(&["-o", somewhere, "--all", "--kind", "quote"], 2, "cannot be used with");
    check_refused(&[], 2, "--output");
    check_refused(&["--points", "-o", target("no/such/folder.pdf").to_str().unwrap()], 1, "cannot be written");
}
