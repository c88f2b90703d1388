//! Ranges: deterministic, ended when the question is answered, cancellable, and honest about what would narrow them.
//!
//! No outside source: what is held is the method's own promise, on this project's own invented truck.

use crate::bench::{HEALTHY, Judged, MEMO, STRIPPED, example, margin, ranges, with};
use crate::five_facts::facts;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_fault_book::FaultBook;
use toothsayer_inputs::find;
use toothsayer_job::State;
use toothsayer_verdict::{Error, Holds, Limit, Memo, Narrow, Narrowing, Ranges, StateMargins};

const FIRST: u32 = 128;
const MOST: u32 = 512;

#[track_caller]
fn of(judged: &Judged, state: State, ranges: &Ranges<'_>) -> StateMargins {
    let states = judged.verdict.margins(Some(ranges), &MEMO).expect("margins");
    states.into_iter().find(|margins| margins.state == state).expect("the state")
}

fn until_answered(narrow: Narrow) -> Ranges<'static> {
    Ranges { most: MOST, narrow, ..ranges(FIRST, 1) }
}

#[track_caller]
fn narrowing(judged: &Judged, state: State) -> Narrowing {
    of(judged, state, &until_answered(Narrow::Always)).narrowing.expect("something varies")
}

/// Every bit that ranges give, on so many threads and with nothing known before.
fn bits(threads: usize, seed: u32) -> Vec<u64> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
    let ranges = Ranges { narrow: Narrow::WhereUnsure, ..ranges(64, seed) };
    let states = pool.install(|| HEALTHY.verdict.margins(Some(&ranges), &Memo::default())).expect("margins");
    let bits = |value: Option<f64>| value.map_or(u64::MAX, f64::to_bits);
    let mut all = Vec::new();
    for state in &states {
        for margin in &state.margins {
            all.extend([margin.low, margin.median, margin.high].map(bits));
            all.extend(
                margin.exceeded.iter().flat_map(|chance| [chance.low, chance.value, chance.high].map(f64::to_bits)),
            );
        }
        let answers = state.narrowing.iter().flat_map(|narrowing| &narrowing.answers);
        all.extend(answers.flat_map(|answer| [answer.margin.first, answer.margin.total].map(f64::to_bits)));
    }
    all
}

#[test]
fn the_same_seed_gives_the_same_bits_on_any_number_of_threads() {
    let one = bits(1, 5);
    assert!(one.len() > 100);
    assert_eq!(one, bits(3, 5));
    assert_ne!(one, bits(3, 6), "another seed draws elsewhere");
}

#[test]
fn a_state_that_fails_anyhow_is_answered_by_the_first_block() {
    let found = of(&STRIPPED, State::Found, &until_answered(Narrow::Never));
    assert_eq!((found.holds, found.drawn.expect("draws").used), (Holds::No, FIRST));
}

#[test]
fn draws_go_on_while_a_chance_near_five_percent_leaves_it_open() {
    // The gap's chance is about 5 %: 128 draws cannot tell on which side.
    let built = of(&STRIPPED, State::Built, &until_answered(Narrow::Never));
    assert!(built.drawn.expect("draws").used > FIRST, "{:?}", built.drawn);
    let first = of(&STRIPPED, State::Built, &ranges(FIRST, 1));
    let width = |state: &StateMargins| {
        let gap = state.margins.iter().find(|margin| margin.limit == Limit::Gap).expect("a gap");
        gap.exceeded.expect("a chance").error()
    };
    assert!(width(&built) < 0.75 * width(&first), "{} after {}", width(&built), width(&first));
}

#[test]
fn a_state_that_surely_holds_needs_few_draws() {
    let judged = Judged::of(&example("tarnhorn-small.toml"));
    let built = of(&judged, State::Built, &until_answered(Narrow::WhereUnsure));
    assert_eq!(built.holds, Holds::Yes);
    assert!(built.drawn.expect("draws").used < MOST && built.narrowing.is_none(), "{:?}", built.drawn);
    let counting = built.margins.iter().filter(|margin| margin.counts());
    for chance in counting.filter_map(|margin| margin.exceeded) {
        assert!(chance.high < 0.05, "{chance:?}");
    }
}

#[test]
fn whoever_watches_can_stop_it_and_is_told_nothing_half_done() {
    let asked = AtomicU32::new(0);
    let watch = |_: u32, _: u32| asked.fetch_add(1, Ordering::SeqCst) < 1;
    let ranges = Ranges { watch: &watch, ..ranges(FIRST, 1) };
    let error = HEALTHY.verdict.margins(Some(&ranges), &MEMO).expect_err("it was stopped");
    assert_eq!(error, Error::Cancelled { done: FIRST, most: FIRST });
    assert_eq!(asked.load(Ordering::SeqCst), 2, "nothing goes on after the wish to stop");
    assert!(error.to_string().starts_with("cancelled after 128 of at most 128 steps"), "{error}");
}

#[test]
fn the_watch_is_told_how_far_the_work_is() {
    let told = Mutex::new(Vec::new());
    let watch = |done: u32, most: u32| {
        told.lock().expect("nobody panics").push((done, most));
        true
    };
    let ranges = Ranges { watch: &watch, ..ranges(FIRST, 1) };
    HEALTHY.verdict.margins(Some(&ranges), &MEMO).expect("margins");
    let told = told.into_inner().expect("nobody panics");
    assert_eq!(told[..2], [(64, FIRST), (128, FIRST)]);
    assert!(told.iter().all(|(done, most)| done <= most), "{told:?}");
}

/// The example's cover bearing is known to 0.15 mm: the gap before it decides whether the built truck surely holds.
#[test]
fn what_would_narrow_the_example_is_a_measurement_of_the_bench() {
    for state in [State::Built, State::Proposed] {
        let told = narrowing(&STRIPPED, state);
        let largest = told.largest().expect("an answer");
        assert_eq!(largest.input, "stack.cover_bearing");
        assert!(largest.margin.total > 0.4 && largest.margin.total > 2.0 * largest.margin.total_error, "{largest:?}");
        for answer in &told.answers {
            let input = find(answer.input).expect("it is registered");
            assert!(!input.measure.is_empty() && answer.minutes > 0.0, "{answer:?}");
        }
        assert!(told.answers.is_sorted_by(|a, b| a.per_minute() >= b.per_minute()), "{:?}", told.answers);
    }
}

#[test]
fn measuring_what_was_named_makes_the_example_sure() {
    let open = of(&STRIPPED, State::Built, &until_answered(Narrow::WhereUnsure));
    assert_eq!((open.holds, open.settle()), (Holds::Unsure, Some("stack.cover_bearing")));
    let text = example("tarnhorn.toml");
    let line = text.lines().find(|line| line.starts_with("cover_bearing")).expect("the line");
    let measured = with(&text, line, "cover_bearing = { value = \"22.3 mm\", plus_minus = \"0.05 mm\" }");
    let sure = of(&Judged::of(&measured), State::Built, &until_answered(Narrow::WhereUnsure));
    assert_eq!((sure.holds, sure.settle()), (Holds::Yes, None));
}

/// As found the motor's joint is free: its margin is 0 whatever else is measured.
#[test]
fn nothing_is_to_be_measured_where_a_free_joint_has_decided() {
    let found = of(&STRIPPED, State::Found, &until_answered(Narrow::Always));
    assert!(margin(&found.margins, "motor to mount", Limit::Slip, "launch") == 0.0 && found.narrowing.is_none());
}

/// With a motor beyond its gears it is the height of the drops that decides, and chance itself.
#[test]
fn an_overpowered_truck_asks_for_the_drop_height() {
    let told = narrowing(&Judged::of(&example("tarnhorn-motor.toml")), State::Proposed);
    assert_eq!(told.largest().expect("an answer").input, "driver.drop_height");
    assert!(told.chance.total > 0.2, "{:?}", told.chance);
}

#[test]
fn every_input_that_a_check_sets_can_be_measured() {
    let book = FaultBook::built_in();
    let set = book.findings().iter().filter_map(|finding| finding.value.as_ref()).filter(|value| !value.adds);
    let inputs: Vec<&str> = set.map(|value| value.input.as_str()).collect();
    assert!(inputs.len() > 3, "{inputs:?}");
    for key in inputs {
        assert!(find(key).is_some_and(|input| !input.measure.is_empty()), "{key}");
    }
}

/// Of a truck known by five facts nearly everything can still be measured: more inputs than are weighed at all points.
#[test]
fn a_truck_of_five_facts_is_told_a_dozen_answers_at_most() {
    let judged = Judged::of(&facts().to_toml());
    let told =
        of(&judged, State::Built, &Ranges { narrow: Narrow::Always, ..ranges(64, 1) }).narrowing.expect("answers");
    assert!((3..=12).contains(&told.answers.len()), "{:?}", told.answers);
    assert!(told.answers.iter().all(|answer| answer.margin.total >= 0.05), "{:?}", told.answers);
}
