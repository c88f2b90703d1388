//! How long a job's plan takes once its blows are known: prices and comebacks of every combination of cures, and the
//! worth of every open check over the front's points.

use std::time::Instant;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::{Diagnosis, Memo, Plan};

/// The example that fails as found, and the same truck before anything was looked at.
const JOBS: [(&str, bool); 2] = [("as found", true), ("nothing looked at", false)];

fn main() {
    let text = include_str!("../../../examples/tarnhorn.toml");
    let memo = Memo::default();
    for (name, found) in JOBS {
        let text = if found { text } else { text.split("[[findings]]").next().unwrap_or(text) };
        let job = Job::parse(text, FaultBook::built_in()).expect("the example is a job");
        Diagnosis::new(&job, FaultBook::built_in(), &memo).expect("blows are simulated once");
        let started = Instant::now();
        let diagnosis = Diagnosis::new(&job, FaultBook::built_in(), &memo).expect("a diagnosis");
        let weighed = started.elapsed();
        let started = Instant::now();
        let plan = Plan::new(&diagnosis).expect("a plan");
        println!(
            "{name}: diagnosis {weighed:.1?}; plan {:.1?} with the worth of {} checks over {} repairs (at most {:.1e} \
             neglected)",
            started.elapsed(),
            plan.worth.len(),
            plan.front.len(),
            diagnosis.neglected
        );
    }
}
