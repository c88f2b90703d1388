//! Every example tells its own story: the first cause, and an honest verdict on each state.
//!
//! No outside source: this project's own models on its own invented trucks; what the stories are about is common
//! practice, no source.

use crate::bench::{Judged, example};
use toothsayer_job::State;
use toothsayer_verdict::{FailsAt, Holds};

/// What an example must say.
struct Story {
    file: &'static str,
    first_cause: &'static str,
    built_holds: bool,
    found_holds: bool,
    /// A failing part of the found state, its limit, and the step at which it fails.
    falls_short: Option<(&'static str, &'static str, FailsAt)>,
    /// A step of the recommended plan.
    mended_by: &'static str,
}

const HEALTHY: Story = Story {
    file: "tarnhorn-check.toml",
    first_cause: "",
    built_holds: true,
    found_holds: true,
    falls_short: None,
    mended_by: "final-check",
};

#[rustfmt::skip]
const STORIES: &[Story] = &[
    Story { file: "tarnhorn.toml", first_cause: "motor-loose", found_holds: false, falls_short: Some(("mesh", "engagement", FailsAt::Condition)), mended_by: "tighten-motor", ..HEALTHY },
    Story { file: "tarnhorn-wheels.toml", first_cause: "motor-loose", found_holds: false, falls_short: Some(("motor to mount", "slip", FailsAt::Condition)), mended_by: "tighten-motor", ..HEALTHY },
    Story { file: "tarnhorn-fragments.toml", first_cause: "fragments-left", mended_by: "clear-fragments", ..HEALTHY },
    Story { file: "tarnhorn-spacer.toml", first_cause: "spacer-wrong", found_holds: false, falls_short: Some(("mesh", "overlap", FailsAt::Condition)), mended_by: "fit-spacer", ..HEALTHY },
    Story { file: "tarnhorn-threads.toml", first_cause: "cover-threads-ruined", found_holds: false, falls_short: Some(("input shaft cover, into plastic", "clamp", FailsAt::Condition)), mended_by: "new-gearbox-half", ..HEALTHY },
    Story { file: "tarnhorn-small.toml", first_cause: "mesh-too-open", found_holds: false, falls_short: Some(("mesh", "engagement", FailsAt::Condition)), mended_by: "set-mesh", ..HEALTHY },
    Story { file: "tarnhorn-motor.toml", first_cause: "motor-beyond-gears", built_holds: false, found_holds: false, falls_short: Some(("pinion", "root-endurance", FailsAt::Parts)), mended_by: "limit-drive-current" },
    HEALTHY,
];

fn check(story: &Story) {
    let file = story.file;
    let judged = Judged::of(&example(file));
    let job = judged.verdict.job;
    assert_eq!(judged.holds(State::Built) != Holds::No, story.built_holds, "{file} as built");
    let came = if job.found.is_some() { State::Found } else { State::Built };
    assert_eq!(judged.holds(came) != Holds::No, story.found_holds, "{file} as it came");
    if !story.first_cause.is_empty() {
        assert_eq!(judged.verdict.diagnosis.ranked()[0].id, story.first_cause, "{file}");
    }
    if let Some((part, limit, step)) = story.falls_short {
        let margins = &judged.state(came).margins;
        let failing = margins.iter().find(|one| one.part == part && one.limit.row().name == limit && one.fails());
        let failing = failing.unwrap_or_else(|| panic!("{file}: {part} {limit} holds"));
        assert_eq!(failing.fails_at, Some(step), "{file}");
    }
    let recommended = judged.verdict.plan.recommended().expect("a recommended repair");
    assert!(recommended.steps.iter().any(|step| step.id == story.mended_by), "{file}: {}", story.mended_by);
    assert_ne!(judged.holds(State::Proposed), Holds::No, "{file} with the recommended repair");
}

#[test]
fn every_story_has_its_first_cause_and_an_honest_verdict() {
    STORIES.iter().for_each(check);
}

#[test]
fn every_example_is_a_story() {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let entries = std::fs::read_dir(folder).expect("the examples");
    let names: Vec<String> =
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    let jobs: Vec<&String> = names.iter().filter(|name| name.ends_with(".toml")).collect();
    assert_eq!(jobs.len(), STORIES.len());
    for name in jobs {
        assert!(STORIES.iter().any(|story| story.file == name), "{name}");
    }
}
