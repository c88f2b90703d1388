//! Gear materials: the strength lines against ISO 6336-5, an independent rule book, and every row against sense.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{RootDuty, StrengthAt, root_strength, strength_points};
use toothsayer_mechanics::material::{
    Lasts, MaterialError, PlasticDuty, Quality, Treatment, gear_material, gear_materials,
};
use toothsayer_quantity::Hardness;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn flank_and_root_mpa(name: &str, hv: f64) -> (f64, f64) {
    let (material, hardness) = (gear_material(name).unwrap(), Hardness::hv(hv));
    (material.sigma_h_lim(hardness).unwrap().to_mpa(), material.sigma_f_lim(hardness).unwrap().to_mpa())
}

#[test]
fn a_life_line_reads_backwards() {
    for name in ["case-hardened", "through-hardened-alloy", "sintered-steel", "unknown-steel", "pom", "pa66"] {
        let material = gear_material(name).unwrap();
        for cycles in [2e5, 1e6, 2e6] {
            let Lasts::Cycles(back) = material.root_lasts(material.y_nt(cycles).unwrap()).unwrap() else {
                panic!("{name} must last {cycles}")
            };
            check(back / cycles, 1.0, 1e-9);
        }
        assert_eq!(material.root_lasts(4.0).unwrap(), Lasts::NotOnce);
        assert_eq!(material.root_lasts(0.5).unwrap(), Lasts::Forever);
        assert!(material.root_lasts(f64::NAN).is_err() && material.y_nt(f64::NAN).is_err());
        assert!(material.z_nt(-1.0).is_err());
    }
}

// VDI 2736-2 (from memory), own calculation at 1e6 cycles.
#[test]
fn plastics_weaken_with_heat_and_cycles() {
    let root_mpa = |name: &str, temperature_c, cycles| {
        let duty = PlasticDuty { temperature_c, cycles };
        gear_material(name).unwrap().plastic_root_limit(duty).unwrap().to_mpa()
    };
    for (name, temperature_c, expected) in
        [("pom", 23.0, 49.9), ("pom", 60.0, 42.2), ("pom", 80.0, 35.2), ("pa66", 60.0, 32.1)]
    {
        check(root_mpa(name, temperature_c, 1e6), expected, 0.05);
    }
    for name in ["pom", "pa66"] {
        for step in 0..100 {
            let t = f64::from(step);
            assert!(root_mpa(name, t + 1.0, 1e6) < root_mpa(name, t, 1e6), "{name} at {t} degC");
            assert!(root_mpa(name, t, 2e6) < root_mpa(name, t, 1e6), "{name} at {t} degC");
        }
        let hot = PlasticDuty { temperature_c: 120.0, cycles: 1e6 };
        assert!(gear_material(name).unwrap().plastic_root_limit(hot).is_err());
        let flank = gear_material(name).unwrap().plastic().unwrap().flank;
        assert!(flank.limit(PlasticDuty { temperature_c: 60.0, cycles: 1e6 }).unwrap().to_mpa() > 60.0);
    }
    let metal = gear_material("case-hardened").unwrap().plastic().unwrap_err();
    assert_eq!(metal.to_string(), "case-hardened is no plastic; its strength is not given over temperature");
}

// MPIF 35 (third-party copy): tensile strength FC-0208 35 to 75, FC-0208HT 65 to 105, FN-0205HT 90 to 185 kpsi. A brittle root bears no more
// nominal stress at once than its material's tensile strength.
#[test]
fn sintered_roots_break_at_their_tensile_strength() {
    const KPSI_MPA: f64 = 6.894_757;
    for (name, low, high) in [
        ("sintered-steel", 35.0, 75.0),
        ("sintered-steel-ht", 65.0, 105.0),
        ("sintered-nickel-steel", 40.0, 70.0),
        ("sintered-nickel-steel-ht", 90.0, 185.0),
        ("sintered-alloy-steel-ht", 95.0, 140.0),
    ] {
        let material = gear_material(name).unwrap();
        let static_mpa = 2.0 * material.y_nt(1.0).unwrap() * material.sigma_f_lim(Hardness::ZERO).unwrap().to_mpa();
        assert!((low * KPSI_MPA..high * KPSI_MPA).contains(&static_mpa), "{name}: {static_mpa}");
    }
}

#[test]
fn unknown_steel_is_the_weak_end_of_the_wrought_steels_and_scatters_widely() {
    let unknown = gear_material("unknown-steel").unwrap();
    let (flank, root) = flank_and_root_mpa("unknown-steel", 330.0);
    for other in
        gear_materials().unwrap().iter().filter(|m| m.quality.is_some() && m.treatment != Treatment::Normalised)
    {
        let (other_flank, other_root) = flank_and_root_mpa(&other.name, other.usual_hardness().to_hv());
        assert!(flank < other_flank || other.treatment == Treatment::ThroughHardenedCarbon, "{}", other.name);
        assert!(root < other_root || other.treatment == Treatment::ThroughHardenedCarbon, "{}", other.name);
        assert!(unknown.scatter.root > other.scatter.root && unknown.scatter.flank > other.scatter.flank);
    }
    let soft = flank_and_root_mpa("unknown-steel", unknown.usual_hardness().to_hv());
    assert!(soft.0 < flank && soft.1 < root, "a measured hardness still counts");
}

#[test]
fn every_row_is_sane_and_has_a_source() {
    let materials = gear_materials().unwrap();
    assert_eq!(materials.len(), 19);
    for (i, material) in materials.iter().enumerate() {
        let name = &material.name;
        assert!(materials[..i].iter().all(|other| other.name != *name), "{name} twice");
        assert!(name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{name}");
        assert!(!material.words.is_empty() && !material.trade.is_empty() && material.source.len() > 10, "{name}");
        assert!((0.1..0.5).contains(&material.elastic.poisson), "{name}");
        assert!((1.0..210.0).contains(&material.elastic.modulus.to_gpa()), "{name}");
        assert!((1000.0..8000.0).contains(&material.density_kg_m3), "{name}");
        let scatter = material.scatter;
        assert!(scatter.root >= 0.05 && scatter.flank >= 0.05 && scatter.modulus > 0.0, "{name}");
        assert!([scatter.root, scatter.flank, scatter.modulus, scatter.hardness].iter().all(|s| *s < 0.4), "{name}");
        let hardness = material.usual_hardness();
        let (root, flank) = (material.sigma_f_lim(hardness).unwrap(), material.sigma_h_lim(hardness).unwrap());
        assert!(root.to_mpa() > 10.0 && flank > root, "{name}");
        assert!(material.y_nt(1.0).unwrap() > 1.0 && material.z_nt(1.0).unwrap() > 1.0, "{name}");
        assert_eq!(material.is_plastic(), material.treatment == Treatment::Plastic, "{name}");
        assert_eq!(name.ends_with("-ml"), material.quality == Some(Quality::Ml), "{name}");
    }
}

#[test]
fn limits_rise_with_hardness_and_end_where_the_line_ends() {
    for material in gear_materials().unwrap() {
        let Some(range) = material.hardness else {
            assert!(material.sigma_f_lim(Hardness::ZERO).is_ok());
            continue;
        };
        let (least, most) = (range.least.to_hv(), range.most.to_hv());
        assert!(range.least < range.usual && range.usual < range.most, "{}", material.name);
        let mut last = (0.0, 0.0);
        for step in 0..=20 {
            let now = flank_and_root_mpa(&material.name, least + (most - least) * f64::from(step) / 20.0);
            assert!(now.0 >= last.0 && now.1 >= last.1, "{}", material.name);
            last = now;
        }
        for hv in [least - 1.0, most + 1.0, f64::NAN] {
            let error = material.sigma_f_lim(Hardness::hv(hv)).unwrap_err();
            assert!(matches!(error, Error::Material(MaterialError::Hardness { .. })), "{error}");
        }
    }
    let error = gear_material("through-hardened-alloy").unwrap().sigma_h_lim(Hardness::hv(420.0)).unwrap_err();
    assert_eq!(error.to_string(), "through-hardened-alloy has 200 to 360 HV, 420 HV is outside its strength lines");
}

// ISO 6336-5 line V alloy MQ (from memory): 0.425 HV + 187 and 1.313 HV + 373; twice that at the root, 2.5 times it once.
#[test]
fn strengths_are_told_along_the_line() {
    let points = strength_points(gear_material("through-hardened-alloy").unwrap()).unwrap();
    assert_eq!(points.len(), 3);
    for (point, hv) in points.iter().zip([200.0, 300.0, 360.0]) {
        assert_eq!(point.at, StrengthAt::Hardness(Hardness::hv(hv)));
        check(point.root_lasting.to_mpa(), 2.0 * (0.425 * hv + 187.0), 1e-9);
        check(point.root_once.to_mpa(), 5.0 * (0.425 * hv + 187.0), 1e-9);
        check(point.flank_lasting.to_mpa(), 1.313 * hv + 373.0, 1e-9);
    }
}

#[test]
fn every_materials_strengths_agree_with_what_a_tooth_is_judged_by() {
    for material in gear_materials().unwrap() {
        let points = strength_points(material).unwrap();
        let usual = points.iter().find(|point| match point.at {
            StrengthAt::Hardness(hardness) => hardness == material.usual_hardness(),
            StrengthAt::Temperature(temperature) => temperature == material.plastic().unwrap().usual_temperature(),
            StrengthAt::Any => true,
        });
        let told = usual.unwrap_or_else(|| panic!("{} tells nothing at its usual place", material.name));
        for (cycles, pressure) in [(1.0, told.root_once), (3e6, told.root_lasting)] {
            let duty = RootDuty { hardness: material.usual_hardness(), cycles, both_flanks: false };
            check(pressure / root_strength(material, &duty).unwrap(), 1.0, 1e-12);
        }
        // Heat and softness take from what a tooth bears.
        let colder_is_harder =
            |pair: &[toothsayer_mechanics::gear::StrengthPoint]| pair[1].root_once < pair[0].root_once;
        assert!(!material.is_plastic() || points.windows(2).all(colder_is_harder), "{}", material.name);
    }
}

#[test]
fn an_unknown_name_is_told_with_the_nearest_known() {
    let error = gear_material("through-hardned-alloy").unwrap_err().to_string();
    assert!(
        error.starts_with(
            "gear material \"through-hardned-alloy\" is not known, did you mean \"through-hardened-alloy\"; "
        ),
        "{error}"
    );
    let far = gear_material("butter").unwrap_err().to_string();
    assert!(far.starts_with("gear material \"butter\" is not known; known are: normalised, "), "{far}");
}
