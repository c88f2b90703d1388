//! Motors that walk: the example's stories, and what every walk obeys.
//!
//! No outside source: a block's slide is held against its closed form in the room of the mechanics.

use crate::bench::{MEMO, STRIPPED, job, unopened, with};
use toothsayer_job::State;
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::screw::SLIP_FRICTION;
use toothsayer_quantity::{Length, Torque};
use toothsayer_verdict::{Driven, Error, Grip, Loaded, Walk, WalkAsk, WalkEnd, Windows, walk};

const USUAL: WalkAsk<'static> =
    WalkAsk { driven: Driven::Case(Case::FullBrake), joint: None, torque: None, clearance: None, grip: Grip::USUAL };
/// Hand-tight by feel, well below the joint's window of 2 to 3.9 N m.
const HAND: Torque = Torque::n_m(1.4);
/// Slots as motor mounts have them, so that the mesh can be set (common practice, no source).
const SLOTS: Length = Length::mm(1.2);
/// The force that the walk slides under is sampled, the peak is sought between the samples: an event either way.
const SAMPLED: usize = 1;

fn loaded(text: &str) -> Loaded {
    Loaded::new(&job(text).built, true, &MEMO).expect("it loads")
}

#[track_caller]
fn walked(ask: &WalkAsk<'_>) -> Walk {
    walk(&loaded(&unopened()), true, &Windows::new(), ask).expect("a walk")
}

/// It ends so, and on the way the motor never comes back and the clamp never rises.
#[track_caller]
fn check(walk: &Walk, end: WalkEnd) {
    assert_eq!(walk.end, end, "after {} events", walk.points.len() - 1);
    for pair in walk.points.windows(2) {
        let [before, after] = [&pair[0], &pair[1]];
        assert!(after.centre_distance >= before.centre_distance, "{before:?} {after:?}");
        assert!(after.clamp <= before.clamp, "{before:?} {after:?}");
    }
}

#[test]
fn the_example_as_built_does_not_walk() {
    for driven in [Driven::Case(Case::FullBrake), Driven::Case(Case::LandingOnThrottle), Driven::Run] {
        let walk = walked(&WalkAsk { driven, ..USUAL });
        check(&walk, WalkEnd::Holds);
        assert_eq!(walk.first_moved(), None);
        assert!(walk.points.iter().all(|point| point.slip_margin > 1.0));
    }
}

#[test]
fn with_hand_tight_screws_in_slots_it_rides_over_after_some_brakes() {
    let walk = walked(&WalkAsk { torque: Some(HAND), clearance: Some(SLOTS), ..USUAL });
    check(&walk, WalkEnd::RidesOver);
    let (moved, short) = (walk.first_moved().expect("it moves"), walk.first_short().expect("it comes short"));
    let events = walk.points.len() - 1;
    assert!((10..500).contains(&events) && 0 < moved && moved < short && short <= events, "{moved} {short} {events}");
    let [first, last] = [&walk.points[0], &walk.points[events]];
    assert!(last.contact_ratio < 1.0 && first.contact_ratio > 1.5);
    assert!(last.peak > first.peak * 1.1, "the play grows, and with it the blow");
    // Every event slipped: the clamp is what it was, times 0.995 to their number.
    let kept = 0.995_f64.powi(events as i32);
    assert!((last.clamp / first.clamp / kept - 1.0).abs() < 1e-9);
}

// It moves once mu n F falls below the largest Fn sin aw: F0 0.995^k in closed form.
#[test]
fn it_first_moves_when_the_clamp_no_longer_bears_the_push() {
    let walk = walked(&WalkAsk { torque: Some(HAND), ..USUAL });
    let built = loaded(&unopened());
    let push_n = walk.points[0].peak.to_n() * built.bay.pair.working_pressure_angle().to_rad().sin();
    let bears_n = SLIP_FRICTION * f64::from(walk.screws) * walk.points[0].clamp.to_n();
    let wanted = ((push_n / bears_n).ln() / 0.995_f64.ln()).ceil() as usize + 1;
    let moved = walk.first_moved().expect("it moves");
    assert!(moved.abs_diff(wanted) <= SAMPLED, "{moved}, {wanted} by the closed form");
}

#[test]
fn plain_holes_end_the_walk_before_the_teeth_ride_over() {
    let walk = walked(&WalkAsk { torque: Some(HAND), ..USUAL });
    check(&walk, WalkEnd::AtTheHole);
    // ISO 273, medium: an M4 screw in a hole of 4.5 mm.
    assert!((walk.clearance.to_mm() - 0.5).abs() < 1e-9);
    let [first, last] = [&walk.points[0], &walk.points[walk.points.len() - 1]];
    assert!(((last.centre_distance - first.centre_distance).to_mm() - 0.5).abs() < 1e-9);
    assert!(last.contact_ratio < 1.2 && last.contact_ratio > 1.0);
}

#[test]
fn loose_screws_let_the_motor_go_at_the_first_brake() {
    let loose =
        with(&unopened(), "circle = \"28 mm\"\ntorque = \"3.4 N*m\"", "circle = \"28 mm\"\ntightness = \"loose\"");
    let walk = walk(&loaded(&loose), true, &Windows::new(), &USUAL).expect("a walk");
    check(&walk, WalkEnd::AtTheHole);
    assert_eq!(walk.first_moved(), Some(1));
}

#[test]
fn as_found_the_motor_goes_what_its_holes_have_left() {
    let found = STRIPPED.verdict.loaded(State::Found, &MEMO).expect("found");
    let walk = walk(&found, true, &STRIPPED.verdict.windows, &USUAL).expect("a walk");
    check(&walk, WalkEnd::AtTheHole);
    // Holes of 0.5 mm, and it was found to rock by 0.45 mm.
    assert!((walk.clearance.to_mm() - 0.05).abs() < 1e-9 && walk.first_short() == Some(0));
}

#[test]
fn the_tighter_the_later() {
    let events = |torque_n_m: f64, grip: Grip| {
        let walk = walked(&WalkAsk { torque: Some(Torque::n_m(torque_n_m)), clearance: Some(SLOTS), grip, ..USUAL });
        if walk.end == WalkEnd::Holds { usize::MAX } else { walk.points.len() }
    };
    let by_torque = [1.0, 1.3, 1.5, 1.8, 3.4].map(|torque_n_m| events(torque_n_m, Grip::USUAL));
    assert!(by_torque.windows(2).all(|pair| pair[0] < pair[1]), "{by_torque:?}");
    let [soonest, latest] = Grip::ENDS.map(|grip| events(1.4, grip));
    let usual = events(1.4, Grip::USUAL);
    assert!(soonest < usual && usual < latest, "{soonest} {usual} {latest}");
}

#[test]
fn a_joint_that_does_not_hold_the_motor_is_refused_with_those_that_do() {
    let wrong = WalkAsk { joint: Some("input shaft cover, into plastic"), ..USUAL };
    let told = walk(&loaded(&unopened()), true, &Windows::new(), &wrong).map(|walk| walk.joint);
    let known = "motor to mount, mount to chassis".to_owned();
    assert_eq!(told, Err(Error::NotMotorJoint { name: "input shaft cover, into plastic".into(), known }));
    let mount = walked(&WalkAsk { joint: Some("mount to chassis"), ..USUAL });
    assert_eq!(mount.joint, "mount to chassis");
}
