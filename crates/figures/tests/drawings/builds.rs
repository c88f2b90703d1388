//! Trucks to be drawn: every example, extreme ones, and random ones.

use std::path::Path;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{BayScene, Figure, Frame, Look, gear_bay};
use toothsayer_job::{Job, State};
use toothsayer_quantity::System;
use toothsayer_verdict::Staged;

pub fn examples() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    paths.sort();
    let read = |path: &std::path::PathBuf| (path.display().to_string(), std::fs::read_to_string(path).unwrap());
    paths.iter().map(read).collect()
}

/// The first example with other lines: each pair is the beginning of a line and what stands there instead.
pub fn changed(lines: &[(&str, &str)]) -> String {
    let (_, text) = examples().into_iter().find(|(name, _)| name.ends_with("tarnhorn.toml")).unwrap();
    let mut found = vec![false; lines.len()];
    let mut swap = |line: &str| {
        let place = lines.iter().position(|(start, _)| line.starts_with(start));
        place.map_or(line.to_owned(), |place| {
            found[place] = true;
            lines[place].1.to_owned()
        })
    };
    let text = text.lines().map(&mut swap).collect::<Vec<_>>().join("\n");
    assert!(found.iter().all(|found| *found), "{lines:?}: {found:?}");
    text
}

/// Trucks at the ends of what is drawn, by name.
pub fn extremes() -> Vec<(&'static str, String)> {
    const PINION: &str = "pinion = {";
    const SPUR: &str = "spur   = {";
    let pinion = |teeth: u32, shift: f64| {
        format!(
            "pinion = {{ teeth = {teeth}, face_width = \"11 mm\", shift = {shift}, thinning = \"0 mm\", material = \
             \"through-hardened-alloy\", hardness = \"330 HV\" }}"
        )
    };
    let spur = "spur = { teeth = 80, face_width = \"10 mm\", shift = 0.0, thinning = \"0 mm\", material = \
                \"through-hardened-alloy\", hardness = \"300 HV\" }";
    let centre = |mm: f64| format!("centre_distance = \"{mm} mm\"");
    let small = pinion(8, 0.5);
    let with = |module: &str, mm: f64| {
        let module = format!("module = \"{module} mm\"");
        changed(&[("module =", &module), ("centre_distance", &centre(mm)), (PINION, &small), (SPUR, spur)])
    };
    vec![
        ("8 and 80 teeth of module 1.5", with("1.5", 66.9)),
        ("8 and 80 teeth of module 0.4", with("0.4", 17.85)),
        ("opened by 1.5 mm", changed(&[("centre_distance", &centre(37.5))])),
        ("set too close", changed(&[("centre_distance", &centre(35.9))])),
        ("no spacer", changed(&[("spacer =", "spacer = \"0 mm\"")])),
        ("pinion presses the bearing", changed(&[("spacer =", "spacer = \"5.1 mm\"")])),
        ("pinion far from the bearing", changed(&[("spacer =", "spacer = \"1 mm\"")])),
        ("motor screws too long", changed(&[("length = \"12 mm\"", "length = \"30 mm\"")])),
        ("opened by 4 mm", changed(&[("centre_distance", &centre(40.0))])),
        (
            "long names in other scripts",
            changed(&[
                (
                    "name = \"Tarnhorn 6\"",
                    "name = \"Тарнхорн шестой, очень длинное имя грузовика для мастерской 作業台の大きな模型トラック\"",
                ),
                (
                    "name = \"motor to mount\"",
                    "name = \"двигатель к креплению: Schraubenverbindungsbezeichnungsungetümsammlung 電動機\"",
                ),
                ("name = \"mount to chassis\"", "name = \"<b>\\\"mount\\\"</b> & chassis\""),
            ]),
        ),
    ]
}

/// The states of a job that need no verdict.
pub fn stages(text: &str) -> Vec<Staged> {
    let job = Job::parse(text, FaultBook::built_in()).unwrap_or_else(|error| panic!("{error:?}"));
    let built = Staged { state: State::Built, sheet: job.built.clone(), run_in: true };
    let found = job.found.map(|sheet| Staged { state: State::Found, sheet, run_in: true });
    [Some(built), found].into_iter().flatten().collect()
}

pub fn bay_of(stage: &Staged, width_px: f64) -> Figure {
    let frame = Frame::new(width_px, Look::Page, System::Metric).unwrap();
    gear_bay(&[BayScene { stage, margins: None }], &frame).unwrap()
}
