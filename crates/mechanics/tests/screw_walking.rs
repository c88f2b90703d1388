//! A motor that walks: event after event against the closed form of a block on a plane.
//!
//! Mechanics of a block with Coulomb friction, any textbook; no outside figures.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::screw::{EventForces, ForceSample, Place, Walked, WalkingJoint};
use toothsayer_quantity::{Angle, Force, Length, Mass, Time};

/// The edges of the force's rectangle take a nanosecond: a millionth of its length.
const EDGES: f64 = 1e-5;

const MOTOR: WalkingJoint =
    WalkingJoint { mass: Mass::kg(0.5), screws: 2, friction: 0.16, clearance: Length::mm(2.0), loss_per_event: 0.005 };
const ANGLE_DEG: f64 = 20.0;
const PUSH_N: f64 = 900.0;
const LASTS_S: f64 = 1e-3;

fn at(time_s: f64, force_n: f64) -> ForceSample {
    ForceSample { time: Time::s(time_s), normal_force: Force::n(force_n) }
}

/// A constant tooth force that lasts a millisecond, of either flank.
fn push(force_n: f64) -> [ForceSample; 4] {
    [at(0.0, force_n), at(LASTS_S, force_n), at(LASTS_S + 1e-9, 0.0), at(1.0, 0.0)]
}

fn event(place: Place, force_n: f64) -> Walked {
    let trace = push(force_n);
    let worst_shear = Force::n(force_n.abs() / 2.0);
    let pressure_angle = Angle::deg(ANGLE_DEG);
    MOTOR.event(place, &EventForces { trace: &trace, pressure_angle, worst_shear }).unwrap()
}

fn place(clamp_n: f64, travel_mm: f64) -> Place {
    Place { clamp: Force::n(clamp_n), travel: Length::mm(travel_mm) }
}

#[track_caller]
fn check(got: f64, expected: f64) {
    assert!((got - expected).abs() <= EDGES * expected.abs(), "got {got}, expected {expected}");
}

/// Slide of a block: a t²/2 under the push, then v²/(2 b) against friction alone.
fn slide_m(clamp_n: f64) -> f64 {
    let friction_n = 0.16 * 2.0 * clamp_n;
    let driven = (PUSH_N * ANGLE_DEG.to_radians().sin() - friction_n) / 0.5;
    let braked = friction_n / 0.5;
    let speed = driven * LASTS_S;
    0.5 * driven * LASTS_S * LASTS_S + speed * speed / (2.0 * braked)
}

#[test]
fn a_constant_force_walks_the_motor_by_the_closed_form_event_after_event() {
    let (mut now, mut expected_m, mut clamp_n) = (place(900.0, 0.0), 0.0, 900.0);
    for number in 0..20 {
        // Drive and coast flank push away alike.
        let walked = event(now, if number % 2 == 0 { PUSH_N } else { -PUSH_N });
        expected_m += slide_m(clamp_n);
        clamp_n *= 0.995;
        check(walked.place.travel.to_m(), expected_m);
        check(walked.place.clamp.to_n(), clamp_n);
        assert!(walked.slipped && !walked.at_the_hole);
        now = walked.place;
    }
    assert!(expected_m > 1e-4, "{expected_m}");
}

#[test]
fn a_tight_joint_keeps_its_place_and_its_clamp() {
    let tight = place(3000.0, 0.0);
    assert_eq!(event(tight, PUSH_N), Walked { place: tight, slipped: false, at_the_hole: false });
}

// Between 962 N (the push away) and 2812 N (the shear) it works loose without moving: 0.5 % an event.
#[test]
fn a_joint_that_slips_sideways_works_loose_before_it_walks() {
    let mut now = place(1500.0, 0.0);
    let events = (1..1000).find(|_| {
        now = event(now, PUSH_N).place;
        now.travel > Length::ZERO
    });
    // 1500 x 0.995^k falls below Fn sin a/(2 mu) = 961.9 N at k = 89: the next event moves it.
    let holds_n = PUSH_N * ANGLE_DEG.to_radians().sin() / (2.0 * 0.16);
    let expected = ((holds_n / 1500.0).ln() / 0.995_f64.ln()).ceil() + 1.0;
    assert_eq!(events, Some(expected as i32));
}

#[test]
fn the_holes_end_the_walk() {
    let walked = event(place(0.0, 1.99), PUSH_N);
    assert!(walked.at_the_hole);
    check(walked.place.travel.to_mm(), 2.0);
    let after = event(walked.place, PUSH_N);
    check(after.place.travel.to_mm(), 2.0);
}

#[test]
fn what_is_out_of_range_is_refused() {
    let trace = push(PUSH_N);
    let forces = EventForces { trace: &trace, pressure_angle: Angle::deg(20.0), worst_shear: Force::n(f64::NAN) };
    assert!(MOTOR.event(place(900.0, 0.0), &forces).is_err());
    let loose = WalkingJoint { loss_per_event: 0.7, ..MOTOR };
    assert!(loose.event(place(900.0, 0.0), &EventForces { worst_shear: Force::ZERO, ..forces }).is_err());
    assert!(MOTOR.event(place(-1.0, 0.0), &EventForces { worst_shear: Force::ZERO, ..forces }).is_err());
}
