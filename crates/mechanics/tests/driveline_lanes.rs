//! Events side by side: each as alone, to the last bit.

#[path = "driveline_common/mod.rs"]
mod common;
#[path = "driveline_common/drawn.rs"]
mod drawn;

use toothsayer_mechanics::driveline::{Case, Event, Options, Parameters, simulate_all, simulate_with};

/// Long enough for a blow and its first rebounds.
const SHORT_S: f64 = 0.02;

#[test]
fn events_side_by_side_give_the_bits_that_each_gives_alone() {
    let trucks = drawn::drawn(12);
    let example = common::example();
    let short = |case| Event { duration_s: Some(SHORT_S), ..Event::usual(case) };
    let mut events: Vec<_> = Case::ALL.iter().map(|case| (&example, Event::usual(*case))).collect();
    events.extend(trucks.iter().flat_map(|truck| Case::ALL.map(|case| (truck, short(case)))));
    check(&events, &Options::default());
    check(&events[..3], &Options { mesh_history: true, trace_points: 50, ..Options::default() });
    check(&[], &Options::default());
}

#[test]
fn an_event_that_cannot_be_computed_leaves_the_others_alone() {
    let example = common::example();
    let broken = Parameters { grip: -1.0, ..common::example() };
    let event = Event { duration_s: Some(SHORT_S), ..Event::usual(Case::FullBrake) };
    check(
        &[(&example, event), (&broken, event), (&example, Event { lash_phase: Some(2.0), ..event })],
        &Options::default(),
    );
    check(&[(&example, event); 9], &Options { max_steps: 20, ..Options::default() });
}

#[track_caller]
fn check(events: &[(&Parameters, Event)], options: &Options) {
    let together = simulate_all(events, options);
    assert_eq!(together.len(), events.len());
    for (together, (truck, event)) in together.iter().zip(events) {
        let alone = simulate_with(truck, event, options);
        // The derived text has every digit of every number, so equal texts are equal bits.
        assert_eq!(format!("{together:?}"), format!("{alone:?}"), "{}", event.case.name());
    }
}
