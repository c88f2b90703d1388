//! Root strength against ISO 6336-3, textbook tables and the Lewis table.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

mod gear_fixture;

use gear_fixture::{check, gear, spec};
use std::f64::consts::PI;

use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    Gear, GearError, LewisLoad, Member, Pair, PairSpec, Rack, Rim, RootDuty, RootLoad, ToothFinish,
    centre_distance_for_contact_ratio, deep_tooth_factor, lewis_form_factor, lewis_stress, rim_factor, root_strength,
    root_stress, tooth_root, velocity_factor,
};
use toothsayer_mechanics::material::gear_material;
use toothsayer_quantity::{Force, Hardness, Length, Speed};

/// The pair opened until `contact_ratio` is left.
fn opened_to(spec: PairSpec, contact_ratio: f64) -> Pair {
    let centre_distance = centre_distance_for_contact_ratio(&spec, contact_ratio).unwrap().unwrap();
    Pair::measured(PairSpec { centre_distance, ..spec }).unwrap()
}

// The module scales lengths and leaves factors alone; thinning moves the flanks and not the root.
#[test]
fn factors_do_not_depend_on_module_or_thinning() {
    let unit = tooth_root(&Pair::new(spec(19, 53)).unwrap(), Member::Pinion).unwrap();
    let large = PairSpec { module: Length::mm(1.5), centre_distance: Length::mm(54.0), ..spec(19, 53) };
    let thin = Gear { thinning: Length::mm(0.1), ..gear(19, 0.0) };
    for other in [large, PairSpec { pinion: thin, ..spec(19, 53) }] {
        let root = tooth_root(&Pair::new(other).unwrap(), Member::Pinion).unwrap();
        check(root.form_factor, unit.form_factor, 1e-12);
        check(root.stress_factor, unit.stress_factor, 1e-12);
        check(root.root_chord / other.module, unit.root_chord.to_mm(), 1e-12);
    }
}

// At a contact ratio of 1 the outer point of single contact is the tip, from both sides.
#[test]
fn the_load_moves_to_the_tip_without_a_jump() {
    let form = |eps| tooth_root(&opened_to(spec(19, 53), eps), Member::Pinion).unwrap().form_factor;
    check(form(1.0 + 1e-9), form(1.0 - 1e-9), 1e-7);
    check(form(0.95), form(0.5), 1e-12);
    assert!(form(1.0) > 1.5 * form(1.6), "a ridden-over mesh bends the tooth far more");
}

#[test]
fn the_form_factor_falls_with_teeth_and_never_is_no_number() {
    for shift in [-0.3, 0.0, 0.3, 0.6] {
        for eps in [0.8, 1.2] {
            let mut last = f64::INFINITY;
            for teeth in 14..200 {
                let pinion = gear(teeth, shift);
                let root = tooth_root(&opened_to(PairSpec { pinion, ..spec(teeth, 53) }, eps), Member::Pinion).unwrap();
                assert!(root.form_factor.is_finite() && root.stress_factor > 1.0, "{teeth} {shift}");
                if eps < 1.0 && shift < 0.5 {
                    assert!(root.form_factor < last, "{teeth} teeth, shift {shift}");
                    last = root.form_factor;
                }
            }
        }
    }
}

#[test]
fn few_and_oddly_shifted_teeth_give_a_number_or_a_reason() {
    for teeth in 5..40 {
        for tenth in -10..=15 {
            let odd = PairSpec { pinion: gear(teeth, f64::from(tenth) / 10.0), ..spec(teeth, 53) };
            let Ok(pair) = Pair::measured(odd) else { continue };
            if let Ok(root) = tooth_root(&pair, Member::Pinion) {
                assert!(root.form_factor > 0.0 && root.stress_factor.is_finite(), "{teeth} {tenth}");
            }
        }
    }
}

#[test]
fn contact_ratios_beyond_the_standard_are_refused() {
    let rack = Rack { addendum: 1.5, dedendum: 1.75, root_radius: 0.2 };
    let pair = Pair::new(PairSpec { rack, ..spec(60, 120) }).unwrap();
    assert!(pair.contact_ratio() > 2.5);
    let Err(Error::Range(range)) = tooth_root(&pair, Member::Pinion) else { panic!("out of range") };
    assert_eq!(range.what, "contact ratio for tooth strength");
}

#[test]
fn stress_is_the_nominal_one_times_its_factors() {
    let pair = Pair::new(spec(17, 52)).unwrap();
    let root = tooth_root(&pair, Member::Pinion).unwrap();
    let load = RootLoad {
        normal_force: Force::n(1000.0 / 20f64.to_radians().cos()),
        face_width: Length::mm(10.0),
        k_f_beta: 1.25,
        rim_and_depth: 1.0,
    };
    // 1000 N over 10 mm times 1 mm is 100 N/mm2.
    let expected = 100.0 * 1.68741 * 1.77122 * 1.25;
    check(root_stress(&pair, &root, &load).unwrap().to_mpa(), expected, 5e-3);
    for bad in [
        RootLoad { face_width: Length::ZERO, ..load },
        RootLoad { k_f_beta: 0.9, ..load },
        RootLoad { normal_force: Force::n(f64::NAN), ..load },
        RootLoad { rim_and_depth: f64::NAN, ..load },
    ] {
        assert!(root_stress(&pair, &root, &bad).is_err());
    }
}

// sigmaFG = sigmaFlim YST YNT YM; 300 HV through-hardened alloy MQ: 0.425*300 + 187 = 314.5 (ISO 6336-5, from memory).
#[test]
fn strength_follows_the_line_from_static_to_endurance() {
    let alloy = gear_material("through-hardened-alloy").unwrap();
    let strength = |cycles, both_flanks| {
        let duty = RootDuty { hardness: Hardness::hv(300.0), cycles, both_flanks };
        root_strength(alloy, &duty).unwrap().to_mpa()
    };
    check(strength(1.0, false), 314.5 * 2.0 * 2.5, 1e-9);
    check(strength(1e4, false), 314.5 * 2.0 * 2.5, 1e-9);
    check(strength(1e6, false), 314.5 * 2.0 * 1.1930, 0.05);
    check(strength(3e6, true), 314.5 * 2.0 * 0.7, 1e-9);
}

// ISO 6336-3, clauses 9 and 10, from memory: thick rims count nothing, the thin one's factor joins at 1.2 within 0.01.
#[test]
fn thin_rims_raise_and_fine_deep_teeth_lower_the_stress() {
    let rim = |ratio| rim_factor(Rim { thickness: Length::mm(ratio), tooth_height: Length::mm(1.0) });
    check(rim(1.5).unwrap(), 1.0, 0.0);
    check(rim(1.1999).unwrap(), 1.0, 1e-2);
    check(rim(0.6).unwrap(), 1.6 * (2.242f64 / 0.6).ln(), 1e-12);
    assert!(rim(0.4).is_err() && rim(f64::NAN).is_err());
    check(deep_tooth_factor(2.3, false).unwrap(), 1.0, 0.0);
    check(deep_tooth_factor(2.3, true).unwrap(), 2.366 - 0.666 * 2.3, 1e-12);
    check(deep_tooth_factor(2.05, true).unwrap(), 1.0, 0.0);
    assert!(deep_tooth_factor(2.6, true).is_err());
}

// Shigley, example 14-1 (from memory): pitch 8/in, face 1.5 in, 16 teeth, 1200 rpm, allowed 30/3 kpsi, cut teeth:
// V = 628 ft/min, Kv = 1.52, Wt = 365 lbf.
#[test]
fn shigleys_lewis_example() {
    const LBF_N: f64 = 4.448_221_615;
    const PSI_PA: f64 = 6_894.757_293;
    let speed = Speed::m_per_s(PI * 0.0254 * 2.0 * 1200.0 / 60.0);
    check(speed.to_m_per_s() / 0.3048 * 60.0, 628.0, 0.5);
    let kv = velocity_factor(ToothFinish::Cut, speed).unwrap();
    check(kv, 1.52, 5e-3);
    let load = LewisLoad {
        tangential_force: Force::n(364.3 * LBF_N),
        face_width: Length::inch(1.5),
        module: Length::inch(1.0 / 8.0),
        teeth: 16,
        velocity_factor: kv,
    };
    // The allowed 10 000 psi comes back within the rounding of the force.
    check(lewis_stress(&load).unwrap().to_pa() / PSI_PA, 10_000.0, 10.0);
}

// Shigley, table 14-2 (from memory): interpolation stays between rows; a curve fit elsewhere gives 0.3192 at 20 teeth.
#[test]
fn the_lewis_table_is_read_and_not_fitted() {
    check(lewis_form_factor(20).unwrap(), 0.322, 0.0);
    check(lewis_form_factor(23).unwrap(), 0.334, 1e-12);
    check(lewis_form_factor(600).unwrap(), 0.4785, 1e-12);
    assert!(lewis_form_factor(11).is_err());
}

// Shigley, equations 14-4 and 14-6: constants in ft/min 600, 1200, 50, 78.
#[test]
fn velocity_factors_agree_with_their_foot_and_minute_form() {
    let v_ft_per_min: f64 = 1500.0;
    let speed = Speed::m_per_s(v_ft_per_min * 0.3048 / 60.0);
    for (finish, expected) in [
        (ToothFinish::Cast, (600.0 + v_ft_per_min) / 600.0),
        (ToothFinish::Cut, (1200.0 + v_ft_per_min) / 1200.0),
        (ToothFinish::Hobbed, (50.0 + v_ft_per_min.sqrt()) / 50.0),
        (ToothFinish::Ground, ((78.0 + v_ft_per_min.sqrt()) / 78.0).sqrt()),
    ] {
        check(velocity_factor(finish, speed).unwrap(), expected, 2e-3);
    }
}

// Both methods see a cantilever loaded at its tip: Lewis' 1/Y is YF within a fifth, whatever the tooth count.
#[test]
fn lewis_and_iso_agree_on_the_shape_of_a_tip_loaded_tooth() {
    for teeth in [17, 19, 30, 53, 100] {
        let root = tooth_root(&opened_to(spec(teeth, 53), 0.9), Member::Pinion).unwrap();
        let ratio = root.form_factor * lewis_form_factor(teeth).unwrap();
        assert!((0.8..1.2).contains(&ratio), "{teeth} teeth: {ratio}");
    }
}

#[test]
fn a_tooth_without_a_root_tangent_says_why() {
    let why = GearError::NoRootTangent { teeth: 5, shift: 1.5, why: "the root chord vanishes" };
    assert_eq!(why.to_string(), "no 30 degree tangent on the root of 5 teeth with shift 1.5: the root chord vanishes");
}
