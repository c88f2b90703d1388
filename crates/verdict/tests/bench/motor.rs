//! Heat, bearings, way to a stop and makers' limits of whole trucks.
//!
//! No outside source: which way the figures of the invented truck move, and what stays unknown.

use crate::bench::{Judged, STRIPPED, blows, example, job, margin, margins_of, near, ranges, unopened, with};
use toothsayer_job::{Build, State};
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::motor::Heated;
use toothsayer_verdict::{
    Bay, FailsAt, Grease, Holds, Limit, Margin, bearing_speeds, makers_limits, run_heat, stopping_distance,
    truck_speeds,
};

/// Half a unit of the last digit in which the figure is stated.
const OF_HEAT: f64 = 0.05;
/// Roundings of a few operations.
const ROUNDING: f64 = 1e-9;

fn build(text: &str) -> Build {
    job(text).built.build().expect("it builds")
}

fn margins(text: &str) -> Vec<Margin> {
    margins_of(&job(text).built).expect("margins")
}

fn heat_margin(text: &str) -> f64 {
    margin(&margins(text), "motor", Limit::Temperature, "any")
}

/// The example with one line more in a table.
fn with_line(table: &str, line: &str) -> String {
    with(&unopened(), table, &format!("{table}\n{line}"))
}

#[test]
fn the_example_keeps_its_motor_cool_enough() {
    near(heat_margin(&unopened()), 1.77, OF_HEAT, "heat of the motor");
    let ranges = ranges(64, 1);
    let states = STRIPPED.verdict.margins(Some(&ranges), &crate::bench::MEMO).expect("margins");
    let built = states.iter().find(|margins| margins.state == State::Built).expect("built");
    let heat = built.margins.iter().find(|margin| margin.limit == Limit::Temperature).expect("heat");
    assert!(heat.chance().is_some_and(|chance| chance < 0.05) && heat.low < heat.high, "{heat:?}");
}

#[test]
fn whatever_heats_a_motor_lowers_its_margin() {
    let usual = heat_margin(&unopened());
    for (old, new) in [
        ("full_throttle_share = \"25 %\"", "full_throttle_share = \"60 %\""),
        ("run_minutes = \"12 min\"", "run_minutes = \"25 min\""),
        ("resistance = \"14 mohm\"", "resistance = \"30 mohm\""),
        ("mass = \"0.95 kg\"", "mass = \"0.5 kg\""),
        ("ratio_after_spur = 5.1", "ratio_after_spur = 3.6"),
        ("no_load_current = \"3 A\"", "no_load_current = \"7 A\""),
        ("temperature_limit = \"110 degC\"", "temperature_limit = \"90 degC\""),
    ] {
        let hot = heat_margin(&with(&unopened(), old, new));
        assert!(hot < usual, "{new}: {hot}, {usual} before");
    }
    assert!(
        heat_margin(&with_line("[driver]                        # per run", "air_temperature = \"35 degC\"")) < usual
    );
    assert!(heat_margin(&with_line("[motor]", "cooling = 2.0")) > usual);
}

#[test]
fn a_motor_cooked_by_its_driver_fails_at_driving_and_one_that_burns_out_says_when() {
    let hard = with(&unopened(), "full_throttle_share = \"25 %\"", "full_throttle_share = \"60 %\"");
    let hard = with(&hard, "launches = 60", "launches = 1000");
    let hard = with(&hard, "landings_on_brake = \"10 %\"", "landings_on_brake = \"10 %\"\npart_load = \"80 %\"");
    let judged = Judged::of(&with(&hard, "run_minutes = \"12 min\"", "run_minutes = \"60 min\""));
    let state = judged.state(State::Built);
    let heat = state.margins.iter().find(|margin| margin.limit == Limit::Temperature).expect("heat");
    assert!(heat.fails() && heat.fails_at == Some(FailsAt::Driving) && state.holds == Holds::No, "{heat:?}");

    let burning = build(&with(&hard, "resistance = \"14 mohm\"", "resistance = \"200 mohm\""));
    let heat = run_heat(&burning, &Bay::new(&burning, true).expect("a bay")).expect("heat");
    let Heated::BurnsOut { after } = heat.end else { panic!("{heat:?}") };
    assert!(heat.runs_away && after.to_s() > 0.0 && after < burning.driver.run);
}

#[test]
fn a_gearing_that_saves_teeth_and_cooks_the_motor_is_seen_as_such() {
    // Fewer turns of the motor for one of the wheels: the same push at the tread takes more current.
    let long = with(&unopened(), "ratio_after_spur = 5.1", "ratio_after_spur = 3.2");
    let current = |text: &str| {
        let build = build(text);
        run_heat(&build, &Bay::new(&build, true).expect("a bay")).expect("heat").full_current
    };
    assert!(current(&long) > current(&unopened()) * 1.4);
}

#[test]
fn the_support_bearing_outlasts_the_horizon_and_named_bearings_have_both_limits() {
    let usual = margins(&unopened());
    assert!(margin(&usual, "support-bearing", Limit::Life, "any") > 1000.0);
    assert!(!usual.iter().any(|margin| margin.part.ends_with("front-bearing") || margin.part == "input-bearing"));
    let text = with_line("[motor]", "front_bearing = \"8x22x7\"");
    let named = margins(&with(&text, "[driveline]", "[driveline]\ninput_bearing = \"10x15x4\""));
    for part in ["motor-front-bearing", "input-bearing"] {
        assert!(margin(&named, part, Limit::Life, "any") > 1.0, "{part}");
        assert!(margin(&named, part, Limit::Static, "launch") > 1.0, "{part}");
    }
    let hardest_n =
        blows(&unopened()).iter().find(|peaks| peaks.case == Case::Launch).expect("a launch").hardest().force_n;
    let input =
        named.iter().find(|margin| margin.part == "input-bearing" && margin.case == "launch").expect("it is there");
    near(input.demand, hardest_n / 2.0, ROUNDING * hardest_n, "two bearings share the tooth force");
}

#[test]
fn a_bearing_behind_the_spur_turns_slower_and_asks_for_less() {
    let text = with(&unopened(), "[driveline]", "[driveline]\ninput_bearing = \"10x15x4\"");
    let build = build(&with(&text, "[motor]", "[motor]\nfront_bearing = \"8x22x7\""));
    let speeds = bearing_speeds(&build, &Bay::new(&build, true).expect("a bay")).expect("speeds");
    let of = |part: &str| speeds.iter().find(|row| row.part == part).expect("it is named");
    // Mean diameters 12, 15 and 12.5 mm; the spur turns 53/19 times slower.
    let rotor = of("support-bearing").speed_factor_mm_per_min / 12.0;
    near(of("motor-front-bearing").speed_factor_mm_per_min, 15.0 * rotor, 1e-6, "front bearing");
    near(of("input-bearing").speed_factor_mm_per_min, 12.5 * rotor * 19.0 / 53.0, 1e-6, "input bearing");
    let greases = ["support-bearing", "motor-front-bearing", "input-bearing"].map(|part| of(part).grease);
    assert_eq!(greases, [Grease::Special, Grease::Beyond, Grease::Ordinary]);
}

#[test]
fn a_front_bearing_carries_more_without_its_support() {
    let text = with_line("[motor]", "front_bearing = \"8x22x7\"");
    let gone = with(&text, "stiffness = \"2 kN/mm\"", "stiffness = \"0 N/mm\"");
    let at = |text: &str| margin(&margins(text), "motor-front-bearing", Limit::Static, "launch");
    assert!(at(&gone) < at(&text), "{} without, {} with", at(&gone), at(&text));
}

#[test]
fn only_a_pressed_bearing_warms_its_seat() {
    let has_seat = |margins: &[Margin]| margins.iter().any(|margin| margin.limit == Limit::Seat);
    assert!(!has_seat(&margins(&unopened())));
    let seat = |spacer: &str, under: &str| {
        let text = with(&unopened(), "spacer = \"4.0 mm\"", &format!("spacer = \"{spacer}\""));
        // The gear cover's joint alone, the last of the three.
        let place = text.rfind("under_head = \"pa66-gf30\"").expect("the cover");
        let (head, tail) = text.split_at(place);
        margins(&format!("{head}{}", tail.replacen("pa66-gf30", under, 1)))
    };
    let at = |spacer: &str, under: &str| margin(&seat(spacer, under), "support-bearing", Limit::Seat, "any");
    assert!(at("4.6 mm", "pa66-gf30") > at("4.6 mm", "pa66"), "glass stands more heat");
    assert!(at("5.0 mm", "pa66") < at("4.6 mm", "pa66"), "the harder pressed, the warmer");
    assert!(!has_seat(&seat("4.6 mm", "aluminium")), "metal does not soften");
}

#[test]
fn no_draw_is_lost_where_some_press_the_bearing_and_others_do_not() {
    const SAMPLES: u32 = 64;
    let near = with(&unopened(), "value = \"22.3 mm\"", "value = \"22.05 mm\"");
    let judged = Judged::of(&near);
    let ranges = ranges(SAMPLES, 3);
    let states = judged.verdict.margins(Some(&ranges), &crate::bench::MEMO).expect("margins");
    let built = states.iter().find(|margins| margins.state == State::Built).expect("built");
    let gap = built.margins.iter().find(|margin| margin.limit == Limit::Gap).expect("a gap");
    // The gap of 0.05 mm is pressed shut in a good part of the draws; each of the 64 counts.
    let share = gap.chance().expect("a chance");
    assert!(share > 0.5 && share < 1.0 && (share * f64::from(SAMPLES)).fract() == 0.0, "{share}");
    assert_eq!(gap.low, Some(0.0), "pressed draws are among them");
}

#[test]
fn a_weaker_brake_never_stops_sooner_and_starts_from_the_full_brakes_speed() {
    let build = build(&unopened());
    let bay = Bay::new(&build, true).expect("a bay");
    let top_m_s = truck_speeds(&build, &bay).expect("speeds").top_speed.to_m_per_s();
    let mut before_m = 0.0;
    for tenths in (1..=10).rev() {
        let stop = stopping_distance(&build, &bay, f64::from(tenths) / 10.0).expect("a stop");
        near(stop.from.to_m_per_s(), 0.9 * top_m_s, ROUNDING * top_m_s, "speed at the start");
        let way_m = stop.distance.expect("it stops").to_m();
        assert!(way_m >= before_m, "{way_m} m at {tenths} tenths");
        before_m = way_m;
    }
    let two = with(&unopened(), "count = 4", "count = 4\ndriven = 2");
    let two = job(&two).built.build().expect("it builds");
    let longer = stopping_distance(&two, &Bay::new(&two, true).expect("a bay"), 1.0).expect("a stop").distance;
    assert!(longer > stopping_distance(&build, &bay, 1.0).expect("a stop").distance, "two wheels grip less than four");
}

// IEC 61960-3's full cell of 4.2 V (from memory): 4, 6 and 8 cells make 16.8, 25.2 and 33.6 V.
#[test]
fn a_full_pack_has_its_standards_voltage() {
    for (cells, full_v) in [(4, 16.8), (6, 25.2), (8, 33.6)] {
        let build = build(&with(&unopened(), "cells = 7", &format!("cells = {cells}")));
        let [_, motor, _] = makers_limits(&build, &Bay::new(&build, true).expect("a bay"));
        near(motor.value, full_v * 980.0 * std::f64::consts::TAU / 60.0, 1e-6, "motor speed of the full pack");
    }
}

#[test]
fn a_limit_that_nobody_states_is_unknown_and_one_that_is_passed_is_said() {
    let of = |text: &str| {
        let build = build(text);
        makers_limits(&build, &Bay::new(&build, true).expect("a bay"))
    };
    assert_eq!(of(&unopened()).map(|row| row.passed()), [Some(false), Some(false), None]);
    let slow = with(&unopened(), "max_speed = \"50000 rpm\"", "max_speed = \"28000 rpm\"");
    let slow = with(&slow, "max_cells = 8", "max_cells = 6");
    let slow = with(&slow, "relaxation_length = \"80 mm\"", "relaxation_length = \"80 mm\"\nmax_speed = \"2100 rpm\"");
    // 7 cells at 4.2 V x 980 rpm/V = 28 812 rpm; over 53/19 x 5.1 that is 2025 rpm at the wheels.
    let rows = of(&slow);
    assert_eq!(rows.map(|row| row.passed()), [Some(true), Some(true), Some(false)]);
    near(rows[1].value, 28_812.0 * std::f64::consts::TAU / 60.0, 1e-6, "motor speed of the full pack");
    let charged = of(&with(&unopened(), "cell_voltage = \"3.9 V\"", "cell_voltage = \"4.35 V\""));
    assert!(charged[1].value > rows[1].value, "a cell that is charged higher counts as it is");
    assert!(example("tarnhorn.toml").contains("max_speed"), "the example states its motor's limit");
}
