//! What five facts alone say of a truck lies near what its whole file says.
//!
//! No outside source: the ranges are this project's own assumptions. "Hardest" is the hardest blow of the usual
//! driving, over every phase of the lash; the driver is the class's usual one throughout. A full file is the guessed
//! truck with every assumed value drawn within its range (splitmix64, fixed seeds).

use crate::bench::{Judged, MEMO, blows, example, job, margins_of, ranges};
use std::sync::LazyLock;
use toothsayer_evidence::StatedRange;
use toothsayer_job::{FiveFacts, Sheet, classes};
use toothsayer_verdict::{Bay, Limit, Margin, Phases, hardest_n, peaks};

/// How near the guess must come, as a ratio.
const FACTOR: f64 = 1.5;
const BUILDS: u64 = 20;
/// Draws that the five facts' median and ends are taken from; odd, so that the median is one of them.
const DRAWS: u64 = 63;
const SEED_OF_DRAWS: u64 = 1000;
/// Of 20 trucks drawn over the whole of every range at once, this many must lie within the factor: an 80 % chance
/// for one (83 % of 199 draws were) makes 13 or fewer a rare accident.
const LEAST_WITHIN_FACTOR: usize = 14;
/// Of 20, this many must lie within the 5 % and 95 % ends: of 18 expected, 15 or fewer are a rare accident.
const LEAST_WITHIN_ENDS: usize = 16;

pub fn facts() -> FiveFacts {
    FiveFacts {
        mass: "10.4 kg".into(),
        cells: 7,
        kv: Some("980 rpm/V".into()),
        teeth: [19, 53],
        pitch: "1 mm".into(),
        wheel: ["188 mm".into(), "410 g".into()],
        ..FiveFacts::default()
    }
}

static GUESSED: LazyLock<Sheet> = LazyLock::new(|| job(&facts().to_toml()).built);
static DRAWN_N: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let mut drawn: Vec<f64> = (0..DRAWS).map(|draw| hardest_of(&full(SEED_OF_DRAWS + draw))).collect();
    drawn.sort_by(f64::total_cmp);
    drawn
});

/// The five facts' median, 5 % and 95 % ends.
fn median_and_ends() -> [f64; 3] {
    let at = |share: f64| DRAWN_N[(share * (DRAWS - 1) as f64).round() as usize];
    [at(0.5), at(0.05), at(0.95)]
}

pub fn unit(seed: u64, place: usize) -> f64 {
    let mut mixed = (seed << 32 | place as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
}

/// A full file: every value that the five facts leave to assumption is one within its range.
fn full(seed: u64) -> Sheet {
    let mut sheet = GUESSED.clone();
    for (place, (key, entry)) in sheet.fields.numbers.iter_mut().enumerate() {
        if entry.has_spread() && !key.starts_with("driver.") {
            let range = StatedRange { low: entry.low, usual: entry.value, high: entry.high };
            entry.value = range.quantile(unit(seed, place)).clamp(entry.low, entry.high);
        }
    }
    sheet
}

#[track_caller]
fn hardest_of(sheet: &Sheet) -> f64 {
    let build = sheet.build().expect("it builds");
    let bay = Bay::new(&build, true).expect("a gear bay");
    hardest_n(&peaks(&build, &bay, Phases::Worst, &MEMO).expect("blows"))
}

/// Whether the two are within the factor of each other.
fn close(a: f64, b: f64) -> bool {
    (a / b).ln().abs() <= FACTOR.ln()
}

#[test]
fn the_examples_hardest_blow_follows_from_five_facts() {
    let truth_n = hardest_n(&blows(&example("tarnhorn.toml")));
    let [median_n, low_n, high_n] = median_and_ends();
    assert!(close(hardest_of(&GUESSED), truth_n), "point value {} and {truth_n}", hardest_of(&GUESSED));
    assert!(close(median_n, truth_n), "median {median_n} and {truth_n}");
    assert!(low_n < truth_n && truth_n < high_n, "{truth_n} outside {low_n} to {high_n}");
}

#[test]
fn the_hardest_blow_of_most_trucks_lies_near_their_five_facts_median() {
    let [median_n, low_n, high_n] = median_and_ends();
    let mut truths: Vec<f64> = (0..BUILDS).map(|build| hardest_of(&full(build))).collect();
    truths.sort_by(f64::total_cmp);
    assert!(close(truths[truths.len() / 2], median_n), "{truths:?} about {median_n}");
    let within = truths.iter().filter(|truth_n| close(**truth_n, median_n)).count();
    assert!(within >= LEAST_WITHIN_FACTOR, "only {within}: {truths:?} about {median_n}");
    let inside = truths.iter().filter(|truth_n| (low_n..=high_n).contains(*truth_n)).count();
    assert!(inside >= LEAST_WITHIN_ENDS, "only {inside} within {low_n} to {high_n}: {truths:?}");
}

/// What differs from class to class.
pub struct Truck {
    pub class: &'static str,
    mass: &'static str,
    cells: u32,
    kv: &'static str,
    teeth: [u32; 2],
    pitch: &'static str,
    wheel: [&'static str; 2],
}

/// A truck of every class.
#[rustfmt::skip]
pub const TRUCKS: [Truck; 6] = [
    Truck { class: "1/10 electric 2WD brushed", mass: "1.6 kg", cells: 2, kv: "3300 rpm/V", teeth: [23, 87], pitch: "48 1/in", wheel: ["66 mm", "45 g"] },
    Truck { class: "1/10 electric 4WD", mass: "2.6 kg", cells: 3, kv: "3200 rpm/V", teeth: [15, 54], pitch: "32 1/in", wheel: ["85 mm", "80 g"] },
    Truck { class: "1/8 electric 4WD", mass: "4.5 kg", cells: 4, kv: "2100 rpm/V", teeth: [14, 46], pitch: "1 mm", wheel: ["110 mm", "160 g"] },
    Truck { class: "1/7 electric 4WD", mass: "6.5 kg", cells: 6, kv: "1500 rpm/V", teeth: [16, 50], pitch: "1 mm", wheel: ["140 mm", "260 g"] },
    Truck { class: "1/6 electric 4WD", mass: "10.4 kg", cells: 7, kv: "980 rpm/V", teeth: [19, 53], pitch: "1 mm", wheel: ["188 mm", "410 g"] },
    Truck { class: "1/5 electric 4WD", mass: "16 kg", cells: 8, kv: "780 rpm/V", teeth: [20, 58], pitch: "1.5 mm", wheel: ["200 mm", "560 g"] },
];

impl Truck {
    pub fn to_toml(&self) -> String {
        let facts = FiveFacts {
            name: None,
            start: Some(self.class.into()),
            mass: self.mass.into(),
            cells: self.cells,
            kv: Some(self.kv.into()),
            can: None,
            teeth: self.teeth,
            pitch: self.pitch.into(),
            wheel: self.wheel.map(Into::into),
        };
        facts.to_toml()
    }
}

#[test]
fn first_margins_exist_for_every_class() {
    let names: Vec<&str> = classes().iter().map(|class| class.name.as_str()).collect();
    assert_eq!(names, TRUCKS.map(|truck| truck.class));
    for truck in TRUCKS {
        let name = truck.class;
        let margins = margins_of(&job(&truck.to_toml()).built).unwrap_or_else(|error| panic!("{name}: {error}"));
        for limit in [Limit::Root, Limit::RootEndurance, Limit::Engagement, Limit::Overlap, Limit::Hold, Limit::Slip] {
            assert!(margins.iter().any(|margin| margin.limit == limit && margin.margin.is_some()), "{name}: {limit:?}");
        }
        for margin in &margins {
            let finite = margin.demand.is_finite() && margin.capacity.is_finite() && margin.demand >= 0.0;
            assert!(finite && margin.margin.is_none_or(f64::is_finite), "{name}: {margin:?}");
        }
    }
}

#[test]
fn first_causes_and_alternatives_exist_for_every_class() {
    for truck in TRUCKS {
        let judged = Judged::of(&format!("{}[job]\ncomplaint = \"stripped\"\n", truck.to_toml()));
        let share = |chance: f64, what: &str| {
            assert!((0.0..=1.0).contains(&chance), "{}: {what} {chance}", truck.class);
        };
        for cause in &judged.verdict.diagnosis.causes {
            for chance in [cause.present, cause.mattered, cause.next_set] {
                share(chance, &cause.id);
            }
            assert!(cause.mattered <= cause.present + 1e-12, "{}: {}", truck.class, cause.id);
        }
        assert_eq!(judged.verdict.plan.alternatives.len(), 4, "{}", truck.class);
        for alternative in &judged.verdict.plan.alternatives {
            share(alternative.comeback, alternative.name);
            assert!(alternative.price.minor > 0 && !alternative.steps.is_empty(), "{}", truck.class);
        }
        assert!(!judged.verdict.care(1, &MEMO).expect("a care plan").is_empty(), "{}", truck.class);
    }
}

#[test]
fn no_draw_of_a_truck_from_five_facts_is_lost() {
    const SAMPLES: u32 = 128;
    let judged = Judged::of(&facts().to_toml());
    let ranges = ranges(SAMPLES, 7);
    let states = judged.verdict.margins(Some(&ranges), &MEMO).expect("margins");
    let chances = states.iter().flat_map(|state| &state.margins).filter_map(Margin::chance);
    // A lost draw makes the chances parts of another number: some of them are then no whole number of 128ths.
    let parts: Vec<f64> = chances.map(|chance| chance * f64::from(SAMPLES)).collect();
    assert!(parts.iter().filter(|part| **part > 0.0 && **part < f64::from(SAMPLES)).count() >= 3, "{parts:?}");
    assert!(parts.iter().all(|part| (part - part.round()).abs() < 1e-9), "{parts:?}");
}
