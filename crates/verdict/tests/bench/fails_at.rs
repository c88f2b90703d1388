//! Where a truck fails first: as sold, with its parts, in its condition, or only with this driving.
//!
//! No outside source: the order is this project's own answer to "is the truck defective, or is it me?".

use crate::bench::{Judged, STRIPPED, example, with};
use toothsayer_job::State;
use toothsayer_verdict::{FailsAt, Limit};

/// Everything that decides on "holds" and fails in the state fails first at `step`; `part` with `limit` is among it.
#[track_caller]
fn check(judged: &Judged, state: State, part: &str, limit: Limit, step: FailsAt) {
    let margins = &judged.state(state).margins;
    let failing: Vec<_> = margins.iter().filter(|margin| margin.counts() && margin.fails()).collect();
    assert!(failing.iter().any(|margin| margin.part == part && margin.limit == limit), "{failing:?}");
    for margin in failing {
        assert_eq!(margin.fails_at, Some(step), "{margin:?}");
    }
    for margin in margins.iter().filter(|margin| !margin.fails()) {
        assert_eq!(margin.fails_at, None, "{margin:?}");
    }
}

const DROP: &str = "{ value = \"0.8 m\", low = \"0.2 m\", high = \"2 m\" }";
const STOCK_SPUR: &str = "[stock.gears]\nspur = { material = \"through-hardened-alloy\", hardness = \"300 HV\" }\n";

/// The example with a spur of plastic.
fn with_plastic_spur() -> String {
    let text = example("tarnhorn.toml");
    with(&text, "material = \"through-hardened-alloy\", hardness = \"300 HV\"", "material = \"pom\"")
}

#[test]
fn what_was_found_fails_in_its_condition() {
    check(&STRIPPED, State::Found, "motor to mount", Limit::Slip, FailsAt::Condition);
}

#[test]
fn a_plastic_spur_where_the_maker_fits_steel_fails_with_its_parts() {
    let judged = Judged::of(&format!("{}\n{STOCK_SPUR}", with_plastic_spur()));
    check(&judged, State::Built, "spur", Limit::Root, FailsAt::Parts);
}

#[test]
fn the_same_spur_from_the_maker_fails_as_sold() {
    check(&Judged::of(&with_plastic_spur()), State::Built, "spur", Limit::Root, FailsAt::Stock);
}

#[test]
fn heavy_wheels_and_a_stronger_controller_fail_with_their_parts() {
    let heavy = with(&example("tarnhorn.toml"), "mass = \"410 g\"", "mass = \"3 kg\"");
    let heavy = with(&heavy, "mass = \"10.4 kg\"", "mass = \"20.8 kg\"");
    let strong = with(&heavy, "\"170 A\"", "\"600 A\"");
    let stock = "[stock]\ntruck = { mass = \"10.4 kg\" }\nwheels = { mass = \"410 g\" }\n\
                 controller = { drive_current = \"170 A\" }\n";
    let judged = Judged::of(&format!("{strong}\n{stock}"));
    check(&judged, State::Built, "motor to mount", Limit::Slip, FailsAt::Parts);
}

#[test]
fn a_wild_driver_alone_fails_at_the_driving() {
    let wild = with(&example("tarnhorn.toml"), DROP, "\"10 m\"");
    let wild = with(&wild, "landings_on_throttle = \"15 %\"", "landings_on_throttle = \"60 %\"");
    check(&Judged::of(&wild), State::Built, "motor to mount", Limit::Slip, FailsAt::Driving);
}
