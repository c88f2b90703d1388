//! Over the whole range of inputs: a number or a reason, never "not a number" and never a panic.

#![expect(clippy::panic, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::gear::{
    FaceLoad, FlankLoad, Gear, Member, MeshFlank, Pair, PairSpec, Rack, best_pin, face_factors, flank_pressure,
    mesh_stiffness, outline, reference_centre_distance, size_over_pins, span_measurement, teeth_to_span, tooth_root,
};
use toothsayer_mechanics::material::ElasticPair;
use toothsayer_quantity::{Angle, Force, Length, Pressure, Speed};

/// Pairs tried; enough that every kind of refusal below is met.
const PAIRS: u32 = 4000;

/// The i-th point of an additive (Kronecker) sequence: evenly spread and the same in every run.
fn spread(i: u32, dimension: u32, low: f64, high: f64) -> f64 {
    const PRIMES: [f64; 11] = [2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0, 31.0];
    low + (high - low) * (f64::from(i) * PRIMES[dimension as usize].sqrt()).fract()
}

fn any_spec(i: u32) -> PairSpec {
    let gear = |teeth: f64, shift, thinning_mm| Gear {
        teeth: teeth as u32,
        shift,
        thinning: Length::mm(thinning_mm),
        tip_shortening: spread(i, 8, -0.2, 0.6),
    };
    let rack = Rack {
        addendum: spread(i, 4, 0.6, 1.5),
        dedendum: spread(i, 5, 0.7, 1.9),
        root_radius: spread(i, 6, 0.0, 0.6),
    };
    let spec = PairSpec {
        module: Length::mm(1.0),
        pressure_angle: Angle::deg(spread(i, 7, 10.0, 30.0)),
        rack,
        pinion: gear(spread(i, 0, 5.0, 60.0), spread(i, 1, -1.0, 1.5), spread(i, 9, -0.2, 0.5)),
        spur: gear(spread(i, 2, 10.0, 200.0), spread(i, 3, -1.0, 1.5), 0.0),
        centre_distance: Length::ZERO,
    };
    PairSpec { centre_distance: reference_centre_distance(&spec) + Length::mm(spread(i, 10, -1.0, 4.0)), ..spec }
}

#[track_caller]
fn check(i: u32, what: &str, values: &[f64]) {
    assert!(values.iter().all(|value| value.is_finite()), "{what} of pair {i}: {values:?}");
}

fn check_strength(i: u32, pair: &Pair) -> u32 {
    let stiffness = mesh_stiffness(pair, &ElasticPair::STEEL).unwrap_or_else(|error| panic!("pair {i}: {error}"));
    check(i, "stiffness", &[stiffness.single_n_per_mm_um, stiffness.c_gamma_beta_n_per_mm_um]);
    let mut refused = 0;
    for member in Member::BOTH {
        match tooth_root(pair, member) {
            Ok(root) => {
                assert!(root.form_factor > 0.0 && root.stress_factor > 0.0, "{i}");
                check(i, "root", &[root.form_factor, root.stress_factor, root.load_angle.to_rad()]);
            }
            Err(_) => refused += 1,
        }
    }
    let flank = MeshFlank { surface_hardened: false, sigma_h_lim: Pressure::mpa(700.0) };
    let load = FaceLoad {
        tangential_force: Force::n(400.0),
        face_width: Length::mm(8.0),
        steady_misalignment: Length::um(12.0),
        rocking_misalignment: Length::um(50.0),
        pinion: flank,
        spur: flank,
        run_in: true,
        pitch_line_speed: Speed::m_per_s(20.0),
    };
    let face = face_factors(pair, &stiffness, &load).unwrap_or_else(|error| panic!("pair {i}: {error}"));
    check(i, "face factors", &[face.k_h_beta, face.k_f_beta]);
    let elastic = ElasticPair::STEEL;
    let (normal_force, face_width, k_h_beta) = (load.tangential_force, load.face_width, face.k_h_beta);
    match flank_pressure(pair, &FlankLoad { normal_force, face_width, k_h_beta, elastic }) {
        Ok(pressure) => check(i, "flank", &[pressure.to_pa()]),
        Err(_) => refused += 1,
    }
    refused
}

fn check_measures(i: u32, pair: &Pair) {
    for member in Member::BOTH {
        let tooth = pair.tooth(member);
        if let Ok(span) = span_measurement(tooth, teeth_to_span(tooth)) {
            check(i, "span", &[span.length.to_m()]);
        }
        if let Ok(pin) = best_pin(tooth)
            && let Ok(size) = size_over_pins(tooth, pin)
        {
            assert!(size > tooth.tip_radius() * 1.9, "{i}");
        }
    }
    let tooth = pair.tooth(Member::Pinion);
    let drawn = outline(tooth, Length::um(20.0)).unwrap_or_else(|error| panic!("pair {i}: {error}"));
    for [x, y] in &drawn.points_m {
        check(i, "corner", &[*x, *y]);
        assert!(x.hypot(*y) <= tooth.tip_radius().to_m() * (1.0 + 1e-12), "pair {i}");
    }
}

#[test]
fn every_pair_gives_numbers_or_reasons() {
    let (mut made, mut strength_refused) = (0, 0);
    for i in 0..PAIRS {
        let Ok(pair) = Pair::measured(any_spec(i)) else { continue };
        made += 1;
        check(
            i,
            "pair",
            &[
                pair.contact_ratio(),
                pair.normal_backlash().to_m(),
                pair.circumferential_backlash().to_m(),
                pair.tip_clearance().to_m(),
                pair.working_pressure_angle().to_rad(),
                pair.tooth(Member::Pinion).form_radius().to_m(),
                pair.active_profile_start(Member::Spur).to_m(),
            ],
        );
        let tooth = pair.tooth(Member::Pinion);
        assert!(tooth.form_radius() >= tooth.base_radius(), "{i}");
        strength_refused += check_strength(i, &pair);
        check_measures(i, &pair);
    }
    assert!(made > PAIRS / 3, "{made} pairs made");
    assert!(strength_refused > 0, "refusals are met as well");
}

/// Gears as the bench meets them: pressure angles, racks and shifts of the trade, meshes from tight to ridden over.
fn bench_spec(i: u32) -> PairSpec {
    let angle_deg = [14.5, 20.0, 20.0, 25.0][i as usize % 4];
    let gear = |teeth: f64, shift| Gear {
        teeth: teeth as u32,
        shift,
        thinning: Length::mm(spread(i, 9, 0.0, 0.15)),
        tip_shortening: spread(i, 8, 0.0, 0.1),
    };
    let spec = PairSpec {
        module: Length::mm(1.0),
        pressure_angle: Angle::deg(angle_deg),
        rack: Rack { root_radius: spread(i, 6, 0.2, 0.38), ..Rack::ISO_53_A },
        pinion: gear(spread(i, 0, 9.0, 40.0), spread(i, 1, 0.0, 0.3)),
        spur: gear(spread(i, 2, 30.0, 120.0), spread(i, 3, -0.1, 0.3)),
        centre_distance: Length::ZERO,
    };
    PairSpec { centre_distance: reference_centre_distance(&spec) + Length::mm(spread(i, 10, 0.3, 1.6)), ..spec }
}

#[test]
fn gears_of_the_trade_are_never_refused() {
    for i in 0..PAIRS {
        let pair = Pair::measured(bench_spec(i)).unwrap_or_else(|error| panic!("pair {i}: {error}"));
        assert_eq!(check_strength(i, &pair), 0, "pair {i}: {:?}", pair.spec());
        check_measures(i, &pair);
    }
}
