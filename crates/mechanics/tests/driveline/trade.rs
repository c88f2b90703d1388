//! What the bench knows of shocks: common practice, no source.

use crate::example::{run, truck};
use toothsayer_mechanics::driveline::{Case, Outcome, Parameters};

fn drive(outcome: &Outcome) -> f64 {
    outcome.peak_drive_flank.force_n
}

fn coast(outcome: &Outcome) -> f64 {
    outcome.peak_coast_flank.force_n
}

// common practice, no source; the shares are this model's on the example
#[test]
fn wheels_twice_as_heavy_strike_harder_but_land_alike() {
    let (usual, heavy) = (truck(), Parameters { wheel_mass_kg: 0.82, ..truck() });
    let growth =
        |case: Case, of: fn(&Outcome) -> f64| of(&run(&heavy, case, None)) / of(&run(&usual, case, None)) - 1.0;
    assert!((growth(Case::Launch, drive) - 0.19).abs() < 0.03, "{}", growth(Case::Launch, drive));
    assert!((growth(Case::FullBrake, coast) - 0.17).abs() < 0.03, "{}", growth(Case::FullBrake, coast));
    let reversal = |outcome: &Outcome| outcome.hardest().force_n;
    let drive_reversal = growth(Case::Reversal, drive);
    assert!(
        (drive_reversal - 0.33).abs() < 0.04 || (growth(Case::Reversal, reversal) - 0.33).abs() < 0.04,
        "{drive_reversal}"
    );
    // On this truck 5 % less: the heavier wheel slows the blow's rise, while the others grow by 17 to 33 %.
    assert!(growth(Case::LandingOnThrottle, drive).abs() < 0.08, "{}", growth(Case::LandingOnThrottle, drive));
}

// common practice, no source
#[test]
fn a_weaker_brake_spares_the_coast_flank_in_full_brake() {
    let at = |strength: f64| coast(&run(&Parameters { brake_strength: strength, ..truck() }, Case::FullBrake, None));
    assert!(at(0.4) < at(0.7) && at(0.7) < at(1.0));
}

// common practice, no source
#[test]
fn a_weaker_throttle_spares_the_drive_flank_in_a_launch() {
    let at = |strength: f64| drive(&run(&Parameters { throttle_strength: strength, ..truck() }, Case::Launch, None));
    assert!(at(0.4) < at(0.7) && at(0.7) < at(1.0));
}

// common practice, no source
#[test]
fn landing_on_the_throttle_loads_the_teeth_far_more_than_landing_off_it() {
    let on = run(&truck(), Case::LandingOnThrottle, Some(1.0)).hardest().force_n;
    let off = run(&truck(), Case::LandingCoasting, Some(1.0)).hardest().force_n;
    assert!(on > 5.0 * off, "{on} N on, {off} N off");
}
