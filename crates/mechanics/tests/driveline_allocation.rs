//! The solver's loop takes no memory: a long event asks for as many blocks as a short one.

#[path = "driveline_common/mod.rs"]
mod common;

use allocation_counter::measure;
use toothsayer_mechanics::driveline::{Case, Event, Options, simulate_all};

/// A run's two segments, one of them short.
const SHORT_S: f64 = 0.01;

#[test]
fn a_long_event_takes_no_more_memory_than_a_short_one() {
    for case in Case::ALL {
        check(case);
    }
}

#[track_caller]
fn check(case: Case) {
    let truck = common::example();
    let options = Options { settle: false, ..Options::default() };
    let [short, long] = [SHORT_S, case.duration_s()].map(|duration_s| {
        let events = [(&truck, Event { duration_s: Some(duration_s), ..Event::usual(case) }); 20];
        measure(|| assert!(simulate_all(&events, &options).iter().all(Result::is_ok))).count_total
    });
    assert_eq!(long, short, "{}: blocks for {} s and {SHORT_S} s", case.name(), case.duration_s());
}
