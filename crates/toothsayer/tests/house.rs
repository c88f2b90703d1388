//! The house's rules, read from its files: who may know whom, what the lower floors never do, what every file owes.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::LIMITS;

/// Every room with its floor: a room may depend on rooms of lower floors alone.
const FLOORS: [(&str, u32); 14] = [
    ("evidence", 0),
    ("quantity", 0),
    ("inputs", 1),
    ("mechanics", 1),
    ("fault-book", 2),
    ("job", 3),
    ("verdict", 4),
    ("records", 5),
    ("report", 6),
    ("figures", 5),
    ("invented-shop", 6),
    ("pages", 7),
    ("toothsayer", 8),
    ("validation", 9),
];
/// The highest floor that does nothing but compute.
const PURE_UP_TO: u32 = 4;
/// What a room that only computes does not mention.
const OUTSIDE: [&str; 8] =
    ["std::fs", "std::net", "std::env", "std::io", "std::process", "SystemTime", "println!", "eprintln!"];
/// Most lines of a source file.
const MOST_LINES: usize = 600;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Every file below `folder` with this ending, in order.
fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let (folders, own): (Vec<_>, Vec<_>) = paths.into_iter().partition(|path| path.is_dir());
    let below = folders.iter().flat_map(|folder| files(folder, ending));
    own.into_iter().filter(|path| path.extension().is_some_and(|own| own == ending)).chain(below).collect()
}

fn sources() -> Vec<(PathBuf, String)> {
    let paths = files(&root().join("crates"), "rs");
    assert!(paths.len() > 100, "only {} source files found", paths.len());
    paths.into_iter().map(|path| (path.clone(), read(&path))).collect()
}

/// Names on the left of a manifest's dependency tables, by table.
fn dependencies(manifest: &str) -> BTreeMap<String, Vec<String>> {
    let mut tables: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut table = String::new();
    for line in manifest.lines().map(str::trim) {
        if let Some(name) = line.strip_prefix('[') {
            table = name.trim_end_matches(']').to_owned();
        } else if table.ends_with("dependencies") && !line.is_empty() && !line.starts_with('#') {
            let name: String = line.chars().take_while(|c| c.is_alphanumeric() || "-_".contains(*c)).collect();
            tables.entry(table.clone()).or_default().push(name);
        }
    }
    tables
}

fn manifest(room: &str) -> BTreeMap<String, Vec<String>> {
    dependencies(&read(&root().join("crates").join(room).join("Cargo.toml")))
}

#[track_caller]
fn check(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn every_room_stands_on_a_floor() {
    let mut rooms: Vec<String> = fs::read_dir(root().join("crates"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    rooms.sort();
    let mut known: Vec<&str> = FLOORS.iter().map(|(room, _)| *room).collect();
    known.sort_unstable();
    assert_eq!(rooms, known);
}

#[test]
fn no_room_depends_on_its_own_floor_or_a_higher_one() {
    let floors: BTreeMap<&str, u32> = FLOORS.into_iter().collect();
    let mut wrong = Vec::new();
    for (room, floor) in FLOORS {
        for name in manifest(room).values().flatten() {
            let Some(other) = name.strip_prefix("toothsayer-") else { continue };
            match floors.get(other) {
                Some(below) if *below < floor => {}
                Some(level) => wrong.push(format!("{room} on floor {floor} depends on {other} on floor {level}")),
                None => wrong.push(format!("{room} depends on {other}, which stands on no floor")),
            }
        }
    }
    check(&wrong);
}

#[test]
fn rooms_that_compute_touch_nothing_outside() {
    let mut wrong = Vec::new();
    for (room, _) in FLOORS.into_iter().filter(|(_, floor)| *floor <= PURE_UP_TO) {
        for path in files(&root().join("crates").join(room).join("src"), "rs") {
            let text = read(&path);
            let touched = OUTSIDE.iter().filter(|word| text.contains(**word));
            wrong.extend(touched.map(|word| format!("{} mentions {word}", path.display())));
        }
    }
    check(&wrong);
}

#[test]
fn every_file_says_first_what_it_is() {
    let silent = sources().into_iter().filter(|(_, text)| !text.starts_with("//! "));
    check(&silent.map(|(path, _)| path.display().to_string()).collect::<Vec<_>>());
}

#[test]
fn no_file_is_too_long_to_read() {
    let long = sources().into_iter().map(|(path, text)| (path, text.lines().count()));
    let long = long.filter(|(_, lines)| *lines > MOST_LINES);
    check(&long.map(|(path, lines)| format!("{} has {lines} lines", path.display())).collect::<Vec<_>>());
}

#[test]
fn nothing_is_put_off_or_left_out_of_the_tests() {
    // Put together here, so that this file does not find itself.
    let words =
        [["TO", "DO"], ["FIX", "ME"], ["#[ig", "nore"], ["should_", "panic"], ["todo", "!("], ["unimpl", "emented!"]];
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let found = words.iter().map(|halves| halves.concat()).filter(|word| text.contains(word.as_str()));
        wrong.extend(found.map(|word| format!("{} holds {word}", path.display())));
    }
    check(&wrong);
}

#[test]
fn every_example_is_a_job() {
    let examples = files(&root().join("examples"), "toml");
    assert!(!examples.is_empty());
    let parsed = examples.iter().map(|path| (path, Job::parse(&read(path), FaultBook::built_in())));
    let wrong = parsed.filter_map(|(path, job)| job.err().map(|error| format!("{}: {error:?}", path.display())));
    check(&wrong.collect::<Vec<_>>());
}

#[test]
fn the_readme_names_the_two_commands_that_do_everything() {
    let readme = read(&root().join("README.md"));
    for command in ["cargo run --release -- demo", "./check"] {
        assert!(readme.contains(command), "{command}");
    }
}

#[test]
fn files_that_the_documents_name_exist() {
    let mut wrong = Vec::new();
    let docs = files(&root().join("docs"), "md").into_iter();
    for page in docs.chain(["README.md", "ARCHITECTURE.md", "CONTRIBUTING.md"].map(|name| root().join(name))) {
        let text = read(&page);
        let named = text.split('`').skip(1).step_by(2).filter(|code| {
            ["crates/", "docs/", "examples/", "reference/"].iter().any(|folder| code.starts_with(folder))
        });
        let gone = named.filter(|path| !path.contains(['<', '*', '{', ' ']) && !root().join(path).exists());
        wrong.extend(gone.map(|path| format!("{} names {path}", page.display())));
    }
    check(&wrong);
}

#[test]
fn every_dependency_has_its_reason_and_every_limit_its_theory() {
    let (design, theory) = (read(&root().join("docs/design.md")), read(&root().join("docs/theory.md")));
    let tables = FLOORS.iter().flat_map(|(room, _)| manifest(room).into_values().flatten());
    let foreign = tables.filter(|name| !name.starts_with("toothsayer-") && !design.contains(&format!("`{name}`")));
    let mut wrong: Vec<String> = foreign.map(|name| format!("docs/design.md gives no reason for {name}")).collect();
    let untold = LIMITS.iter().filter(|row| !theory.contains(&format!("`{}`", row.name)));
    wrong.extend(untold.map(|row| format!("docs/theory.md does not tell of the limit {}", row.name)));
    check(&wrong);
}
