//! Materials of joints and screw classes against published tables.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::material::{joint_material, joint_materials, screw_class, screw_classes};
use toothsayer_quantity::Length;

/// Stress areas of ISO 898-1 in mm2: M3, M4, M5, M6.
const STRESS_AREAS_MM2: [(f64, f64); 4] = [(3.0, 5.03), (4.0, 8.78), (5.0, 14.2), (6.0, 20.1)];

/// One unit of the third digit, as the tables cut M6 8.8 from 11 658 N to 11 600 N.
const THREE_DIGITS: f64 = 6e-3;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn area_mm2(size_mm: f64) -> f64 {
    STRESS_AREAS_MM2.iter().find(|row| row.0 == size_mm).unwrap().1
}

// ISO 898-1, proof loads in N as two published tables print them, rounded to three digits.
#[test]
fn proof_stress_times_stress_area_is_the_published_proof_load() {
    for (size_mm, class, printed_n) in [
        (3.0, "8.8", 2920.0),
        (3.0, "10.9", 4180.0),
        (3.0, "12.9", 4880.0),
        (5.0, "8.8", 8230.0),
        (5.0, "10.9", 11800.0),
        (5.0, "12.9", 13800.0),
        (6.0, "8.8", 11600.0),
        (6.0, "10.9", 16700.0),
        (6.0, "12.9", 19500.0),
    ] {
        let proof = screw_class(class).unwrap().proof_stress(Length::mm(size_mm));
        check(proof.to_mpa() * area_mm2(size_mm) / printed_n, 1.0, THREE_DIGITS);
    }
}

// ISO 898-1, least tensile loads in N (three published tables; one of them misprints M5 10.9's neighbour as 91130).
#[test]
fn tensile_strength_times_stress_area_is_the_published_tensile_load() {
    for (size_mm, printed_n) in [
        (3.0, [2110.0, 4020.0, 5230.0, 6140.0]),
        (4.0, [3690.0, 7020.0, 9130.0, 10700.0]),
        (5.0, [5960.0, 11350.0, 14800.0, 17300.0]),
        (6.0, [8440.0, 16100.0, 20900.0, 24500.0]),
    ] {
        for (class, printed_n) in ["4.8", "8.8", "10.9", "12.9"].into_iter().zip(printed_n) {
            let tensile = screw_class(class).unwrap().tensile_strength;
            check(tensile.to_mpa() * area_mm2(size_mm) / printed_n, 1.0, THREE_DIGITS);
        }
    }
    let m4 = screw_class("10.9").unwrap().tensile_strength.to_mpa() * area_mm2(4.0);
    assert!(m4 < 10_000.0, "91130 N is a misprint");
}

// VDI 2230 takes Rp0.2 = 640, 940, 1100 N/mm2 for small screws.
#[test]
fn yield_stresses_of_the_high_classes() {
    for (class, expected) in [("8.8", 640.0), ("10.9", 940.0), ("12.9", 1100.0)] {
        check(screw_class(class).unwrap().yield_stress.to_mpa(), expected, 1e-9);
    }
}

#[test]
fn every_screw_class_is_sane_and_has_a_source() {
    let classes = screw_classes().unwrap();
    assert_eq!(classes.len(), 11);
    for class in classes {
        let (small, large) = (class.proof_stress(Length::mm(4.0)), class.proof_stress(Length::mm(20.0)));
        assert!(small <= large && small <= class.yield_stress, "{}", class.name);
        assert!(class.yield_stress < class.tensile_strength, "{}", class.name);
        assert!(class.source.len() > 10, "{}", class.name);
        let Some((tenth, ratio)) = class.name.split_once('.') else { continue };
        // The name says a hundredth of the nominal tensile strength and ten times the yield ratio.
        let nominal = 100.0 * tenth.parse::<f64>().unwrap();
        let nominal_yield = nominal * ratio.parse::<f64>().unwrap() / 10.0;
        assert!((1.0..1.06).contains(&(class.tensile_strength.to_mpa() / nominal)), "{}", class.name);
        assert!((1.0..1.07).contains(&(class.yield_stress.to_mpa() / nominal_yield)), "{}", class.name);
    }
    check(screw_class("8.8").unwrap().proof_stress(Length::mm(20.0)).to_mpa(), 600.0, 1e-9);
    let error = screw_class("12,9").unwrap_err().to_string();
    assert!(error.contains("did you mean \"12.9\""), "{error}");
}

// Working values of the trade: common practice, no source.
#[test]
fn joint_materials_carry_the_trades_working_values() {
    for (name, shear, pressure, creep, modulus_gpa) in [
        ("aluminium", 200.0, 260.0, 0.0, 70.0),
        ("steel", 350.0, 500.0, 0.0, 205.0),
        ("pa66", 50.0, 70.0, 0.05, 2.0),
        ("pa66-gf30", 70.0, 100.0, 0.03, 7.0),
        ("pom", 45.0, 70.0, 0.045, 2.8),
        ("abs", 28.0, 45.0, 0.06, 2.2),
    ] {
        let material = joint_material(name).unwrap();
        check(material.shear_strength.to_mpa(), shear, 1e-9);
        check(material.bearing_pressure.to_mpa(), pressure, 1e-9);
        check(material.creep_exponent, creep, 0.0);
        check(material.modulus.to_gpa(), modulus_gpa, 1e-9);
        // The weak end: cast aluminium in shear, four fifths otherwise.
        let weak = if name == "aluminium" { 130.0 } else { 0.8 * shear };
        check(material.weak_shear_strength.to_mpa(), weak, 1e-9);
        check(material.weak_bearing_pressure.to_mpa(), 0.8 * pressure, 1e-9);
        assert_eq!(material.plastic, material.creep_exponent > 0.0, "{name}");
    }
}

#[test]
fn every_joint_material_is_sane_and_unknown_plastic_is_no_better_than_any() {
    let materials = joint_materials().unwrap();
    assert_eq!(materials.len(), 7);
    let unknown = joint_material("unknown-plastic").unwrap();
    for material in materials {
        assert!(material.weak_shear_strength < material.shear_strength, "{}", material.name);
        assert!(material.weak_bearing_pressure < material.bearing_pressure, "{}", material.name);
        assert!(
            material.source.len() > 10 && !material.words.is_empty() && !material.trade.is_empty(),
            "{}",
            material.name
        );
        assert!((0.05..0.4).contains(&material.scatter), "{}", material.name);
        if material.plastic {
            assert!(unknown.shear_strength <= material.shear_strength && unknown.modulus <= material.modulus);
            assert!(unknown.bearing_pressure <= material.bearing_pressure);
            assert!(unknown.creep_exponent >= material.creep_exponent && unknown.scatter >= material.scatter);
        }
    }
    let error = joint_material("aluminum").unwrap_err().to_string();
    assert!(error.contains("did you mean \"aluminium\""), "{error}");
}
