//! The example's blows, held against an independent converged solver of the same equations.
//!
//! The figures were computed once, apart from this program, by a general solver with its steps refined until nothing moved,
//! and are rounded to a newton.

use crate::bench::{MEMO, STRIPPED, blows, example, job, margins_of, of_case, with};
use toothsayer_job::State;
use toothsayer_mechanics::driveline::Case;
use toothsayer_verdict::CasePeaks;

/// Rounding of the printed figures and the solvers' own tolerances, as a part.
const OF_FORCE: f64 = 0.004;
/// A landing is "where it was" within this.
const WHERE_IT_WAS: f64 = 0.03;
/// "As a launch does": full brake and launch within a quarter of each other (common practice, no source).
const ALIKE: f64 = 0.25;

/// Case, hardest blow on the drive flank, hardest on the coast flank, N; none where the figure is not stated.
type Row = (Case, Option<f64>, Option<f64>);

const BUILT: [Row; 6] = [
    (Case::Launch, Some(311.0), None),
    (Case::FullBrake, None, Some(361.0)),
    (Case::Reversal, Some(338.0), Some(361.0)),
    (Case::LandingOnThrottle, Some(650.0), None),
    (Case::LandingOnBrake, None, Some(521.0)),
    (Case::LandingCoasting, None, Some(41.5)),
];

const ROCKING: [Row; 5] = [
    (Case::Launch, Some(314.0), None),
    (Case::FullBrake, None, Some(443.0)),
    (Case::Reversal, Some(566.0), Some(443.0)),
    (Case::LandingOnThrottle, Some(656.0), None),
    (Case::LandingOnBrake, None, Some(1555.0)),
];

#[test]
fn as_built_the_blows_are_those_of_an_independent_solver() {
    BUILT.iter().for_each(|row| check(&blows(&example("tarnhorn.toml")), row));
}

#[test]
fn a_rocking_motor_makes_the_blows_grow_that_close_backlash() {
    let found = STRIPPED.verdict.loaded(State::Found, &MEMO).unwrap();
    ROCKING.iter().for_each(|row| check(&found.peaks, row));
}

#[test]
fn a_weaker_brake_softens_the_full_brake_and_leaves_the_landing_where_it_was() {
    let full = blows(&example("tarnhorn.toml"));
    let weak = blows(&with(&example("tarnhorn.toml"), "brake_strength = \"100 %\"", "brake_strength = \"60 %\""));
    check(&weak, &(Case::FullBrake, None, Some(266.0)));
    let landing = |blows| of_case(blows, Case::LandingOnBrake).coast.force_n;
    let change = landing(&weak) / landing(&full) - 1.0;
    assert!(change.abs() < WHERE_IT_WAS, "the landing changes by {change}");
}

#[test]
fn braking_from_speed_loads_the_teeth_as_a_launch_does() {
    let blows = blows(&example("tarnhorn.toml"));
    let share = of_case(&blows, Case::FullBrake).coast.force_n / of_case(&blows, Case::Launch).drive.force_n;
    assert!((share - 1.0).abs() < ALIKE, "{share}");
}

#[test]
fn a_mesh_wider_by_a_strip_of_paper_still_holds() {
    for centre_mm in [36.05, 36.1, 36.15, 36.2] {
        let text = with(&example("tarnhorn.toml"), "\"36.05 mm\"", &format!("\"{centre_mm} mm\""));
        let margins = margins_of(&job(&text).built).unwrap();
        let failing: Vec<_> = margins.iter().filter(|margin| margin.counts() && margin.fails()).collect();
        assert!(failing.is_empty(), "at {centre_mm} mm: {failing:?}");
    }
}

#[track_caller]
fn check(blows: &[CasePeaks], (case, drive_n, coast_n): &Row) {
    let blows = of_case(blows, *case);
    for (got_n, stated_n) in [(blows.drive.force_n, drive_n), (blows.coast.force_n, coast_n)] {
        let Some(stated_n) = stated_n else { continue };
        assert!((got_n - stated_n).abs() <= OF_FORCE * stated_n, "{}: {got_n} N, {stated_n} N stated", case.name());
    }
}
