//! A truck that falls, against a general rigid-body engine from the registry: force on the ground, when, and travel.

#[path = "driveline_common/mod.rs"]
mod common;
#[path = "driveline_common/drawn.rs"]
mod drawn;
#[path = "driveline_common/rigid_bodies.rs"]
mod rigid_bodies;

use rigid_bodies::{Drop, Fall, fall};
use toothsayer_mechanics::driveline::{Case, Event, Options, Parameters, simulate_with};

/// Long enough for the highest peak of every truck here.
const DURATION_S: f64 = 0.1;
/// The engine's step. Its integrator is of order 1, so halving the step halves its error: the difference between the two is the
/// error of the finer one.
const STEP_S: f64 = 1e-5;
/// Largest relative error that the engine may have at half that step: 2.5e-4 was the worst.
const ENGINE_ERROR: f64 = 5e-4;
/// What the two may differ by beyond the engine's own error: 4e-5 was the worst; the solver promises 1e-3.
const AGREEMENT: f64 = 2e-4;
/// The peak is flat: three of the engine's coarse steps change it by less than 1e-4.
const TIME_S: f64 = 3.0 * STEP_S;

#[test]
fn drawn_trucks_press_the_ground_as_in_a_rigid_body_engine() {
    let mut trucks = drawn::drawn(8);
    trucks.push(common::example());
    assert!(trucks.iter().any(|truck| truck.chassis_clearance_m.is_some()), "none that slaps");
    for truck in &trucks {
        [0.1, 0.8, 2.0].into_iter().for_each(|height_m| check(truck, height_m));
    }
}

#[track_caller]
fn check(truck: &Parameters, height_m: f64) {
    let engine = |step_s| fall(truck, Drop { height_m, duration_s: DURATION_S, step_s });
    let (coarse, fine, ours) = (engine(STEP_S), engine(0.5 * STEP_S), ours(truck, height_m));
    agree("ground force, N", [coarse.peak_n, fine.peak_n, ours.peak_n]);
    agree("travel, m", [coarse.travel_m, fine.travel_m, ours.travel_m]);
    assert!((fine.peak_s - ours.peak_s).abs() <= TIME_S, "{height_m} m: {ours:?}, engine {fine:?}");
}

#[track_caller]
fn agree(what: &str, [coarse, fine, ours]: [f64; 3]) {
    let own = (fine - coarse).abs();
    assert!(own <= ENGINE_ERROR * fine, "{what}: the engine gives {coarse} and {fine}");
    assert!((ours - fine).abs() <= own + AGREEMENT * fine, "{what}: {ours}, engine {coarse} and {fine}");
}

/// The same by the shock solver: the truck rolls on and touches down.
fn ours(truck: &Parameters, height_m: f64) -> Fall {
    let event = Event { drop_height_m: height_m, duration_s: Some(DURATION_S), ..Event::usual(Case::LandingCoasting) };
    let points = (DURATION_S / STEP_S).round() as u32 + 1;
    let outcome = simulate_with(truck, &event, &Options { trace_points: points, ..Options::default() }).unwrap();
    let highest = outcome.trace.iter().max_by(|a, b| a.ground_force_n.total_cmp(&b.ground_force_n)).unwrap();
    let travel_m =
        outcome.trace.iter().map(|point| point.unsprung_height_m - point.sprung_height_m).fold(0.0, f64::max);
    Fall { peak_n: outcome.peak_ground_force_n, peak_s: highest.time_s, travel_m }
}
