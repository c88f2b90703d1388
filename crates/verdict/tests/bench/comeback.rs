//! The chance of a comeback over the runs: what every curve obeys. No outside source: the sums are held below.

use crate::bench::{FRAGMENTS, HEALTHY, Judged, MEMO, STRIPPED};

/// Two ways through the same sums, the order of additions apart.
const SAME_CHANCE: f64 = 1e-9;
/// What a later horizon may take back: rounding of the same sums.
const NEVER_BACK: f64 = 1e-9;

#[track_caller]
fn check(judged: &Judged) {
    let (verdict, horizon) = (&judged.verdict, judged.verdict.job.shop.horizon_runs);
    let runs = [1.0, 5.0, 20.0, horizon];
    let curves = verdict.plan.comeback_over_runs(&verdict.diagnosis, &runs, &MEMO).expect("the curves");
    assert_eq!(curves.len(), verdict.plan.alternatives.len());
    for (alternative, curve) in verdict.plan.alternatives.iter().zip(&curves) {
        let at_horizon = curve.last().expect("a chance for each of the runs");
        let off = (at_horizon - alternative.comeback).abs();
        assert!(off < SAME_CHANCE, "{}: {at_horizon} against {}", alternative.name, alternative.comeback);
        assert!(curve.windows(2).all(|pair| pair[1] >= pair[0] - NEVER_BACK), "{}: {curve:?}", alternative.name);
    }
}

#[test]
fn a_comeback_grows_with_the_runs_up_to_the_alternatives_own_chance() {
    for judged in [&STRIPPED, &FRAGMENTS, &HEALTHY] {
        check(judged);
    }
}
