//! `records show` of a truck: its jobs, and what changed from build to build.

use super::told::{Owned, called, customer_json, labelled, state, truck_json};
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use serde_json::{Value, json};
use toothsayer_records::{Build, Customer, Difference, Reach, WallClock, builds_of, compare, jobs_of, truck_by_tag};

/// Most differences of one build that are told to people.
const MOST_TOLD: usize = 30;

/// The truck with this label.
pub async fn run(desk: &Desk<'_>, at: &impl Reach, label: &str) -> Result<String, Failure> {
    let truck = truck_by_tag(at, label).await?;
    let customer: Customer = at.get(truck.customer).await?;
    let builds = changes(builds_of(at, truck.id).await?)?;
    let mut jobs = Vec::new();
    for job in jobs_of(at, truck.id).await? {
        jobs.push(Owned::of(at, job).await?);
    }
    if desk.global.json {
        let builds: Vec<Value> = builds.iter().map(build_json).collect();
        let jobs: Vec<Value> = jobs.iter().map(Owned::json).collect();
        let (truck, customer) = (truck_json(&truck), customer_json(&customer));
        return json::text(&json!({ "truck": truck, "customer": customer, "builds": builds, "jobs": jobs }));
    }
    let (mut paper, clock) = (Paper::new(), WallClock::of_shop(at).await?);
    paper.heading(&format!("{} of {}", labelled(&truck), called(&customer)));
    if !truck.note.is_empty() {
        paper.item("!", &truck.note);
    }
    for Owned { job, .. } in &jobs {
        let came = job.complaint.replace('-', " ");
        paper
            .item("·", &format!("job {} of {}: came with {came}, {}", job.number, clock.day(job.taken_in), state(job)));
    }
    builds.iter().for_each(|build| write(build, &clock, &mut paper));
    Ok(paper.finish())
}

/// A build with what differs from the one before.
struct Changed {
    build: Build,
    differ: Vec<Difference>,
}

fn changes(builds: Vec<Build>) -> Result<Vec<Changed>, Failure> {
    let mut changed: Vec<Changed> = Vec::new();
    for build in builds {
        let differ = match changed.last() {
            Some(before) => compare(&before.build, &build)?,
            None => Vec::new(),
        };
        changed.push(Changed { build, differ });
    }
    Ok(changed)
}

fn build_json(changed: &Changed) -> Value {
    let Changed { build, differ } = changed;
    json!({ "number": build.number, "made": build.made.to_string(), "reason": build.reason, "changes": differ })
}

fn write(changed: &Changed, clock: &WallClock, paper: &mut Paper) {
    let Changed { build, differ } = changed;
    let reason = if build.reason.is_empty() { String::new() } else { format!(" ({})", build.reason) };
    paper.heading(&format!("Build {} of {}{reason}", build.number, clock.day(build.made)));
    if build.number == 1 {
        paper.paragraph("The first that is known.");
    }
    for one in differ.iter().take(MOST_TOLD) {
        let side = |value: &Option<String>| value.clone().unwrap_or_else(|| "not told".into());
        paper.item("·", &format!("{}: {}, before {}", one.key, side(&one.is), side(&one.was)));
    }
    if differ.len() > MOST_TOLD {
        paper.paragraph(&format!("{} more differ: --json tells all.", differ.len() - MOST_TOLD));
    }
}
