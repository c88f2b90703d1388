//! Life of a root: the line of strength, Miner's sum, mean stress, and what one tooth gets of the mesh's force.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_evidence::Cycle;
use toothsayer_mechanics::Error;
use toothsayer_mechanics::driveline::{MeshPoint, TracePoint};
use toothsayer_mechanics::fatigue::{
    Flank, RootLine, RootLineParameters, RootMetal, ToothTurns, damage, mean_ratio, mean_stress_factor, tooth_cycles,
};
use toothsayer_mechanics::gear::{RootDuty, root_strength};
use toothsayer_mechanics::material::{SnLine, Treatment, gear_material};
use toothsayer_quantity::{Hardness, Pressure};

/// Doubles over a handful of operations, relative.
const ROUNDING: f64 = 1e-12;
/// A book's figures carry three or four digits.
const PRINTED: f64 = 1e-3;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance * expected.abs(), "got {got}, expected {expected}");
}

fn cycle(low: f64, high: f64, count: f64) -> Cycle {
    Cycle { low, high, count }
}

/// A line on which a newton makes a megapascal.
fn line(endurance_mpa: f64, sn: SnLine, mean_ratio: f64) -> RootLine {
    RootLine::new(RootLineParameters { endurance: Pressure::mpa(endurance_mpa), line: sn, mean_ratio }).unwrap()
}

fn sum(line: &RootLine, cycles: &[Cycle]) -> f64 {
    damage(cycles, line, |force| Ok::<_, Error>(Pressure::mpa(force.to_n()))).unwrap().sum
}

const STEEL: SnLine = SnLine { static_cycles: 1e4, static_factor: 2.5, endurance_cycles: 3e6 };

// Shigley, "Mechanical Engineering Design", 9th edition, p. 324: Sut 80, Se 40 kpsi, f 0.9: the line runs from 72 kpsi at
// 1e3 cycles to 40 kpsi at 1e6; 60 kpsi is borne 8520 times, and after 3000 of them 0.648 of the life is left.
#[test]
fn a_books_line_and_its_used_up_life_come_back() {
    let book = line(40.0, SnLine { static_cycles: 1e3, static_factor: 72.0 / 40.0, endurance_cycles: 1e6 }, 1.0);
    check(book.cycles(Pressure::mpa(60.0)).unwrap(), 8520.0, PRINTED);
    check(1.0 - sum(&book, &[cycle(0.0, 60.0, 3000.0)]), 0.648, PRINTED);
}

// Closed form of a straight line in log-log: N = N0 (s/s0)^-k, below and above its ends as well.
#[test]
fn constant_loads_are_borne_as_the_line_says() {
    let steel = line(400.0, STEEL, 1.0);
    let k = 300.0_f64.ln() / 2.5_f64.ln();
    check(steel.slope(), k, ROUNDING);
    for stress_mpa in [100.0, 400.0, 650.0, 1000.0, 1300.0] {
        let n = 3e6 * (stress_mpa / 400.0_f64).powf(-k);
        check(steel.cycles(Pressure::mpa(stress_mpa)).unwrap(), n, ROUNDING);
        check(sum(&steel, &[cycle(0.0, stress_mpa, 0.25 * n)]), 0.25, ROUNDING);
    }
    check(steel.cycles(Pressure::mpa(1000.0)).unwrap(), 1e4, ROUNDING);
}

// ISO 6336-6 (from memory): the equivalent of a spectrum is (sum n T^p/sum n)^(1/p).
#[test]
fn a_spectrum_does_what_its_equivalent_does() {
    let steel = line(400.0, STEEL, 1.0);
    let spectrum = [cycle(0.0, 900.0, 40.0), cycle(0.0, 600.0, 700.0), cycle(0.0, 350.0, 9000.0)];
    let p = steel.slope();
    let n: f64 = spectrum.iter().map(|cycle| cycle.count).sum();
    let equivalent = (spectrum.iter().map(|cycle| cycle.count * cycle.high.powf(p)).sum::<f64>() / n).powf(1.0 / p);
    check(sum(&steel, &spectrum), sum(&steel, &[cycle(0.0, equivalent, n)]), ROUNDING);
}

#[test]
fn an_equal_strength_more_takes_the_slope_off_the_damage() {
    let (weak, strong) = (line(400.0, STEEL, 1.0), line(480.0, STEEL, 1.0));
    let blows = [cycle(0.0, 700.0, 12.0), cycle(0.0, 500.0, 80.0)];
    check(sum(&strong, &blows) / sum(&weak, &blows), 1.2_f64.powf(-weak.slope()), ROUNDING);
}

// ISO 6336-3, annex B (from memory): YM = 0.7 for an idler's fully reversed load; M = 0.4 gives it exactly at R = -1.
#[test]
fn a_reversed_load_is_borne_less_and_a_standing_one_more() {
    check(mean_stress_factor(-1.0, mean_ratio(Treatment::InductionHardened, 2.0)).unwrap(), 0.7, ROUNDING);
    check(mean_stress_factor(0.0, 0.3).unwrap(), 1.0, ROUNDING);
    check(mean_stress_factor(0.5, 1.0).unwrap(), 1.0, ROUNDING);
    // The line of amplitude over mean, a + M s = (1 + M)/2 in units of the cycle from zero: at R = 0.5 and M = 0.3 the
    // amplitude is a quarter and the mean three quarters of the maximum: max = 0.65/(0.25 + 0.3 x 0.75).
    check(mean_stress_factor(0.5, 0.3).unwrap(), 0.65 / 0.475, ROUNDING);
    // Case hardened by the table's own formula, YS = 2.
    check(mean_ratio(Treatment::CaseHardened, 2.0), 0.5, ROUNDING);
    assert!(mean_stress_factor(-1.3, 0.3).is_err() && mean_stress_factor(f64::NAN, 0.3).is_err());
}

#[test]
fn a_cycle_on_top_of_a_standing_load_takes_less_life_than_one_from_zero() {
    let steel = line(400.0, STEEL, 0.3);
    let from_zero = sum(&steel, &[cycle(0.0, 800.0, 1.0)]);
    let on_top = sum(&steel, &[cycle(400.0, 800.0, 1.0)]);
    check(on_top / from_zero, (0.65 / 0.475_f64).powf(-steel.slope()), ROUNDING);
    let no_credit = line(400.0, STEEL, 1.0);
    check(sum(&no_credit, &[cycle(400.0, 800.0, 1.0)]), sum(&no_credit, &[cycle(0.0, 800.0, 1.0)]), ROUNDING);
}

// The line of a material is the one that the strength itself is read from (ISO 6336-3, clause 5).
#[test]
fn a_materials_line_passes_through_its_strength_at_every_life() {
    let material = gear_material("through-hardened-alloy").unwrap();
    for both_flanks in [false, true] {
        let duty = |cycles: f64| RootDuty { hardness: Hardness::hv(320.0), cycles, both_flanks };
        let line = RootLine::of(&RootMetal { material, duty: duty(1.0), stress_factor: 1.8 }).unwrap();
        for cycles in [1e4, 1e5, 1e6, 3e6] {
            check(line.cycles(root_strength(material, &duty(cycles)).unwrap()).unwrap(), cycles, 1e-9);
        }
    }
}

// A plastic's line is none in log-log: the straight one meets it at both ends (VDI 2736-2).
#[test]
fn a_plastics_line_meets_its_strength_at_both_ends() {
    let material = gear_material("pom").unwrap();
    let duty = |cycles: f64| RootDuty { hardness: Hardness::ZERO, cycles, both_flanks: false };
    let line = RootLine::of(&RootMetal { material, duty: duty(1.0), stress_factor: 1.8 }).unwrap();
    for cycles in [1e5, 3e6] {
        check(line.cycles(root_strength(material, &duty(cycles)).unwrap()).unwrap(), cycles, 1e-9);
    }
}

fn history(forces_n: &[f64]) -> Vec<MeshPoint> {
    let point =
        |(place, force_n): (usize, &f64)| MeshPoint { time_s: 0.01 * place as f64, force_n: *force_n, current_a: 0.0 };
    forces_n.iter().enumerate().map(point).collect()
}

/// A rotor that turns `turns` times a second, for so many hundredths of a second.
fn trace(turns: f64, hundredths: u32) -> Vec<TracePoint> {
    let rotor_speed_rad_s = turns * std::f64::consts::TAU;
    let point = |place: u32| TracePoint { time_s: 0.01 * f64::from(place), rotor_speed_rad_s, ..TracePoint::default() };
    (0..=hundredths).map(point).collect()
}

#[track_caller]
fn counted(cycles: &[Cycle], high: f64, expected: f64) {
    let count: f64 =
        cycles.iter().filter(|cycle| cycle.high == high && cycle.low == 0.0).map(|cycle| cycle.count).sum();
    assert_eq!(count, expected, "{cycles:?}");
}

#[test]
fn a_blow_on_each_flank_is_one_cycle_from_zero_of_each() {
    let blows = history(&[0.0, 900.0, 0.0, -400.0, 0.0]);
    let still = ToothTurns::default();
    let of = |flank| tooth_cycles(&blows, &still, flank).unwrap();
    counted(&of(Flank::Drive), 900.0, 1.0);
    counted(&of(Flank::Coast), 400.0, 1.0);
    assert_eq!(of(Flank::Drive).len() + of(Flank::Coast).len(), 4);
}

#[test]
fn a_force_that_lasts_is_borne_once_a_turn() {
    let steady = history(&[200.0; 31]);
    // 25 turns a second over 0.3 s: seven and a half turns, after each whole one the tooth has left the mesh.
    let turns = ToothTurns::of(&trace(25.0, 30), 1.0).unwrap();
    assert_eq!(turns.count(), 7);
    counted(&tooth_cycles(&steady, &turns, Flank::Drive).unwrap(), 200.0, 8.0);
    // The spur turns less often by the ratio.
    let turns = ToothTurns::of(&trace(25.0, 30), 19.0 / 53.0).unwrap();
    assert_eq!(turns.count(), 2);
    counted(&tooth_cycles(&steady, &turns, Flank::Drive).unwrap(), 200.0, 3.0);
    counted(&tooth_cycles(&steady, &ToothTurns::default(), Flank::Drive).unwrap(), 200.0, 1.0);
}

#[test]
fn what_is_no_turn_and_no_stress_is_refused() {
    assert!(ToothTurns::of(&trace(25.0, 3), 0.0).is_err());
    assert!(ToothTurns::of(&trace(f64::NAN, 3), 1.0).is_err());
    assert!(tooth_cycles(&history(&[0.0, f64::NAN]), &ToothTurns::default(), Flank::Drive).is_err());
    let flat = SnLine { static_cycles: 1e4, static_factor: 1.0, endurance_cycles: 3e6 };
    let parameters = RootLineParameters { endurance: Pressure::mpa(400.0), line: flat, mean_ratio: 1.0 };
    assert!(RootLine::new(parameters).is_err());
}
