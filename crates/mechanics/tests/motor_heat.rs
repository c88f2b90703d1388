//! The motor's heat against published figures of copper, closed forms, and the balance of energy.

use toothsayer_mechanics::motor::heat::{BURNT, runs_away};
use toothsayer_mechanics::motor::{
    COPPER_PER_K, Duty, ESTIMATES, Heated, Stretch, ThermalBody, after_run, loss_w, resistance_at,
};
use toothsayer_quantity::{Current, Mass, Resistance, Temperature, Time};

/// 0 °C.
const ZERO_K: f64 = 273.15;
/// Printed to four digits.
const PRINTED: f64 = 1e-4;
/// Conductances made very large or very small stand for none; what they leave.
const ONE_MASS: f64 = 2e-4;
/// A step method's sums against the exact solution.
const SUMMED: f64 = 1e-5;
/// Roundings of exponentials.
const ROUNDING: f64 = 1e-9;

#[track_caller]
fn check(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "got {got}, expected {expected} within {relative}");
}

fn celsius(degrees: f64) -> Temperature {
    Temperature::k(ZERO_K + degrees)
}

const BODY: ThermalBody =
    ThermalBody { winding_j_k: 60.0, case_j_k: 400.0, winding_to_case_w_k: 3.0, case_to_air_w_k: 1.2 };

fn stretch(current_a: f64, no_load_loss_w: f64, time_s: f64) -> Stretch {
    Stretch { current: Current::a(current_a), no_load_loss_w, time: Time::s(time_s) }
}

/// 14 mohm in air of 20 °C.
fn run(body: &ThermalBody, stretches: &[Stretch], repeats: u32) -> Heated {
    let duty = Duty { resistance: Resistance::ohm(0.014), air: celsius(20.0), stretches, repeats };
    after_run(body, &duty).unwrap()
}

/// Rises of winding and case over air of 20 °C.
#[track_caller]
fn rises_k(heated: Heated) -> [f64; 2] {
    match heated {
        Heated::To { winding, case } => [winding, case].map(|hot| hot.to_k() - ZERO_K - 20.0),
        Heated::BurnsOut { after } => panic!("burns out after {after:?}"),
    }
}

// IEC 60028: 0.00393/K at 20 °C, so R(120 °C)/R(20 °C) = 1.393. IEC 60034-1 and NEMA MG 1 write (k + T2)/(k + T1) with
// k = 235 and 234.5 (from memory); both agree to 0.1 % up to 120 °C.
#[test]
fn copper_gains_resistance_as_the_standards_print() {
    let ratio = |degrees: f64| resistance_at(Resistance::ohm(2.0), celsius(degrees)).unwrap().to_ohm() / 2.0;
    check(ratio(120.0), 1.393, PRINTED);
    for (constant, degrees) in [(234.5, 120.0), (235.0, 75.0), (235.0, 115.0), (234.5, 0.0)] {
        check(ratio(degrees), (constant + degrees) / (constant + 20.0), 1e-3);
    }
    check(loss_w(Resistance::ohm(0.01), Current::a(50.0), celsius(20.0)).unwrap(), 25.0, ROUNDING);
}

// One mass: winding and case as one, T = P/G (1 - e^(-G t/C)); after one time constant 63.2 % of the steady rise.
#[test]
fn masses_tied_together_warm_as_one() {
    let body = ThermalBody { winding_to_case_w_k: 1e4, ..BODY };
    let constant_s = 460.0 / 1.2;
    let [winding_k, case_k] = rises_k(run(&body, &[stretch(0.0, 36.0, constant_s)], 1));
    check(winding_k, 30.0 * (1.0 - (-1.0_f64).exp()), ONE_MASS);
    check(case_k, winding_k, ONE_MASS);
}

// A winding alone with its resistance growing: (C/(G - I² R alpha)) is its time constant, I² R/(G - I² R alpha) its end.
#[test]
fn a_winding_alone_settles_where_its_growing_loss_runs_off() {
    let body = ThermalBody { case_j_k: 1e6, case_to_air_w_k: 1e4, ..BODY };
    let cold_w = 80.0 * 80.0 * 0.014;
    let left_w_k = 3.0 - cold_w * COPPER_PER_K;
    for time_s in [5.0, 20.0, 60.0] {
        let [winding_k, _] = rises_k(run(&body, &[stretch(80.0, 0.0, time_s)], 1));
        check(winding_k, cold_w / left_w_k * (1.0 - (-left_w_k * time_s / 60.0_f64).exp()), ONE_MASS);
    }
}

// Steady: the case gives off all heat, the winding sits its own loss over Gwc above it; fixed point of
// x = P(x) (1/Gwc + 1/Gca), P(x) = I² R (1 + alpha x), found by iteration.
#[test]
fn a_long_run_ends_at_the_fixed_point_of_loss_and_resistance() {
    let [winding_k, case_k] = rises_k(run(&BODY, &[stretch(50.0, 10.0, 30_000.0)], 1));
    let cold_w = 50.0 * 50.0 * 0.014;
    let mut fixed_k = 0.0;
    for _ in 0..200 {
        let loss_w = cold_w * (1.0 + COPPER_PER_K * fixed_k);
        fixed_k = loss_w * (1.0 / 3.0 + 1.0 / 1.2) + 10.0 / 1.2;
    }
    check(winding_k, fixed_k, ROUNDING);
    check(case_k, (cold_w * (1.0 + COPPER_PER_K * fixed_k) + 10.0) / 1.2, ROUNDING);
}

// What the losses put in is stored in the masses or has gone to the air; by Heun's rule in steps of 10 ms.
#[test]
fn heat_put_in_is_stored_or_gone() {
    let (current_a, no_load_w, time_s) = (65.0, 30.0, 400.0);
    let [winding_k, case_k] = rises_k(run(&BODY, &[stretch(current_a, no_load_w, time_s)], 1));
    let rates = |[winding_k, case_k]: [f64; 2]| {
        let loss_w = current_a * current_a * 0.014 * (1.0 + COPPER_PER_K * winding_k);
        let across_w = 3.0 * (winding_k - case_k);
        [(loss_w - across_w) / 60.0, (no_load_w + across_w - 1.2 * case_k) / 400.0, loss_w + no_load_w, 1.2 * case_k]
    };
    let (step_s, mut rise_k, mut put_in_j, mut gone_j) = (0.01, [0.0, 0.0], 0.0, 0.0);
    for _ in 0..40_000 {
        let first = rates(rise_k);
        let second = rates([rise_k[0] + step_s * first[0], rise_k[1] + step_s * first[1]]);
        rise_k = [0, 1].map(|mass| rise_k[mass] + 0.5 * step_s * (first[mass] + second[mass]));
        put_in_j += 0.5 * step_s * (first[2] + second[2]);
        gone_j += 0.5 * step_s * (first[3] + second[3]);
    }
    check(winding_k, rise_k[0], SUMMED);
    check(60.0 * winding_k + 400.0 * case_k, put_in_j - gone_j, SUMMED);
}

#[test]
fn short_stretches_heat_like_their_mean() {
    let shares = [stretch(30.0, 20.0, 0.7), stretch(70.0, 20.0, 0.3)];
    let mean_a = (0.7 * 900.0 + 0.3 * 4900.0_f64).sqrt();
    let [in_turn_k, _] = rises_k(run(&BODY, &shares, 600));
    let [mean_k, _] = rises_k(run(&BODY, &[stretch(mean_a, 20.0, 600.0)], 1));
    // The last stretch ends 0.3 s x 45 W/60 J/K above the mean at most.
    assert!(in_turn_k > mean_k && in_turn_k - mean_k < 0.3, "{in_turn_k} and {mean_k}");
}

#[test]
fn more_current_longer_runs_and_worse_cooling_never_cool() {
    let winding = |current_a: f64, time_s: f64, cooling: f64| {
        let body = ThermalBody::of_mass(Mass::kg(1.0), cooling).unwrap();
        rises_k(run(&body, &[stretch(current_a, 25.0, time_s)], 1))[0]
    };
    for step in 0..12 {
        let at = f64::from(step);
        assert!(winding(5.0 * at + 5.0, 300.0, 1.0) > winding(5.0 * at, 300.0, 1.0));
        assert!(winding(40.0, 60.0 * at + 60.0, 1.0) > winding(40.0, 60.0 * at, 1.0));
        assert!(winding(40.0, 600.0, 0.5 + 0.2 * at) > winding(40.0, 600.0, 0.7 + 0.2 * at));
    }
}

#[test]
fn a_winding_that_runs_away_burns_out_at_a_time_and_never_without_a_number() {
    // Runaway begins at I² R alpha = 1/(1/3 + 1/1.2).
    let edge_a = (1.0 / (1.0 / 3.0 + 1.0 / 1.2) / COPPER_PER_K / 0.014).sqrt();
    for (current_a, away) in [(0.99 * edge_a, false), (1.01 * edge_a, true)] {
        assert_eq!(runs_away(&BODY, Resistance::ohm(0.014), Current::a(current_a)), Ok(away));
    }
    let Heated::BurnsOut { after } = run(&BODY, &[stretch(400.0, 0.0, 36_000.0)], 1) else { panic!("it lasts") };
    // 2240 W into 60 J/K with hardly any time to lose heat: C/(I² R alpha) ln(1 + alpha x).
    let growth_w_k = 400.0 * 400.0 * 0.014 * COPPER_PER_K;
    let rise_k = BURNT.to_k() - ZERO_K - 20.0;
    let alone_s = 60.0 / growth_w_k * (1.0 + COPPER_PER_K * rise_k).ln();
    assert!(after.to_s() > alone_s && after.to_s() < 1.3 * alone_s, "{after:?} and {alone_s}");
    let Heated::BurnsOut { after } = run(&BODY, &[stretch(5000.0, 1e6, 36_000.0)], 1_000_000) else {
        panic!("it lasts")
    };
    assert!(after.to_s() > 0.0 && after.to_s() < 1.0, "{after:?}");
}

#[test]
fn every_estimate_has_its_ends_and_its_source() {
    for row in ESTIMATES {
        assert!(0.0 < row.low && row.low < row.usual && row.usual < row.high, "{}", row.what);
        assert!(row.source.contains("estimate, no source") && !row.unit.is_empty(), "{}", row.what);
    }
    let body = ThermalBody::of_mass(Mass::kg(8.0), 1.0).unwrap();
    check(body.case_j_k, 8.0 * ESTIMATES[1].usual, ROUNDING);
    check(body.case_to_air_w_k, 4.0 * ESTIMATES[3].usual, ROUNDING);
}

#[test]
fn what_is_outside_its_range_is_refused_by_name() {
    let refused = |stretch: Stretch, air: Temperature| {
        let duty = Duty { resistance: Resistance::ohm(0.014), air, stretches: &[stretch], repeats: 1 };
        after_run(&BODY, &duty).unwrap_err().to_string()
    };
    assert_eq!(refused(stretch(-1.0, 0.0, 1.0), celsius(20.0)), "current is -1 A, outside 0 to 5000 A");
    assert!(refused(stretch(1.0, f64::NAN, 1.0), celsius(20.0)).starts_with("no-load loss is NaN W"));
    assert!(refused(stretch(1.0, 0.0, 1.0), celsius(90.0)).starts_with("air temperature is 363.15 K"));
    let message = resistance_at(Resistance::ohm(1.0), celsius(500.0)).unwrap_err().to_string();
    assert_eq!(message, "winding temperature is 773.15 K, outside 220 to 600 K");
    assert!(ThermalBody::of_mass(Mass::ZERO, 1.0).unwrap_err().to_string().starts_with("motor mass is 0 kg"));
}
