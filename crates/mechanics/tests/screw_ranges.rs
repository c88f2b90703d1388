//! Over the whole range of joints: a number or a reason, never "not a number", and every trend its own way.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::screw::{
    Clamp, Friction, HeadMaterial, Joint, JointParameters, Strength, StrengthEnd, THREADS, ThreadMaterial, Weakest,
};
use toothsayer_quantity::{Force, Length, Pressure, Torque};

/// Joints tried; enough that each kind of limit below is met often.
const JOINTS: u32 = 5000;

/// The i-th point of an additive (Kronecker) sequence: evenly spread and the same in every run.
fn spread(i: u32, dimension: usize, low: f64, high: f64) -> f64 {
    const PRIMES: [f64; 12] = [2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0, 31.0, 37.0];
    low + (high - low) * (f64::from(i) * PRIMES[dimension].sqrt()).fract()
}

/// From one end of a range to the other by factors.
fn spread_by_factor(i: u32, dimension: usize, low: f64, high: f64) -> f64 {
    spread(i, dimension, low.ln(), high.ln()).exp()
}

fn any_parameters(i: u32) -> JointParameters {
    let strength = |dimension| {
        let nominal = Pressure::mpa(spread_by_factor(i, dimension, 5.1, 1999.0));
        Strength::with_weak_end(nominal, nominal * spread(i, dimension, 0.2, 1.0)).unwrap()
    };
    JointParameters {
        thread: &THREADS[i as usize % THREADS.len()],
        length: Length::mm(spread_by_factor(i, 0, 1.0, 199.0)),
        clamped: Length::mm(spread_by_factor(i, 1, 0.2, 149.0)),
        hole_depth: Length::mm(spread(i, 2, 0.0, 60.0)),
        washer: spread(i, 3, 0.0, 1.0) < 0.5,
        proof_stress: Pressure::mpa(spread(i, 4, 20.0, 2000.0)),
        thread_in: ThreadMaterial {
            shear: strength(5),
            modulus: Pressure::mpa(spread_by_factor(i, 6, 100.0, 699_000.0)),
            creep_exponent: spread(i, 7, 0.0, 0.5),
            plastic: spread(i, 8, 0.0, 1.0) < 0.5,
        },
        under_head: HeadMaterial {
            bearing: strength(9),
            modulus: Pressure::mpa(spread_by_factor(i, 10, 100.0, 699_000.0)),
            creep_exponent: spread(i, 11, 0.0, 0.5),
        },
        removals: i % 20,
    }
}

/// One number of a joint put out of its range.
type Change = fn(&mut JointParameters);

#[track_caller]
fn check(what: &str, i: u32, values: &[f64]) {
    assert!(values.iter().all(|value| value.is_finite() && *value >= 0.0), "{what} of joint {i}: {values:?}");
}

#[test]
fn every_figure_of_every_joint_is_a_number_of_zero_or_more() {
    let mut met = [0_u32; 5];
    for i in 0..JOINTS {
        let joint = Joint::new(any_parameters(i)).unwrap();
        let weakest = joint.weakest(StrengthEnd::Nominal);
        met[weakest as usize] += 1;
        let preload = joint.preload(Torque::n_m(spread(i, 0, 0.0, 200.0)), Friction::NOMINAL).unwrap();
        assert_eq!(weakest.clamps(), preload > Force::ZERO, "joint {i}");
        check(
            "embedding",
            i,
            &[joint.embedding_loss().to_n(), joint.engagement().to_mm(), joint.torque_to_strip().to_n_m()],
        );
        check("resilience", i, &[joint.screw_resilience_mm_per_n(), joint.part_resilience_mm_per_n()]);
        for runs in [0.0, 0.3, 1.0, 50.0, 10_000.0] {
            check("fresh clamp", i, &[Clamp::fresh(&joint, preload).unwrap().after(runs).unwrap().to_n()]);
            let again = Clamp::retightened(&joint, preload, spread(i, 1, 0.0, 10_000.0)).unwrap();
            check("re-tightened clamp", i, &[again.after(runs).unwrap().to_n()]);
        }
        let window = joint.window(Force::n(spread(i, 2, 0.0, 5000.0))).unwrap();
        check("window", i, &[window.low.to_n_m(), window.high.to_n_m(), window.low_if_dry.to_n_m()]);
        assert_eq!(window.is_open(), window.openings.is_empty(), "joint {i}: {window:?}");
        assert!(window.is_open() <= window.limited_by.clamps(), "joint {i}");
    }
    for (kind, count) in [Weakest::Screw, Weakest::Head, Weakest::Thread, Weakest::Bottoms, Weakest::NoEngagement]
        .into_iter()
        .map(|kind| (kind, met[kind as usize]))
    {
        assert!(count > JOINTS / 100, "only {count} joints are limited by {kind}");
    }
}

#[test]
fn stronger_materials_never_bear_less_and_weak_ends_never_more() {
    for i in 0..JOINTS {
        let parameters = any_parameters(i);
        let joint = Joint::new(parameters).unwrap();
        let (nominal, weak) = (joint.capacities(StrengthEnd::Nominal), joint.capacities(StrengthEnd::Weak));
        assert!(weak.head <= nominal.head && weak.thread <= nominal.thread && weak.screw == nominal.screw, "joint {i}");
        let proof_stress = (parameters.proof_stress * 1.1).min(Pressure::mpa(2000.0));
        let stronger = Joint::new(JointParameters { proof_stress, ..parameters }).unwrap();
        assert!(stronger.torque_to_strip() >= joint.torque_to_strip(), "joint {i}");
    }
}

#[test]
fn a_longer_screw_engages_more_until_it_bottoms_and_then_clamps_nothing() {
    for i in 0..JOINTS / 10 {
        let parameters = any_parameters(i);
        let mut before = Length::ZERO;
        let mut bottomed = false;
        for length_mm in 1..=200 {
            let joint = Joint::new(JointParameters { length: Length::mm(f64::from(length_mm)), ..parameters }).unwrap();
            let weakest = joint.weakest(StrengthEnd::Nominal);
            assert!(joint.engagement() >= before && joint.engagement() <= parameters.hole_depth, "joint {i}");
            assert!(!bottomed || !weakest.clamps(), "joint {i} at {length_mm} mm clamps again");
            assert_eq!(weakest == Weakest::NoEngagement, joint.engagement() <= Length::ZERO, "joint {i}");
            bottomed |= weakest == Weakest::Bottoms;
            before = joint.engagement();
        }
    }
}

#[test]
fn stiffer_parts_lose_more_and_longer_grips_less() {
    for i in 0..JOINTS {
        let parameters = any_parameters(i);
        let loss_n = |parameters| Joint::new(parameters).unwrap().embedding_loss().to_n();
        let mut stiffer = parameters;
        stiffer.under_head.modulus = (parameters.under_head.modulus * 1.2).min(Pressure::mpa(700_000.0));
        assert!(loss_n(stiffer) >= loss_n(parameters), "joint {i}");
        let thicker = JointParameters { clamped: parameters.clamped + Length::mm(1.0), ..parameters };
        assert!(loss_n(thicker) < loss_n(parameters), "joint {i}");
    }
}

#[test]
fn every_number_outside_its_range_is_refused_by_name() {
    let base = any_parameters(1);
    let refused: [(&str, Change); 10] = [
        ("screw length", |p| p.length = Length::mm(0.5)),
        ("clamped length", |p| p.clamped = Length::ZERO),
        ("hole depth", |p| p.hole_depth = Length::mm(-1.0)),
        ("proof stress", |p| p.proof_stress = Pressure::mpa(10.0)),
        ("number of removals", |p| p.removals = 101),
        ("modulus of elasticity", |p| p.thread_in.modulus = Pressure::ZERO),
        ("modulus of elasticity", |p| p.under_head.modulus = Pressure::mpa(f64::NAN)),
        ("creep exponent", |p| p.thread_in.creep_exponent = 0.6),
        ("creep exponent", |p| p.under_head.creep_exponent = -0.1),
        ("screw length", |p| p.length = Length::mm(f64::NAN)),
    ];
    for (what, change) in refused {
        let mut parameters = base;
        change(&mut parameters);
        let message = Joint::new(parameters).unwrap_err().to_string();
        assert!(message.starts_with(&format!("{what} is ")) && message.contains("outside"), "{message}");
    }
    let (nominal, weak) = (Pressure::mpa(100.0), Pressure::mpa(120.0));
    assert_eq!(
        Strength::with_weak_end(nominal, weak).unwrap_err().to_string(),
        "weak end of the strength is 120 MPa, above the nominal 100 MPa"
    );
    let joint = Joint::new(base).unwrap();
    assert!(joint.preload(Torque::n_m(-1.0), Friction::NOMINAL).is_err());
    assert!(joint.window(Force::n(f64::NAN)).is_err() && Clamp::fresh(&joint, Force::n(-1.0)).is_err());
}
