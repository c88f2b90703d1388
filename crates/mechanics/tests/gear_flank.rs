//! Flank pressure, mesh stiffness, load across the face, dynamic factor.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

mod gear_fixture;

use gear_fixture::{check, gear, spec};
use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    DynamicLoad, FILM_FACTORS, FaceLoad, FlankDuty, FlankLoad, GearError, Member, MeshFlank, MeshStiffness, Pair,
    PairSpec, ToothForces, centre_distance_for_contact_ratio, dynamic_factor, elasticity_factor, face_factors,
    flank_pressure, flank_strength, hardness_factor, mesh_stiffness, single_contact_factor, zone_factor,
};
use toothsayer_mechanics::material::{Elastic, ElasticPair, gear_material};
use toothsayer_quantity::{Force, Hardness, Length, Pressure, Speed, Torque};

/// Half a unit of the fourth decimal.
const DECIMAL_4: f64 = 0.5e-4;
/// Half a unit of the first decimal.
const DECIMAL_1: f64 = 0.05;
/// Rounding in a product of a few factors.
const ROUNDING: f64 = 1e-9;

fn pair(z1: u32, z2: u32) -> Pair {
    Pair::new(spec(z1, z2)).unwrap()
}

fn elastic(e1_gpa: f64, e2_gpa: f64) -> ElasticPair {
    let part = |gpa| Elastic { modulus: Pressure::gpa(gpa), poisson: 0.3 };
    ElasticPair { pinion: part(e1_gpa), spur: part(e2_gpa) }
}

// ISO 6336-2: ZH 2.495 without shift; ZE of steel, nodular and grey iron (from memory).
#[test]
fn zone_and_elasticity_factors_of_the_standard() {
    check(zone_factor(&pair(17, 52)), 2.494573, 0.5e-6);
    for (e1, e2, expected) in
        [(206.0, 206.0, 189.8), (206.0, 173.0, 181.4), (206.0, 118.0, 162.0), (118.0, 118.0, 143.7)]
    {
        check(elasticity_factor(&elastic(e1, e2)).unwrap() / 1e3, expected, DECIMAL_1);
    }
    assert!(elasticity_factor(&elastic(206.0, f64::NAN)).is_err());
}

fn load() -> FlankLoad {
    FlankLoad {
        normal_force: Force::n(1000.0),
        face_width: Length::mm(10.0),
        k_h_beta: 1.0,
        elastic: ElasticPair::STEEL,
    }
}

// Zeps = sqrt((4 - eps)/3): 0.8873, 0.8811, 0.8788 (own calculation), read out of the whole pressure.
#[test]
fn pressure_is_the_product_of_the_standards_factors() {
    for (z1, z2, sharing) in [(17, 52, 0.8873), (20, 60, 0.8811), (25, 50, 0.8788)] {
        let pair = pair(z1, z2);
        let (z1, u) = (f64::from(z1), f64::from(z2) / f64::from(z1));
        let line_mpa = 1000.0 * 20f64.to_radians().cos() / (z1 * 10.0) * (u + 1.0) / u;
        let without = single_contact_factor(&pair).unwrap() * 2.494573 * 189.812 * line_mpa.sqrt();
        check(flank_pressure(&pair, &load()).unwrap().to_mpa() / without, sharing, DECIMAL_4);
    }
}

// Hertz: two cylinders with the radii of curvature at the pitch point, pressed by Fn, without load sharing (eps <= 1).
#[test]
fn pressure_without_sharing_is_hertz_at_the_pitch_point() {
    let spec = spec(40, 120);
    let wide = centre_distance_for_contact_ratio(&spec, 0.9).unwrap().unwrap();
    let pair = Pair::measured(PairSpec { centre_distance: wide, ..spec }).unwrap();
    let sin = pair.working_pressure_angle().to_rad().sin();
    let curvature = |member| pair.working_radius(member).to_m() * sin;
    let (r1, r2) = (curvature(Member::Pinion), curvature(Member::Spur));
    let contact_pa = 2.0 * (1.0 - 0.3 * 0.3) / 206e9;
    let hertz_pa = (1000.0 / 0.010 * (1.0 / r1 + 1.0 / r2) / (std::f64::consts::PI * contact_pa)).sqrt();
    let factor = single_contact_factor(&pair).unwrap();
    check(flank_pressure(&pair, &load()).unwrap().to_pa() / (factor * hertz_pa), 1.0, 1e-12);
}

// ZB is what the smaller curvature at the inner point of single contact asks over the pitch point: Hertz at both.
#[test]
fn single_contact_factor_is_the_ratio_of_hertz_pressures() {
    let pair = pair(13, 45);
    let eps = pair.contact_ratio();
    let line = |member: Member| {
        let tooth = pair.tooth(member);
        let (tip, base) = (tooth.tip_radius().to_m(), tooth.base_radius().to_m());
        (tip * tip - base * base).sqrt()
    };
    let whole = line(Member::Pinion) + line(Member::Spur) - eps * pair.base_pitch().to_m();
    let inner = line(Member::Pinion) - pair.base_pitch().to_m();
    let pitch_point = pair.tooth(Member::Pinion).base_radius().to_m() * pair.working_pressure_angle().to_rad().tan();
    let flatness = |at: f64| at * (whole - at);
    let expected = (flatness(pitch_point) / flatness(inner)).sqrt();
    check(single_contact_factor(&pair).unwrap(), expected, 1e-12);
    assert!(expected > 1.0);
}

#[test]
fn flank_pressure_refuses_what_it_cannot_know() {
    let tiny = Pair::measured(spec(6, 53)).unwrap();
    let error = flank_pressure(&tiny, &load()).unwrap_err();
    assert!(matches!(error, Error::Gear(GearError::ContactInsideBase { member: Member::Pinion })), "{error}");
    for bad in [
        FlankLoad { normal_force: Force::n(-1.0), ..load() },
        FlankLoad { face_width: Length::ZERO, ..load() },
        FlankLoad { k_h_beta: f64::NAN, ..load() },
        FlankLoad { elastic: elastic(0.0, 206.0), ..load() },
    ] {
        assert!(flank_pressure(&pair(17, 52), &bad).is_err());
    }
    check(flank_pressure(&pair(17, 52), &FlankLoad { normal_force: Force::ZERO, ..load() }).unwrap().to_pa(), 0.0, 0.0);
}

// ISO 6336-5 and -2 from memory: 300 HV alloy MQ 766.9; ZNT 1.6 up to 1e5; ZW = 1.2 - (HB - 130)/1700 at 285 HB.
#[test]
fn flank_strength_counts_life_film_and_a_hard_mate() {
    let alloy = gear_material("through-hardened-alloy").unwrap();
    let duty = FlankDuty { hardness: Hardness::hv(300.0), cycles: 1.0, hard_mate: false, film_factors: FILM_FACTORS };
    let limit_mpa = 1.313 * 300.0 + 373.0;
    check(flank_strength(alloy, &duty).unwrap().to_mpa(), limit_mpa * 1.6 * 0.85, ROUNDING);
    let hardened = FlankDuty { hard_mate: true, ..duty };
    let zw = 1.2 - (285.0 - 130.0) / 1700.0;
    check(flank_strength(alloy, &hardened).unwrap().to_mpa(), limit_mpa * 1.6 * 0.85 * zw, ROUNDING);
    check(hardness_factor(gear_material("normalised").unwrap(), Hardness::hv(120.0)), 1.2, 0.0);
    check(hardness_factor(gear_material("case-hardened").unwrap(), Hardness::hv(700.0)), 1.0, 0.0);
    check(hardness_factor(gear_material("pom").unwrap(), Hardness::ZERO), 1.0, 0.0);
    assert!(flank_strength(alloy, &FlankDuty { film_factors: 2.0, ..duty }).is_err());
}

#[test]
fn stiffness_scales_with_the_modulus_and_holds_at_a_contact_ratio_of_one() {
    let steel = mesh_stiffness(&pair(19, 53), &ElasticPair::STEEL).unwrap();
    let mixed = mesh_stiffness(&pair(19, 53), &elastic(206.0, 2.0)).unwrap();
    let effective = 2.0 * 206.0 * 2.0 / 208.0 / 206.0;
    check(mixed.single_n_per_mm_um, steel.single_n_per_mm_um * effective, ROUNDING);
    let wide = centre_distance_for_contact_ratio(&spec(19, 53), 0.8).unwrap().unwrap();
    let open = Pair::measured(PairSpec { centre_distance: wide, ..spec(19, 53) }).unwrap();
    let stiffness = mesh_stiffness(&open, &ElasticPair::STEEL).unwrap();
    check(stiffness.c_gamma_alpha_n_per_mm_um, steel.single_n_per_mm_um, ROUNDING);
    assert!(mesh_stiffness(&open, &elastic(f64::NAN, 206.0)).is_err());
}

#[test]
fn shifts_outside_the_formula_are_flagged() {
    for (x1, x2, valid) in [(0.0, 0.0, true), (0.4, 0.1, true), (0.1, 0.4, false), (-0.3, -0.3, false)] {
        let gears = PairSpec { pinion: gear(19, x1), spur: gear(53, x2), ..spec(19, 53) };
        let pair = Pair::measured(PairSpec { centre_distance: Length::mm(36.6), ..gears }).unwrap();
        assert_eq!(mesh_stiffness(&pair, &ElasticPair::STEEL).unwrap().in_validity, valid, "{x1} {x2}");
    }
}

#[test]
fn light_loads_soften_by_the_fourth_root() {
    let stiffness = mesh_stiffness(&pair(17, 52), &ElasticPair::STEEL).unwrap();
    let share = |n_per_mm| {
        stiffness.at_line_load(n_per_mm).unwrap().c_gamma_beta_n_per_mm_um / stiffness.c_gamma_beta_n_per_mm_um
    };
    check(share(100.0), 1.0, ROUNDING);
    check(share(250.0), 1.0, ROUNDING);
    check(share(6.25), 0.5, ROUNDING);
    check(share(0.0), 0.0, 0.0);
    assert!(stiffness.at_line_load(f64::NAN).is_err());
}

/// A stiffness of 20 N/(mm um) against misalignment, the standard's quick value.
const QUICK: MeshStiffness = MeshStiffness {
    single_n_per_mm_um: 14.0,
    c_gamma_alpha_n_per_mm_um: 20.0 / 0.85,
    c_gamma_beta_n_per_mm_um: 20.0,
    in_validity: true,
};

fn flank(surface_hardened: bool, sigma_h_lim_mpa: f64) -> MeshFlank {
    MeshFlank { surface_hardened, sigma_h_lim: Pressure::mpa(sigma_h_lim_mpa) }
}

fn tilted(steady_um: f64, force_n: f64) -> FaceLoad {
    FaceLoad {
        tangential_force: Force::n(force_n),
        face_width: Length::mm(10.0),
        steady_misalignment: Length::um(steady_um),
        rocking_misalignment: Length::ZERO,
        pinion: flank(false, 800.0),
        spur: flank(false, 640.0),
        run_in: false,
        pitch_line_speed: Speed::m_per_s(3.0),
    }
}

// ISO 6336-1, method C, own calculation: (10 um, 200 N/mm) 1.50, (20 um, 100 N/mm) 2.828; both branches give 2.
#[test]
fn load_peaks_of_a_misaligned_face() {
    for (steady_um, line_load, expected) in [(10.0, 200.0, 1.50), (20.0, 100.0, 8f64.sqrt()), (20.0, 200.0, 2.0)] {
        let factors = face_factors(&pair(17, 52), &QUICK, &tilted(steady_um, 10.0 * line_load)).unwrap();
        check(factors.k_h_beta, expected, ROUNDING);
        // h = 2.25 mm on 10 mm.
        let h: f64 = 0.225;
        check(factors.k_f_beta, expected.powf(1.0 / (1.0 + h + h * h)), ROUNDING);
    }
    let near = |um| face_factors(&pair(17, 52), &QUICK, &tilted(um, 2000.0)).unwrap().k_h_beta;
    check(near(19.999_999), near(20.000_001), 1e-6);
}

#[test]
fn a_narrow_face_counts_as_three_heights_wide() {
    let narrow = FaceLoad { face_width: Length::mm(2.0), ..tilted(10.0, 400.0) };
    let factors = face_factors(&pair(17, 52), &QUICK, &narrow).unwrap();
    check(factors.k_f_beta, 1.5f64.powf(1.0 / (1.0 + 1.0 / 3.0 + 1.0 / 9.0)), ROUNDING);
}

#[test]
fn a_light_load_is_spread_by_the_softer_mesh() {
    let factors = face_factors(&pair(17, 52), &QUICK, &tilted(2.0, 62.5)).unwrap();
    // 6.25 N/mm halves the stiffness: r = 2 * 10/(2 * 6.25).
    check(factors.k_h_beta, 2.0 * 1.6f64.sqrt(), ROUNDING);
}

// ISO 6336-1, clause 7 (speed limits from memory): y = 320/sigmaHlim Fbeta: 0.4 and 0.5 of 20 um here.
#[test]
fn running_in_takes_its_share_of_the_steady_part_alone() {
    let left_um = |load: FaceLoad| face_factors(&pair(17, 52), &QUICK, &load).unwrap().misalignment.to_um();
    let steady = FaceLoad { run_in: true, ..tilted(20.0, 1000.0) };
    check(left_um(steady), 20.0 - 0.5 * (8.0 + 10.0), ROUNDING);
    let rocking_misalignment = Length::um(7.0);
    check(left_um(FaceLoad { rocking_misalignment, ..steady }), 11.0 + 7.0, ROUNDING);
    check(left_um(FaceLoad { rocking_misalignment, run_in: false, ..steady }), 27.0, ROUNDING);
    let hard = FaceLoad { pinion: flank(true, 1500.0), ..steady };
    check(left_um(hard), 20.0 - 0.5 * (3.0 + 10.0), ROUNDING);
    let both_hard = FaceLoad { spur: flank(true, 1500.0), steady_misalignment: Length::um(100.0), ..hard };
    check(left_um(both_hard), 94.0, ROUNDING);
    let soft = FaceLoad { pinion: flank(false, 200.0), spur: flank(false, 300.0), ..steady };
    check(left_um(soft), 0.0, ROUNDING);
}

#[test]
fn running_in_is_limited_at_speed() {
    let left_um = |speed, steady_um| {
        let run = FaceLoad { run_in: true, pitch_line_speed: Speed::m_per_s(speed), ..tilted(steady_um, 1000.0) };
        face_factors(&pair(17, 52), &QUICK, &run).unwrap().misalignment.to_um()
    };
    check(left_um(5.0, 200.0), 200.0 - 0.5 * (80.0 + 100.0), ROUNDING);
    check(left_um(5.1, 200.0), 200.0 - 0.5 * (32.0 + 40.0), ROUNDING);
    check(left_um(10.1, 200.0), 200.0 - 0.5 * (16.0 + 20.0), ROUNDING);
}

#[test]
fn no_load_spreads_nothing_and_no_number_is_refused() {
    let factors = face_factors(&pair(17, 52), &QUICK, &tilted(10.0, 0.0)).unwrap();
    assert_eq!((factors.k_h_beta, factors.k_f_beta), (1.0, 1.0));
    let good = tilted(10.0, 100.0);
    for bad in [
        FaceLoad { tangential_force: Force::n(f64::NAN), ..good },
        FaceLoad { face_width: Length::ZERO, ..good },
        FaceLoad { steady_misalignment: Length::um(-1.0), ..good },
        FaceLoad { rocking_misalignment: Length::um(f64::NAN), ..good },
        FaceLoad { pinion: flank(false, 0.0), ..good },
        FaceLoad { pitch_line_speed: Speed::m_per_s(f64::NAN), ..good },
    ] {
        assert!(face_factors(&pair(17, 52), &QUICK, &bad).is_err());
    }
}

#[test]
fn more_tilt_never_spreads_better() {
    let mut last = 1.0;
    for um in 0..200 {
        let factors = face_factors(&pair(17, 52), &QUICK, &tilted(f64::from(um), 1500.0)).unwrap();
        assert!(factors.k_h_beta >= last && factors.k_f_beta <= factors.k_h_beta);
        last = factors.k_h_beta;
    }
}

#[test]
fn a_flank_takes_its_limit_from_its_material() {
    let alloy = MeshFlank::of(gear_material("through-hardened-alloy").unwrap(), Hardness::hv(300.0)).unwrap();
    assert_eq!(alloy, flank(false, 1.313 * 300.0 + 373.0));
    assert!(MeshFlank::of(gear_material("case-hardened").unwrap(), Hardness::hv(700.0)).unwrap().surface_hardened);
}

// T = Fn rb = Ft d/2; 1 N m on the 19-tooth pinion of module 1 mm.
#[test]
fn torque_becomes_tooth_forces() {
    let pair = pair(19, 53);
    let forces = ToothForces::from_torque(&pair, Member::Pinion, Torque::n_m(1.0)).unwrap();
    check(forces.tangential.to_n(), 2.0 / 0.019, ROUNDING);
    check(forces.normal.to_n(), 2.0 / 0.019 / 20f64.to_radians().cos(), ROUNDING);
    check(forces.radial.to_n(), 2.0 / 0.019 * 20f64.to_radians().tan(), ROUNDING);
    assert!(ToothForces::from_torque(&pair, Member::Spur, Torque::n_m(f64::NAN)).is_err());
}

fn running(speed: f64, force_n: f64) -> DynamicLoad {
    DynamicLoad {
        accuracy_grade: 8,
        application_factor: 1.0,
        tangential_force: Force::n(force_n),
        face_width: Length::mm(10.0),
        pitch_line_speed: Speed::m_per_s(speed),
    }
}

// ISO 6336-1, method C (constants from memory): grade 8, u = 3, z1 = 20, v = 5 m/s, 200 N/mm:
// w = 1 * 3/sqrt(10) = 0.948683, K3 = 2.071 - 0.357 w, Kv = 1 + (39.1/200 + 0.0193) w K3.
#[test]
fn dynamic_factor_of_method_c() {
    let factor = dynamic_factor(&pair(20, 60), &running(5.0, 2000.0)).unwrap();
    let w: f64 = 0.9486833;
    check(factor.k_v, 1.0 + (0.1955 + 0.0193) * w * (2.071 - 0.357 * w), 1e-7);
    assert!(!factor.at_load_floor);
    let slow = dynamic_factor(&pair(20, 60), &running(0.5, 2000.0)).unwrap();
    check(slow.k_v, 1.0 + (0.1955 + 0.0193) * 0.1 * w * 2.0, 1e-7);
}

// Small light gears sit under the method's 100 N/mm: the factor is that of 100 N/mm and it is said.
#[test]
fn the_light_load_floor_and_the_speed_limit_are_told() {
    let at = |force_n| dynamic_factor(&pair(20, 60), &running(5.0, force_n)).unwrap();
    check(at(200.0).k_v, at(1000.0).k_v, 0.0);
    assert!(at(200.0).at_load_floor && !at(1000.0).at_load_floor);
    let fast = dynamic_factor(&pair(20, 60), &running(20.0, 2000.0)).unwrap_err();
    assert!(matches!(fast, Error::Gear(GearError::TooFastForMethodC { .. })), "{fast}");
    for bad in [
        DynamicLoad { accuracy_grade: 5, ..running(1.0, 1.0) },
        DynamicLoad { application_factor: f64::NAN, ..running(1.0, 1.0) },
        running(f64::NAN, 1.0),
    ] {
        assert!(dynamic_factor(&pair(20, 60), &bad).is_err());
    }
}
