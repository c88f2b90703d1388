//! The way to a stop against closed forms and published braking distances.

#[path = "driveline_common/mod.rs"]
mod common;

use toothsayer_mechanics::driveline::Parameters;
use toothsayer_mechanics::driveline::derived::GRAVITY_M_S2;
use toothsayer_mechanics::motor::stopping::{LONGEST, STANDING};
use toothsayer_mechanics::motor::{Braking, Stop, stop};
use toothsayer_quantity::Speed;

/// Simpson's rule over 2000 panels, where the brake's limit takes hold within one of them.
const INTEGRATED: f64 = 1e-4;

#[track_caller]
fn check(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "got {got}, expected {expected} within {relative}");
}

/// The example truck without drag and no-load loss, on tyres that hold anything.
fn ideal() -> Parameters {
    Parameters { drag_area_m2: 0.0, no_load_current_a: 0.0, grip: 3.0, ..common::example() }
}

#[track_caller]
fn way_and_time(truck: &Parameters, from_m_s: f64, strength: f64) -> [f64; 2] {
    let braking = Braking { truck, from: Speed::m_per_s(from_m_s), strength };
    match stop(&braking).unwrap() {
        Stop::Stands { distance, time } => [distance.to_m(), time.to_s()],
        Stop::RollsOn { speed } => panic!("still rolls at {speed:?}"),
    }
}

// Constant deceleration: s = (v² - v_e²)/(2 a), t = (v - v_e)/a. The brake current is constant while K w/R lies above
// it: a tiny winding resistance keeps it so down to standing.
#[test]
fn a_constant_brake_stops_in_half_the_square_of_the_speed_over_the_deceleration() {
    let truck = Parameters { motor_resistance_ohm: 1e-4, ..ideal() };
    let end_m_s = STANDING.to_m_per_s();
    for strength in [0.2, 0.5, 1.0] {
        let slowing_m_s2 = truck.launch_acceleration_m_s2(strength * 140.0);
        let [way_m, time_s] = way_and_time(&truck, 12.0, strength);
        check(way_m, (144.0 - end_m_s * end_m_s) / (2.0 * slowing_m_s2), INTEGRATED);
        check(time_s, (12.0 - end_m_s) / slowing_m_s2, INTEGRATED);
    }
}

// Grip: s = v²/(2 mu g), for half the weight on the braked wheels twice that.
#[test]
fn a_brake_beyond_the_grip_stops_as_the_grip_lets_it() {
    let truck = Parameters { grip: 0.4, brake_current_a: 5000.0, motor_resistance_ohm: 1e-4, ..ideal() };
    let end_m_s = STANDING.to_m_per_s();
    for share in [1.0, 0.5] {
        let braked = Parameters { driven_load_share: share, ..truck.clone() };
        let [way_m, _] = way_and_time(&braked, 14.0, 1.0);
        check(way_m, (196.0 - end_m_s * end_m_s) / (2.0 * 0.4 * share * GRAVITY_M_S2), INTEGRATED);
    }
}

// Published braking distances on tyres: 55 mph (24.6 m/s) at 0.8: 38.6 m (a university's physics pages); 60 mph
// (26.7 m/s) at 0.7: 52 m (an answer to a textbook exercise); v²/(254 f) of the road builders' sight distances with v in
// km/h: 100 km/h at 0.29 is 135.8 m (from memory); 30 mph (13.4 m/s) at 0.7: 13 m.
#[test]
fn published_braking_distances_come_out() {
    for (from_m_s, grip, printed_m, half_digit_m) in
        [(24.6, 0.8, 38.6, 0.1), (26.7, 0.7, 52.0, 0.5), (100.0 / 3.6, 0.29, 135.8, 0.2), (13.41, 0.7, 13.0, 0.5)]
    {
        let truck = Parameters { grip, brake_current_a: 5000.0, motor_resistance_ohm: 1e-4, ..ideal() };
        let [way_m, _] = way_and_time(&truck, from_m_s, 1.0);
        assert!((way_m - printed_m).abs() <= half_digit_m, "{way_m} m, printed {printed_m} m");
    }
}

// A brake limited by the resistance: v' = -v/T with T = m' R (r/i)²/(s K²), so s = (v - v_e) T and t = T ln(v/v_e).
#[test]
fn a_brake_limited_by_the_resistance_fades_with_the_speed() {
    let truck = Parameters { motor_resistance_ohm: 0.2, brake_current_a: 5000.0, ..ideal() };
    let per_ampere_m_s2 = truck.launch_acceleration_m_s2(1.0);
    let end_m_s = STANDING.to_m_per_s();
    for strength in [0.3, 1.0] {
        let volts_per_speed = truck.motor_constant() * truck.overall_ratio() / truck.tyre_radius_m;
        let constant_s = 0.2 / (strength * volts_per_speed * per_ampere_m_s2);
        let [way_m, time_s] = way_and_time(&truck, 8.0, strength);
        check(way_m, (8.0 - end_m_s) * constant_s, INTEGRATED);
        check(time_s, constant_s * (8.0 / end_m_s).ln(), INTEGRATED);
    }
}

// Drag alone: v = v0 e^(-s/L) with L = m'/(rho CdA/2).
#[test]
fn drag_alone_never_stops_the_truck_within_the_longest_way() {
    let truck = Parameters { drag_area_m2: 0.065, ..ideal() };
    let braking = Braking { truck: &truck, from: Speed::m_per_s(15.0), strength: 0.0 };
    let Stop::RollsOn { speed } = stop(&braking).unwrap() else { panic!("it stops") };
    let moved_kg =
        truck.motor_constant() * truck.overall_ratio() / truck.tyre_radius_m / truck.launch_acceleration_m_s2(1.0);
    let fade_m = moved_kg / (0.5 * 1.2 * 0.065);
    check(speed.to_m_per_s(), 15.0 * (-LONGEST.to_m() / fade_m).exp(), 0.01);
    let no_drag = Braking { truck: &ideal(), ..braking };
    assert!(matches!(stop(&no_drag), Ok(Stop::RollsOn { .. })), "nothing at all slows it");
}

#[test]
fn a_stronger_brake_a_better_grip_and_a_lower_speed_never_stop_later() {
    let truck = common::example();
    let mut before_m = f64::INFINITY;
    for percent in 1..=100 {
        let [way_m, _] = way_and_time(&truck, 15.0, f64::from(percent) / 100.0);
        assert!(way_m <= before_m, "{way_m} m at {percent} %, {before_m} m below");
        before_m = way_m;
    }
    let mut before_m = f64::INFINITY;
    for tenths in 1..=20 {
        let gripping = Parameters { grip: f64::from(tenths) / 10.0, ..truck.clone() };
        let [way_m, _] = way_and_time(&gripping, 15.0, 1.0);
        assert!(way_m <= before_m && way_m < way_and_time(&gripping, 15.5, 1.0)[0]);
        before_m = way_m;
    }
}

#[test]
fn a_truck_that_stands_needs_no_way_and_nonsense_is_refused() {
    let truck = common::example();
    assert_eq!(way_and_time(&truck, 0.0, 1.0), [0.0, 0.0]);
    let refused = |from_m_s: f64, strength: f64, driven_load_share: f64| {
        let truck = Parameters { driven_load_share, ..truck.clone() };
        let braking = Braking { truck: &truck, from: Speed::m_per_s(from_m_s), strength };
        stop(&braking).unwrap_err().to_string()
    };
    assert_eq!(refused(-1.0, 1.0, 1.0), "speed to brake from is -1 m/s, outside 0 to 100 m/s");
    assert_eq!(refused(10.0, 1.5, 1.0), "brake strength is 1.5, outside 0 to 1");
    assert!(refused(10.0, 1.0, f64::NAN).starts_with("driven wheels' share of the load is NaN"));
}
