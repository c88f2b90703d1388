//! Wanted changes: what they do to the margins, whose share is whose, and what would make it hold.
//!
//! No outside source beyond the facts of the trade that are named: this project's own models on its own invented truck.

use crate::bench::{MEMO, STRIPPED};
use toothsayer_job::{Setting, State};
use toothsayer_verdict::{Changed, Holds, Limit, Wanted};

/// Rounding of a few sums.
const ROUNDING: f64 = 1e-9;

#[track_caller]
fn changed(texts: &[&str]) -> Changed {
    let job = STRIPPED.verdict.job;
    let settings: Vec<Setting> = texts.iter().map(|text| Setting::parse(text, &job.built).expect("a change")).collect();
    let wanted = Wanted {
        before: &job.built,
        state: State::Built,
        run_in: true,
        settings: &settings,
        horizon_runs: job.shop.horizon_runs,
    };
    wanted.weigh(None, &MEMO, &|_, _| true).expect("an answer")
}

#[test]
fn the_shares_of_the_changes_add_up_to_what_the_margin_moves() {
    let changed = changed(&["wheels.mass=800 g", "battery.cells=8", "controller.brake_current=200 A"]);
    assert!(!changed.shares.is_empty());
    for share in &changed.shares {
        let sum: f64 = share.by.iter().sum();
        assert!((sum - (share.after - share.before)).abs() < ROUNDING, "{share:?}");
    }
}

// common practice, no source
#[test]
fn heavier_wheels_take_from_the_teeth_in_launch_and_reversal() {
    let changed = changed(&["wheels.mass=800 g"]);
    for case in ["launch", "reversal", "full-brake"] {
        let share = changed.shares.iter().find(|share| share.limit == Limit::Root && share.case == case);
        let share = share.unwrap_or_else(|| panic!("{case} moves no root margin"));
        assert!(share.after < share.before, "{share:?}");
    }
}

#[test]
fn a_change_that_matters_to_nothing_moves_nothing() {
    assert!(changed(&["motor.temperature_limit=111 degC"]).shares.iter().all(|share| share.part == "motor"));
}

#[test]
fn what_breaks_the_truck_is_named_and_what_would_mend_it_holds() {
    let texts = ["joints.motor to mount.torque=0.4 N*m", "wheels.mass=500 g"];
    let changed = changed(&texts);
    assert_eq!(changed.after.holds, Holds::No);
    assert_eq!(changed.without, vec![vec![0]]);
    assert!(!changed.remedies.is_empty());
    for remedy in &changed.remedies {
        let set: Vec<&str> = texts.iter().copied().filter(|text| !remedies_same(text, &remedy.set)).collect();
        let all: Vec<&str> = set.into_iter().chain(remedy.set.iter().map(String::as_str)).collect();
        assert_ne!(self::changed(&all).after.holds, Holds::No, "{remedy:?}");
    }
}

/// Whether a remedy sets the same key anew.
fn remedies_same(text: &str, set: &[String]) -> bool {
    let key = |text: &str| text.split('=').next().map(str::to_owned);
    set.iter().any(|other| key(other) == key(text))
}
