//! Combinations a second of the change explorer, and how much faster than simulating each of them in full.

use std::time::Instant;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::{Bay, Explore, Memo, Phases, Wishes, peaks};

/// Trucks whose full simulation is timed, each with another brake strength.
const TRUCKS: u32 = 8;

fn main() {
    let text = include_str!("../../../examples/tarnhorn.toml");
    let job = Job::parse(text, FaultBook::built_in()).expect("the example is a job");
    let memo = Memo::default();
    let full_s = full_simulation_s(&job, &memo);
    let wishes = Wishes { least_margin: 1.0, top_speed: None, stop_within: None };
    let explore = Explore { job: &job, book: FaultBook::built_in(), truck: &job.built, run_in: true, wishes };
    let started = Instant::now();
    let explored = explore.explore(&Memo::default(), &|_, _| true).expect("an answer");
    let took_s = started.elapsed().as_secs_f64();
    let count = explored.combinations as f64;
    println!(
        "{count} combinations ({} within makers' limits) in {took_s:.2} s: {:.0} a second; in full, {:.1} ms a truck, {:.0} \
         times longer; estimate: {:?}",
        explored.allowed,
        count / took_s,
        1e3 * full_s,
        explored.allowed as f64 * full_s / took_s,
        explored.estimate
    );
}

fn full_simulation_s(job: &Job, memo: &Memo) -> f64 {
    let mut build = job.built.build().expect("a build");
    let bay = Bay::new(&build, true).expect("a bay");
    let started = Instant::now();
    for truck in 0..TRUCKS {
        build.controller.brake_strength = 0.6 + 0.01 * f64::from(truck);
        build.controller.throttle_strength = build.controller.brake_strength;
        peaks(&build, &bay, Phases::Worst, memo).expect("blows");
    }
    started.elapsed().as_secs_f64() / f64::from(TRUCKS)
}
