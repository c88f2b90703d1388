//! What the trade knows of pinion, spacer, support bearing and gear steel. Common practice, no source.

use crate::bench::{HEALTHY, Judged, STRIPPED, example, job, least, margin, margins_of, unopened, with};
use toothsayer_job::State;
use toothsayer_verdict::{Holds, Limit, Margin};

/// Lengths agree to a micrometre.
const SAME_M: f64 = 1e-6;

fn overlap_m(margins: &[Margin]) -> f64 {
    let overlap = margins.iter().find(|margin| margin.limit == Limit::Overlap).expect("an overlap");
    overlap.capacity
}

/// The example with these checks answered yes.
fn found(checks: &[&str]) -> Judged {
    let findings: String =
        checks.iter().map(|check| format!("[[findings]]\ncheck = \"{check}\"\nanswer = \"yes\"\n")).collect();
    Judged::of(&format!("{}\n{findings}", unopened()))
}

#[test]
fn a_loose_pinion_keeps_its_overlap_while_the_support_bearing_stops_it() {
    let judged = found(&["pinion-wanders"]);
    let (built, wandering) = (judged.state(State::Built), judged.state(State::Found));
    let gap_m = judged.verdict.stage(State::Built).expect("built").sheet.build().expect("a build").stack.gap.to_m();
    let lost_m = overlap_m(&built.margins) - overlap_m(&wandering.margins);
    assert!(gap_m > 0.0 && lost_m > 0.0 && lost_m <= gap_m + SAME_M, "{lost_m} of {gap_m}");
    assert!(margin(&wandering.margins, "mesh", Limit::Overlap, "any") > 1.0);
}

#[test]
fn a_loose_pinion_without_its_support_bearing_runs_off_the_spur() {
    let whole = found(&["pinion-wanders"]);
    let gone = found(&["pinion-wanders", "support-bearing-destroyed"]);
    let of = |judged: &Judged| judged.state(State::Found).margins.clone();
    assert!(overlap_m(&of(&gone)) < 0.6 * overlap_m(&of(&whole)));
    assert!(margin(&of(&gone), "mesh", Limit::Overlap, "any") < 1.0);
    for gear in ["pinion", "spur"] {
        assert!(least(&of(&gone), gear, Limit::Root) < 0.7 * least(&of(&whole), gear, Limit::Root), "{gear}");
    }
}

#[test]
fn a_support_bearing_gone_lets_the_shaft_bend_and_the_teeth_bear_less() {
    let margins = |text: &str| margins_of(&job(text).built).expect("margins");
    let whole = margins(&example("tarnhorn.toml"));
    let gone = margins(&with(&example("tarnhorn.toml"), "stiffness = \"2 kN/mm\"", "stiffness = \"0 N/mm\""));
    assert!(least(&gone, "motor-shaft", Limit::Bending) < least(&whole, "motor-shaft", Limit::Bending));
    assert!(least(&gone, "mesh", Limit::Engagement) < least(&whole, "mesh", Limit::Engagement));
    assert!(least(&gone, "pinion", Limit::Root) < least(&whole, "pinion", Limit::Root));
}

/// The gap's margin with a spacer of this length.
fn gap_margin(spacer: &str) -> f64 {
    let text = with(&example("tarnhorn.toml"), "spacer = \"4.0 mm\"", &format!("spacer = \"{spacer}\""));
    margin(&margins_of(&job(&text).built).expect("margins"), "stack", Limit::Gap, "any")
}

#[test]
fn without_its_spacer_the_pinion_leaves_the_cover_bearing_idle() {
    assert!(gap_margin("4.0 mm") > 1.0);
    assert!(gap_margin("0 mm") < 1.0);
}

#[test]
fn with_too_long_a_spacer_the_pinion_presses_the_cover_bearing() {
    assert!(gap_margin("4.5 mm") < 1.0);
}

#[test]
fn a_missing_spacer_costs_overlap() {
    let without = with(&example("tarnhorn.toml"), "spacer = \"4.0 mm\"", "spacer = \"0 mm\"");
    assert!(margin(&margins_of(&job(&without).built).expect("margins"), "mesh", Limit::Overlap, "any") < 1.0);
}

/// The same truck with a maker's table that says nothing else than the base tables.
fn with_stock() -> String {
    format!("{}\n[stock.controller]\nbrake_strength = \"100 %\"\n", unopened())
}

#[test]
fn a_stock_truck_in_good_order_holds() {
    let judged = Judged::of(&with_stock());
    assert_ne!(judged.holds(State::Stock), Holds::No);
    assert_ne!(STRIPPED.holds(State::Built), Holds::No);
    assert_ne!(HEALTHY.holds(State::Built), Holds::No);
}

#[test]
fn case_hardened_gears_bear_more_at_the_root_and_the_stock_ones_hold_without() {
    let hard = example("tarnhorn.toml").replace("through-hardened-alloy", "case-hardened");
    let hard = with(&with(&hard, "\"330 HV\"", "\"700 HV\""), "\"300 HV\"", "\"700 HV\"");
    let margins = |text: &str| margins_of(&job(text).built).expect("margins");
    let (usual, hard) = (margins(&example("tarnhorn.toml")), margins(&hard));
    for gear in ["pinion", "spur"] {
        assert!(least(&hard, gear, Limit::Root) > 1.1 * least(&usual, gear, Limit::Root), "{gear}");
        assert!(least(&usual, gear, Limit::Root) > 1.0, "{gear}");
    }
}

#[test]
fn a_motor_rocking_in_its_mount_opens_the_mesh_under_load() {
    let margins = |state| least(&STRIPPED.state(state).margins, "mesh", Limit::Engagement);
    assert!(margins(State::Found) < 1.0 && margins(State::Built) > 1.2);
}
