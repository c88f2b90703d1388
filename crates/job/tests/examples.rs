//! The example files read, and the five facts begin a file that reads back.

use toothsayer_fault_book::FaultBook;
use toothsayer_job::{FiveFacts, Job, JobError, begin};

fn example(name: &str) -> String {
    std::fs::read_to_string(format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

fn parse(text: &str) -> Job {
    match Job::parse(text, FaultBook::built_in()) {
        Ok(job) => job,
        Err(JobError::Problems(problems)) => {
            panic!("{}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
        }
        Err(other) => panic!("{other}"),
    }
}

fn facts() -> FiveFacts {
    FiveFacts {
        name: Some("Tarnhorn 6".into()),
        mass: "10.4 kg".into(),
        cells: 7,
        kv: Some("980 rpm/V".into()),
        teeth: [19, 53],
        pitch: "1 mm".into(),
        wheel: ["188 mm".into(), "410 g".into()],
        ..FiveFacts::default()
    }
}

#[test]
fn the_found_truck_has_its_motor_free_and_its_mesh_open() {
    let job = parse(&example("tarnhorn.toml"));
    let found = job.found.as_ref().unwrap().build().unwrap();
    assert!((found.gears.spec.centre_distance.to_mm() - 36.5).abs() < 1e-9);
    assert!(found.joints[0].free && !found.joints[1].free);
    assert!((found.rock_travel.to_mm() - 0.45).abs() < 1e-12);
    assert!((found.stack.mount_to_mid_face.to_mm() - 16.0).abs() < 1e-9);
}

#[test]
fn the_examples_true_values_lie_inside_what_the_five_facts_assume() {
    let full = parse(&example("tarnhorn.toml"));
    let guessed = parse(&facts().to_toml());
    for (key, entry) in &guessed.built.fields.numbers {
        let Some(truth) = full.built.fields.number(key) else { continue };
        let slack = 1e-9 * truth.abs();
        assert!(
            entry.low - slack <= truth && truth <= entry.high + slack,
            "{key}: {truth} outside {} to {}",
            entry.low,
            entry.high
        );
    }
}

#[test]
fn what_begin_writes_reads_back_to_the_same_values() {
    let first = parse(&facts().to_toml());
    let again = parse(&begin(&first));
    assert_eq!(first.built.joints.len(), again.built.joints.len());
    for (key, entry) in &first.built.fields.numbers {
        let back = again.built.fields.numbers.get(key).unwrap_or_else(|| panic!("{key} is lost"));
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-5 * a.abs() + 1e-12;
        assert!(
            near(entry.value, back.value) && near(entry.low, back.low) && near(entry.high, back.high),
            "{key}: {entry:?} {back:?}"
        );
        assert_eq!(entry.origin.is_assumed(), back.origin.is_assumed(), "{key}");
    }
}
