//! How long teeth last: the examples' stories, and what every life obeys.
//!
//! No outside source: the sums and lines are held against published values in the rooms below.

use crate::bench::{STRIPPED, example, job, margin, unopened, with};
use toothsayer_job::State;
use toothsayer_mechanics::gear::Member;
use toothsayer_mechanics::material::gear_material;
use toothsayer_verdict::{JointFriction, Life, LifeAsk, Limit, LoadPath, Loaded, Margin, Staged, Windows, life};

const HORIZON_RUNS: f64 = 50.0;
/// The simulation of a life is one quick run, that of a margin a settled one: a per mille of a force, to the sixth power.
const QUICK_RUN: f64 = 0.02;

#[track_caller]
fn of(stage: &Staged) -> Life {
    life(stage, &LifeAsk { horizon_runs: HORIZON_RUNS, seed: 1 }).expect("a life")
}

/// The life of a truck as built.
#[track_caller]
fn built(text: &str) -> Life {
    of(&Staged { state: State::Built, sheet: job(text).built, run_in: true })
}

fn whole(life: &Life) -> f64 {
    life.both.after(HORIZON_RUNS)
}

#[test]
fn the_example_in_good_order_lasts_and_as_found_does_not() {
    let stage = |state| STRIPPED.verdict.stage(state).expect("the state");
    assert!(whole(&of(stage(State::Built))) > 0.99);
    assert!(whole(&of(stage(State::Found))) < 0.05);
    assert!(whole(&of(stage(State::Proposed))) > 0.99);
}

#[test]
fn a_truck_as_sold_survives_a_season_of_usual_driving() {
    for name in ["tarnhorn-spacer.toml", "tarnhorn-wheels.toml"] {
        let job = job(&example(name));
        assert!(job.has_stock);
        assert!(whole(&of(&Staged { state: State::Stock, sheet: job.stock, run_in: true })) > 0.95, "{name}");
    }
}

/// The first truck lives no longer than the second.
#[track_caller]
fn shorter(first: &Life, second: &Life, what: &str) {
    for runs in [1.0, 5.0, 20.0, 50.0, 200.0, 1000.0] {
        let [first, second] = [first, second].map(|life| life.both.after(runs));
        assert!(first <= second, "{what}: after {runs} runs {first} are whole, {second} without");
    }
    for (first, second) in first.gears.iter().zip(&second.gears) {
        assert!(first.runs_by_fatigue <= second.runs_by_fatigue * (1.0 + QUICK_RUN), "{what}: {}", first.name);
    }
}

#[test]
fn what_loads_the_teeth_more_shortens_their_life() {
    let spur = "material = \"through-hardened-alloy\", hardness = \"300 HV\"";
    let soft = with(&unopened(), spur, "material = \"normalised\", hardness = \"130 HV\"");
    let usual = built(&soft);
    for (old, new) in [
        ("hardness = \"130 HV\"", "hardness = \"120 HV\""),
        ("face_width = \"10 mm\"", "face_width = \"6 mm\""),
        ("drop_height = { value = \"0.8 m\"", "drop_height = { value = \"1.5 m\""),
        ("landings_on_throttle = \"15 %\"", "landings_on_throttle = \"60 %\""),
        ("full_brakes = 30", "full_brakes = 300"),
    ] {
        shorter(&built(&with(&soft, old, new)), &usual, new);
    }
}

#[test]
fn a_curve_begins_whole_and_never_rises() {
    let life = of(STRIPPED.verdict.stage(State::Found).expect("found"));
    assert_eq!(life.both.after(0.0), 1.0);
    let curve: Vec<f64> = (0..400).map(|runs| life.both.after(0.5 * f64::from(runs))).collect();
    assert!(curve.windows(2).all(|pair| pair[1] <= pair[0]));
    for gear in &life.gears {
        assert!(gear.survival.after(10.0) >= life.both.after(10.0), "{}", gear.name);
    }
    let runs = life.both.runs_to_strip();
    assert!(runs.low <= runs.median && runs.median <= runs.high, "{runs:?}");
    for (runs, share) in [(runs.low, 0.95), (runs.median, 0.5), (runs.high, 0.05)] {
        let after = life.both.after(runs.expect("it strips"));
        // One set of 512 goes at a time.
        assert!((after - share).abs() <= 1.0 / 512.0, "{after}, {share}");
    }
}

#[test]
fn the_shares_of_the_cases_make_a_whole() {
    let life = of(STRIPPED.verdict.stage(State::Found).expect("found"));
    for gear in [0, 1] {
        let sum: f64 = life.cases.iter().map(|part| part.damage_share[gear]).sum();
        assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    }
    assert!(life.cases.iter().all(|part| part.hardest_n >= part.usual_n && part.per_run > 0.0));
}

/// The margin of a root's endurance over some runs.
fn endurance(loaded: &Loaded, member: Member, name: &str, runs: f64) -> Margin {
    let Loaded { build, bay, peaks } = loaded;
    let (windows, friction, strength) = (&Windows::new(), JointFriction::NOMINAL, [1.0; 2]);
    let path = LoadPath { build, bay, peaks, windows, horizon_runs: runs, friction, strength };
    path.endurance(member, name, runs).expect("an endurance")
}

// The limit counts one cycle an event at its peak: in the sloping part of the line margin^-p is that Miner's sum. Counted
// cycle by cycle and turn by turn the sum is larger, but the lesser blows of an event are soon small to the sixth power.
#[test]
fn the_limit_counts_no_more_than_the_history_does() {
    let level = with(&unopened(), "landings = 20", "landings = 0");
    let life = built(&level);
    let loaded = Loaded::new(&job(&level).built, true, &crate::bench::MEMO).expect("blows");
    let material = gear_material("through-hardened-alloy").expect("it is known").life().expect("a metal");
    let slope = material.root_line.exponent();
    for (gear, member) in [(0, Member::Pinion), (1, Member::Spur)] {
        let runs = 1000.0;
        let name = life.gears[gear].name;
        let one = margin(&[endurance(&loaded, member, name, runs)], name, Limit::RootEndurance, "any");
        let by_limit = runs * one.powf(slope);
        let ratio = by_limit / life.gears[gear].runs_by_fatigue;
        assert!((1.0 - QUICK_RUN..20.0).contains(&ratio), "{name}: {ratio}");
    }
}

#[test]
fn a_life_is_the_same_twice_and_told_by_its_seed() {
    let stage = STRIPPED.verdict.stage(State::Found).expect("found");
    let runs = |seed| {
        let life = life(stage, &LifeAsk { horizon_runs: HORIZON_RUNS, seed }).expect("a life");
        life.both.runs_to_strip().median.expect("it strips")
    };
    assert_eq!(runs(1), runs(1));
    // 512 sets tell the median to a few per cent.
    assert!((runs(1) / runs(2) - 1.0).abs() < 0.1, "{} {}", runs(1), runs(2));
}
