//! Slip of the motor's joints: shear on the worst screw, overturning, and the sliding block.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::screw::{ForceSample, Overturning, Pattern, SLIP_FRICTION, ScrewError, Slide, SlidingBlock};
use toothsayer_quantity::{Angle, Force, Length, Mass, Time, Torque};

/// Doubles over a handful of operations, relative.
const ROUNDING: f64 = 1e-9;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn pattern(screws: u32, circle_mm: f64) -> Pattern {
    Pattern::new(screws, Length::mm(circle_mm)).unwrap()
}

// Elastic bolt group about its centroid, summed as vectors over every direction of the force.
#[test]
fn the_worst_screw_is_the_one_where_direct_and_turning_shear_point_the_same_way() {
    const DIRECTIONS: u32 = 720;
    for screws in [1_u32, 2, 3, 4, 6] {
        let (n, radius_mm, force_n, torque_n_mm) = (f64::from(screws), 12.5, 900.0, 3000.0);
        let mut worst_n = 0.0_f64;
        for direction in 0..DIRECTIONS {
            let toward = f64::from(direction) / f64::from(DIRECTIONS) * std::f64::consts::TAU;
            for screw in 0..screws {
                let place = f64::from(screw) / n * std::f64::consts::TAU;
                let turning_n = torque_n_mm / (n * radius_mm);
                let x_n = force_n / n * toward.cos() - turning_n * place.sin();
                let y_n = force_n / n * toward.sin() + turning_n * place.cos();
                worst_n = worst_n.max(x_n.hypot(y_n));
            }
        }
        let got = pattern(screws, 25.0).worst_shear(Force::n(force_n), Torque::n_mm(torque_n_mm)).unwrap();
        check(got.to_n() / worst_n, 1.0, 1e-6);
    }
}

#[test]
fn the_margin_is_friction_over_demand_and_the_needed_clamp_makes_it_one() {
    let demand = Force::n(320.0);
    let needed = Pattern::needed_clamp(demand, SLIP_FRICTION).unwrap();
    check(needed.to_n(), 2000.0, ROUNDING * 2000.0);
    check(Pattern::margin(needed, demand, SLIP_FRICTION).unwrap().unwrap(), 1.0, ROUNDING);
    check(Pattern::margin(needed * 0.5, demand, SLIP_FRICTION).unwrap().unwrap(), 0.5, ROUNDING);
    assert_eq!(Pattern::margin(needed, Force::ZERO, SLIP_FRICTION), Ok(None));
    assert_eq!(Pattern::margin(Force::ZERO, demand, SLIP_FRICTION), Ok(Some(0.0)));
}

// Rigid plate on springs: shift of the worst screw M y/sum y², searched over the tilting axis.
#[test]
fn overturning_shifts_clamp_like_a_rigid_plate_on_its_screws() {
    const AXES: u32 = 7200;
    let load = Overturning { normal_force: Force::n(900.0), overhang: Length::mm(18.0), mount: Length::mm(4.0) };
    for screws in [3_u32, 4, 6] {
        let (moment_n_mm, radius_mm) = (900.0 * 22.0, 12.5);
        let shift_n = |axis: f64| {
            let place = |i: u32| radius_mm * (f64::from(i) / f64::from(screws) * std::f64::consts::TAU - axis).cos();
            let squares: f64 = (0..screws).map(|i| place(i).powi(2)).sum();
            (0..screws).map(|i| moment_n_mm * place(i).abs() / squares).fold(0.0, f64::max)
        };
        let axes = (0..AXES).map(|i| f64::from(i) / f64::from(AXES) * std::f64::consts::TAU);
        let worst_n = axes.map(shift_n).fold(0.0, f64::max);
        let got_n = pattern(screws, 25.0).clamp_shift(&load).unwrap().unwrap().to_n();
        check(got_n / worst_n, 1.0, 1e-6);
    }
    check(pattern(2, 25.0).clamp_shift(&load).unwrap().unwrap().to_n(), 900.0 * 22.0 / 25.0, ROUNDING * 1e3);
    assert_eq!(pattern(1, 25.0).clamp_shift(&load), Ok(None));
}

const BLOCK: SlidingBlock = SlidingBlock {
    mass: Mass::kg(0.5),
    pressure_angle: Angle::deg(30.0),
    friction: Force::n(300.0),
    clearance: Length::mm(10.0),
};

fn trace(samples: &[(f64, f64)]) -> Vec<ForceSample> {
    samples.iter().map(|&(ms, n)| ForceSample { time: Time::ms(ms), normal_force: Force::n(n) }).collect()
}

fn slide(block: &SlidingBlock, samples: &[(f64, f64)]) -> Slide {
    block.slide(&trace(samples)).unwrap()
}

// Constant push P for t1, then none: v = (P - R) t1/m, stops after v m/R; x = (P - R) t1²/(2m) + m v²/(2R).
#[test]
fn a_constant_push_that_ends_slides_as_far_as_its_impulse_carries() {
    // 1000 N at 30 deg push with 500 N against 300: 400 m/s² for 1 ms, then -600 m/s²
    let got = slide(&BLOCK, &[(0.0, 1000.0), (1.0, 1000.0), (1.0 + 1e-6, 0.0), (5.0, 0.0)]);
    let speed_m_s = 400.0 * 1e-3;
    let expected_mm = (400.0 * 1e-6 / 2.0 + speed_m_s * speed_m_s / (2.0 * 600.0)) * 1e3;
    check(got.travel.to_mm(), expected_mm, 1e-6);
    check(got.first_moved.unwrap().to_ms(), 0.0, 1e-12);
    assert!(!got.stopped_by_hole);
}

// Push rises in line: it wins at R, then a = s t, so x = s t³/6 until the trace ends.
#[test]
fn a_rising_push_starts_when_it_passes_friction_and_moves_with_the_cube_of_time() {
    // 0 to 1000 N in 10 ms: push 50 N/ms, wins at 6 ms, slope 100 m/s² a ms
    let got = slide(&BLOCK, &[(0.0, 0.0), (10.0, 1000.0)]);
    check(got.first_moved.unwrap().to_ms(), 6.0, 1e-9);
    let expected_m = 1e5 * 4e-3_f64.powi(3) / 6.0;
    check(got.travel.to_m(), expected_m, 1e-12);
}

#[test]
fn what_friction_holds_does_not_move() {
    let held = slide(&BLOCK, &[(0.0, 0.0), (5.0, 599.9), (10.0, -599.9), (20.0, 0.0)]);
    assert_eq!(held, Slide { travel: Length::ZERO, first_moved: None, stopped_by_hole: false });
    assert_eq!(slide(&BLOCK, &[]).travel, Length::ZERO);
    assert_eq!(slide(&BLOCK, &[(0.0, 5000.0)]).travel, Length::ZERO);
}

#[test]
fn the_other_flank_pushes_away_just_the_same() {
    let drive = [(0.0, 0.0), (2.0, 1500.0), (4.0, 0.0), (8.0, 0.0)];
    let coast = drive.map(|(ms, n)| (ms, -n));
    assert_eq!(slide(&BLOCK, &drive), slide(&BLOCK, &coast));
    // through zero: two triangles of half the time each, as if drawn sample by sample
    let through = slide(&BLOCK, &[(0.0, 2000.0), (2.0, -2000.0), (9.0, 0.0)]);
    let drawn = slide(&BLOCK, &[(0.0, 2000.0), (1.0, 0.0), (2.0, 2000.0), (9.0, 0.0)]);
    check(through.travel.to_mm(), drawn.travel.to_mm(), 1e-9);
    assert!(through.travel > Length::ZERO);
}

#[test]
fn the_hole_stops_the_slide_and_it_stays_there() {
    let block = SlidingBlock { clearance: Length::mm(0.25), ..BLOCK };
    let long = slide(&block, &[(0.0, 1000.0), (50.0, 1000.0), (60.0, 0.0)]);
    assert!(long.stopped_by_hole);
    check(long.travel.to_mm(), 0.25, 1e-12);
}

/// Travel by small explicit steps with the same laws.
fn stepped_mm(block: &SlidingBlock, samples: &[(f64, f64)]) -> f64 {
    const STEP_S: f64 = 2e-8;
    let (friction, mass_kg) = (block.friction.to_n(), block.mass.to_kg());
    let (mut speed, mut travel_m) = (0.0_f64, 0.0);
    for pair in samples.windows(2) {
        let ((from_ms, from_n), (to_ms, to_n)) = (pair[0], pair[1]);
        let steps = ((to_ms - from_ms) * 1e-3 / STEP_S).round() as u32;
        for i in 0..steps {
            let force_n = from_n + (to_n - from_n) * (f64::from(i) + 0.5) / f64::from(steps);
            let push = force_n.abs() * block.pressure_angle.to_rad().sin() - friction;
            let next = (speed + push / mass_kg * STEP_S).max(0.0);
            travel_m += (speed + next) / 2.0 * STEP_S;
            speed = next;
        }
    }
    travel_m * 1e3
}

// The closed pieces against a plain time-stepping of m x'' = |Fn| sin aw - R.
#[test]
fn a_ringing_shock_slides_as_far_as_small_steps_say() {
    let ringing: Vec<(f64, f64)> =
        (0..=60).map(|i| f64::from(i) * 0.1).map(|ms| (ms, 2600.0 * (-ms / 2.5).exp() * (ms * 2.9).sin())).collect();
    for friction_n in [50.0, 200.0, 500.0, 900.0] {
        let block = SlidingBlock { friction: Force::n(friction_n), mass: Mass::kg(2.0), ..BLOCK };
        let (got_mm, expected_mm) = (slide(&block, &ringing).travel.to_mm(), stepped_mm(&block, &ringing));
        assert!(got_mm > 0.0, "{friction_n} N");
        check(got_mm / expected_mm, 1.0, 1e-3);
    }
}

#[test]
fn more_clamp_never_slides_farther() {
    let shock = [(0.0, 0.0), (1.0, 2500.0), (2.0, -1500.0), (3.0, 1000.0), (5.0, 0.0)];
    let travels: Vec<Length> = (0..150)
        .map(|step| SlidingBlock { friction: Force::n(f64::from(step) * 10.0), ..BLOCK })
        .map(|block| slide(&block, &shock).travel)
        .collect();
    assert!(travels.windows(2).all(|pair| pair[1] <= pair[0]), "{travels:?}");
    assert!(travels.first() > travels.last() && travels.last() == Some(&Length::ZERO));
}

#[test]
fn traces_and_values_outside_their_range_are_refused_by_name() {
    let back = BLOCK.slide(&trace(&[(0.0, 0.0), (2.0, 1.0), (1.0, 0.0)])).unwrap_err();
    assert!(matches!(back, ScrewError::TraceNotRising { index: 2, .. }), "{back:?}");
    assert!(back.to_string().ends_with("at sample 2, where times must rise"), "{back}");
    let refused = |block: SlidingBlock| block.slide(&[]).unwrap_err().to_string();
    assert_eq!(
        refused(SlidingBlock { mass: Mass::ZERO, ..BLOCK }),
        "mass of the sliding part is 0 kg, outside 0.001 to 50 kg"
    );
    assert!(BLOCK.slide(&trace(&[(0.0, f64::NAN)])).is_err() && BLOCK.slide(&trace(&[(f64::NAN, 0.0)])).is_err());
    let error = Pattern::new(0, Length::mm(25.0)).unwrap_err().to_string();
    assert_eq!(error, "number of screws is 0, outside 1 to 24");
    assert!(Pattern::margin(Force::n(1.0), Force::n(1.0), 0.0).is_err());
    assert!(pattern(2, 25.0).worst_shear(Force::n(-1.0), Torque::ZERO).is_err());
}
