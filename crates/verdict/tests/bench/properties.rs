//! Properties that hold for any truck within the inputs' ranges.
//!
//! No outside source: what must never come out (NaN, a panic), and which way a margin must move.

use crate::bench::{example, job, least, margins_of};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::sync::LazyLock;
use toothsayer_fault_book::FaultBook;
use toothsayer_inputs::{Form, find};
use toothsayer_job::{Job, Sheet};
use toothsayer_verdict::{Bay, Error, Limit, Margin};

const CASES: u32 = 64;
/// The same cases every time.
const SEED: u64 = 20_261_125;
/// More numbers than a sheet has.
const DRAWS: usize = 160;
/// Floating-point noise between two ways to the same number.
const NOISE: f64 = 1e-9;

/// The example as five facts leave it: nearly every value assumed, with its range.
static GUESSED: LazyLock<Sheet> = LazyLock::new(|| {
    let facts = "[truck]\nmass = \"10.4 kg\"\n[battery]\ncells = 7\n[motor]\nkv = \"980 rpm/V\"\n[gears]\n\
                 module = \"1 mm\"\npinion.teeth = 19\nspur.teeth = 53\n[wheels]\ndiameter = \"188 mm\"\nmass = \"410 g\"\n";
    job(facts).built
});
static EXAMPLE: LazyLock<Sheet> = LazyLock::new(|| job(&example("tarnhorn.toml")).built);

fn config() -> ProptestConfig {
    let rng_seed = RngSeed::Fixed(SEED);
    ProptestConfig { cases: CASES, failure_persistence: None, rng_seed, ..ProptestConfig::default() }
}

/// Every value somewhere in its assumed range.
fn within_ranges(draws: &[f64]) -> Sheet {
    let mut sheet = GUESSED.clone();
    let joints = sheet.joints.iter_mut().flat_map(|joint| joint.fields.numbers.values_mut());
    for (entry, draw) in sheet.fields.numbers.values_mut().chain(joints).zip(draws) {
        entry.value = entry.low + draw * (entry.high - entry.low);
    }
    sheet
}

/// Some values anywhere that the registry allows.
fn anywhere(draws: &[f64], changed: &[bool]) -> Sheet {
    let mut sheet = EXAMPLE.clone();
    for ((key, entry), (draw, changed)) in sheet.fields.numbers.iter_mut().zip(draws.iter().zip(changed)) {
        let Some(input) = find(key).filter(|_| *changed) else { continue };
        let value = if input.least > 0.0 {
            input.least * (input.most / input.least).powf(*draw)
        } else {
            input.least + draw * (input.most - input.least)
        };
        entry.value = if input.form == Form::Count { value.round() } else { value };
        (entry.low, entry.high) = (entry.value, entry.value);
    }
    sheet
}

/// Margins without NaN, or an error that says something.
fn sound(margins: &Result<Vec<Margin>, Error>) -> Result<(), TestCaseError> {
    match margins {
        Err(error) => prop_assert!(!error.to_string().is_empty() && !error.to_string().contains("NaN"), "{error}"),
        Ok(margins) => {
            for margin in margins {
                let numbers = [Some(margin.demand), Some(margin.capacity), margin.margin];
                prop_assert!(numbers.into_iter().flatten().all(|number| number >= 0.0), "{margin:?}");
            }
        }
    }
    Ok(())
}

fn some_draws() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(0.0..=1.0_f64, DRAWS)
}

#[test]
fn the_example_with_any_one_line_left_out_is_judged_or_refused() {
    let text = example("tarnhorn.toml");
    let lines: Vec<&str> = text.lines().collect();
    let mut judged = 0;
    for left_out in 0..lines.len() {
        let kept: Vec<&str> =
            lines.iter().enumerate().filter(|(place, _)| *place != left_out).map(|(_, line)| *line).collect();
        let Ok(job) = Job::parse(&kept.join("\n"), FaultBook::built_in()) else { continue };
        let margins = margins_of(job.as_it_came());
        assert!(margins.is_ok(), "without {:?}: {:?}", lines[left_out], margins.err());
        sound(&margins).unwrap_or_else(|error| panic!("without {:?}: {error}", lines[left_out]));
        judged += 1;
    }
    assert!(judged > lines.len() / 2, "only {judged} of {} were judged", lines.len());
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_truck_within_the_assumed_ranges_has_sound_margins(draws in some_draws()) {
        let margins = margins_of(&within_ranges(&draws));
        prop_assert!(margins.is_ok(), "{:?}", margins.err());
        sound(&margins)?;
    }

    #[test]
    fn a_truck_anywhere_in_the_registry_is_judged_or_refused(
        draws in some_draws(),
        changed in prop::collection::vec(prop::bool::weighted(0.15), DRAWS),
    ) {
        sound(&margins_of(&anywhere(&draws, &changed)))?;
    }

    #[test]
    fn harder_steel_never_bears_less_at_the_root(draws in some_draws(), softer_hv in 200.0..359.0_f64, more in 0.0..=1.0_f64) {
        let root = |hardness_hv: f64| {
            let mut sheet = within_ranges(&draws);
            for key in ["gears.pinion.hardness", "gears.spur.hardness"] {
                if let Some(entry) = sheet.fields.numbers.get_mut(key) {
                    entry.value = hardness_hv;
                }
            }
            let margins = margins_of(&sheet).expect("margins");
            ["pinion", "spur"].map(|gear| least(&margins, gear, Limit::Root))
        };
        let (soft, hard) = (root(softer_hv), root(softer_hv + more * (360.0 - softer_hv)));
        for (soft, hard) in soft.into_iter().zip(hard) {
            prop_assert!(hard >= soft * (1.0 - NOISE), "{soft} at {softer_hv} HV, {hard} harder");
        }
    }

    #[test]
    fn shafts_farther_apart_never_engage_more(draws in some_draws(), apart_mm in 0.0..1.0_f64) {
        let ratio = |more_m: f64| {
            let mut sheet = within_ranges(&draws);
            let entry = sheet.fields.numbers.get_mut("gears.centre_distance").expect("a centre distance");
            entry.value += more_m;
            let build = sheet.build().expect("it builds");
            Bay::new(&build, true).map(|bay| (bay.pair.contact_ratio(), bay.pair.normal_backlash()))
        };
        if let (Ok(near), Ok(far)) = (ratio(0.0), ratio(apart_mm * 1e-3)) {
            prop_assert!(far.0 <= near.0 + NOISE, "{} then {}", near.0, far.0);
            prop_assert!(far.1.to_m() >= near.1.to_m() - NOISE);
        }
    }
}
