//! Torque and preload against published assembly tables and nut factors.

use toothsayer_mechanics::screw::{Friction, Thread, TorqueLaw};
use toothsayer_quantity::{Force, Length, Torque};

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn law(diameter_mm: f64, pitch_mm: f64, head_friction_mm: f64) -> TorqueLaw {
    TorqueLaw {
        pitch: Length::mm(pitch_mm),
        pitch_diameter: Length::mm(diameter_mm - 0.75 * pitch_mm * 3.0_f64.sqrt() / 2.0),
        head_friction_diameter: Length::mm(head_friction_mm),
    }
}

fn friction(coefficient: f64) -> Friction {
    Friction::same(coefficient).unwrap_or_else(|error| unreachable!("{error}"))
}

fn torque_n_m(law: &TorqueLaw, preload_kn: f64, coefficient: f64) -> f64 {
    law.torque(Force::kn(preload_kn), friction(coefficient)).to_n_m()
}

// Handbook of screws in plastic (from memory): T = F (P/2π + f r/cos 30° + f_h r_h) with r = d2/2, r_h = Dkm/2.
#[test]
fn the_law_is_the_sharp_thread_friction_formula() {
    for diameter_mm in [2.5, 3.0, 4.0, 5.0] {
        let law = law(diameter_mm, 0.18 * diameter_mm, 1.4 * diameter_mm);
        for coefficient in [0.05, 0.14, 0.3] {
            let thread_mm = law.pitch_diameter.to_mm() / 2.0 / 30.0_f64.to_radians().cos();
            let lever_mm = law.pitch.to_mm() / std::f64::consts::TAU
                + coefficient * (thread_mm + law.head_friction_diameter.to_mm() / 2.0);
            check(torque_n_m(&law, 1.0, coefficient) / lever_mm, 1.0, 1.5e-3);
        }
    }
}

#[test]
fn preload_is_the_torque_backwards_and_falls_with_friction() {
    for thread in toothsayer_mechanics::screw::THREADS {
        let law = TorqueLaw::of(thread);
        let mut before_n = f64::INFINITY;
        for hundredths in 2..=60 {
            let friction = friction(f64::from(hundredths) / 100.0);
            let preload = law.preload(Torque::n_m(1.0), friction);
            check(law.torque(preload, friction).to_n_m(), 1.0, 1e-12);
            assert!(preload.to_n() < before_n, "{} at {hundredths}", thread.name);
            before_n = preload.to_n();
        }
    }
}

// VDI 2230, table A5, friction class B: 0.08 to 0.16.
#[test]
fn the_named_frictions_stand_in_their_order() {
    let law = Thread::find("M4").map(TorqueLaw::of).unwrap_or_else(|error| unreachable!("{error}"));
    let torque = |friction| law.torque(Force::kn(1.0), friction).to_n_m();
    for (named, coefficient) in
        [(Friction::LOW, 0.08), (Friction::NOMINAL, 0.14), (Friction::HIGH, 0.16), (Friction::DRY, 0.25)]
    {
        check(torque(named), torque(friction(coefficient)), 1e-15);
    }
}

#[test]
fn friction_outside_its_range_is_refused_by_name() {
    for coefficient in [0.0, 0.019, 0.61, -0.1, f64::NAN, f64::INFINITY] {
        let message = Friction::same(coefficient).map_err(|error| error.to_string());
        assert_eq!(message, Err(format!("friction coefficient is {coefficient}, outside 0.02 to 0.6")));
    }
}
