//! A bent motor's shaft: the mesh is tight and loose by turns.
//!
//! No outside source: common practice that a bent shaft binds and rattles once a turn; the figures are this project's own.

use crate::bench::{MEMO, example, job, least, margins_of, near};
use toothsayer_job::{Entry, Origin, Sheet};
use toothsayer_verdict::{Bay, Limit, Loaded};

/// Rounding of a few sums.
const ROUNDING: f64 = 1e-12;

fn bent(run_out_mm: f64) -> Sheet {
    let mut sheet = job(&example("tarnhorn.toml")).built;
    sheet.fields.numbers.insert("motor.run_out", Entry::exact(run_out_mm * 1e-3, Origin::Given));
    sheet
}

#[test]
fn a_straight_shaft_changes_nothing() {
    let straight = margins_of(&bent(0.0)).expect("margins");
    let as_built = margins_of(&job(&example("tarnhorn.toml")).built).expect("margins");
    for (a, b) in straight.iter().zip(&as_built) {
        assert_eq!((a.demand, a.capacity), (b.demand, b.capacity), "{a:?}");
    }
}

#[test]
fn the_mesh_is_judged_at_both_ends_of_the_swing() {
    let bay = |sheet: &Sheet| Bay::new(&sheet.build().expect("it builds"), true).expect("a bay");
    let mean = bay(&bent(0.0));
    let wide = mean.pair.at_centre_distance(mean.pair.spec().centre_distance + toothsayer_quantity::Length::mm(0.02));
    let narrow = mean.pair.at_centre_distance(mean.pair.spec().centre_distance - toothsayer_quantity::Length::mm(0.02));
    let bent = bay(&bent(0.04));
    near(bent.widest().contact_ratio(), wide.expect("a pair").contact_ratio(), ROUNDING, "contact ratio");
    let play = narrow.expect("a pair").normal_backlash();
    near(bent.least_backlash().to_m(), play.to_m(), ROUNDING, "backlash");
}

#[test]
fn the_more_it_swings_the_less_the_mesh_bears() {
    let at = |run_out_mm: f64| {
        let margins = margins_of(&bent(run_out_mm)).expect("margins");
        [(Limit::Engagement, "mesh"), (Limit::Backlash, "mesh"), (Limit::Root, "pinion")]
            .map(|(limit, part)| least(&margins, part, limit))
    };
    let series = [0.0, 0.04, 0.08, 0.3].map(at);
    for pair in series.windows(2) {
        assert!(pair[1][0] < pair[0][0] && pair[1][1] <= pair[0][1] && pair[1][2] <= pair[0][2], "{series:?}");
    }
    // With 0.05 mm of play the teeth bind once a turn.
    assert_eq!(series[3][1], 0.0);
}

#[test]
fn the_blows_feel_the_play_of_the_wide_end() {
    let blow = |run_out_mm: f64| {
        let loaded = Loaded::new(&bent(run_out_mm), true, &MEMO).expect("blows");
        toothsayer_verdict::hardest_n(&loaded.peaks)
    };
    assert_ne!(blow(0.0), blow(0.2));
}
