//! What the trade knows of blows: wheels, brake, throttle, landings. Common practice, no source.
//!
//! The sizes of the effects are this project's model on its example truck.

use crate::bench::{blows, example, job, least, margins_of, near, of_case, with};
use toothsayer_job::Origin;
use toothsayer_mechanics::driveline::Case;
use toothsayer_verdict::{CasePeaks, Limit};

/// Changes are stated in whole percent and held to two.
const OF_CHANGE: f64 = 0.02;
/// A landing "hardly changes" below this share.
const HARDLY: f64 = 0.10;

fn hardest_n(blows: &[CasePeaks], case: Case) -> f64 {
    of_case(blows, case).hardest().force_n
}

#[test]
fn wheels_twice_as_heavy_strike_harder_but_hardly_in_landings() {
    let usual = blows(&example("tarnhorn.toml"));
    let heavy = blows(&with(&example("tarnhorn.toml"), "mass = \"410 g\"", "mass = \"820 g\""));
    let change = |case: Case| hardest_n(&heavy, case) / hardest_n(&usual, case) - 1.0;
    near(change(Case::Launch), 0.19, OF_CHANGE, "launch");
    near(change(Case::FullBrake), 0.17, OF_CHANGE, "full brake");
    let drive_n = |blows: &[CasePeaks]| of_case(blows, Case::Reversal).drive.force_n;
    near(drive_n(&heavy) / drive_n(&usual) - 1.0, 0.33, OF_CHANGE, "throttle blow of the reversal");
    for case in [Case::LandingOnThrottle, Case::LandingOnBrake] {
        near(change(case), 0.0, HARDLY, case.name());
    }
}

/// Peaks fall step by step as the setting is lowered.
#[track_caller]
fn check(setting: &str, peak_n: impl Fn(&[CasePeaks]) -> f64) {
    let full = format!("{setting} = \"100 %\"");
    let at = |percent: u32| {
        let text = with(&example("tarnhorn.toml"), &full, &format!("{setting} = \"{percent} %\""));
        peak_n(&blows(&text))
    };
    let peaks: Vec<f64> = [100, 80, 60, 40, 20].map(at).to_vec();
    assert!(peaks.is_sorted_by(|more, less| less < more), "{setting}: {peaks:?}");
    assert!(peaks[2] < 0.8 * peaks[0], "{setting} at 60 % takes less than a fifth off: {peaks:?}");
}

#[test]
fn a_lower_brake_strikes_the_coast_flank_less() {
    check("brake_strength", |blows| of_case(blows, Case::FullBrake).coast.force_n);
}

#[test]
fn a_lower_throttle_strikes_the_drive_flank_less_in_a_launch() {
    check("throttle_strength", |blows| of_case(blows, Case::Launch).drive.force_n);
}

#[test]
fn the_brake_is_delivered_at_full_strength() {
    let text = with(&example("tarnhorn.toml"), "brake_strength = \"100 %\"\n", "");
    let entry = &job(&text).built.fields.numbers["controller.brake_strength"];
    assert_eq!(entry.value, 1.0);
    assert!(matches!(entry.origin, Origin::Default(_)), "{:?}", entry.origin);
}

#[test]
fn landing_on_the_throttle_loads_the_teeth_far_more_than_coasting() {
    let blows = blows(&example("tarnhorn.toml"));
    assert!(hardest_n(&blows, Case::LandingOnThrottle) > 5.0 * hardest_n(&blows, Case::LandingCoasting));
}

#[test]
fn a_higher_drop_strikes_harder() {
    let at = |metres: &str| {
        let drop = "{ value = \"0.8 m\", low = \"0.2 m\", high = \"2 m\" }";
        hardest_n(&blows(&with(&example("tarnhorn.toml"), drop, metres)), Case::LandingOnThrottle)
    };
    let peaks = ["\"0.2 m\"", "\"0.8 m\"", "\"2 m\"", "\"5 m\""].map(at);
    assert!(peaks.is_sorted_by(|less, more| less < more), "{peaks:?}");
}

/// A small brushed truck with two driven wheels, from five facts.
const SMALL: &str = "[truck]\nmass = \"1.6 kg\"\n[battery]\ncells = 2\n[motor]\nkv = \"3300 rpm/V\"\n[gears]\n\
    diametral_pitch = \"48 1/in\"\npinion.teeth = 23\nspur.teeth = 87\n[wheels]\ndiameter = \"66 mm\"\nmass = \"45 g\"\n";

#[test]
fn a_small_brushed_truck_strikes_its_pinion_several_times_less() {
    let small = margins_of(&job(SMALL).built).expect("margins");
    let large = margins_of(&job(&example("tarnhorn.toml")).built).expect("margins");
    let root = |margins| least(margins, "pinion", Limit::Root);
    assert!(root(&small) > 2.5 * root(&large), "{} and {}", root(&small), root(&large));
    let hardest = |text: &str| hardest_n(&blows(text), Case::LandingOnThrottle);
    assert!(hardest(SMALL) < 0.2 * hardest(&example("tarnhorn.toml")));
}

#[test]
fn a_small_brushed_trucks_plastic_spur_still_bears_its_usual_driving() {
    let small = margins_of(&job(SMALL).built).expect("margins");
    assert!(least(&small, "spur", Limit::Root) > 1.0);
    assert!(least(&small, "spur", Limit::RootEndurance) > 1.0);
}
