//! q(S): how likely each mode is when exactly a set of computed causes is present.

use crate::Error;
use crate::bay::Bay;
use crate::influence::influence;
use crate::joint::JointFriction;
use crate::load_path::{LoadPath, Windows};
use crate::peaks::{Asked, CasePeaks, Memo, Phases, peaks_of};
use rayon::prelude::*;
use std::collections::HashMap;
use toothsayer_evidence::normal_cdf;
use toothsayer_fault_book::{Cause, Change, Trigger};
use toothsayer_job::{Build, Fields, Job, Origin, Sheet};
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::gear::Member;

/// Phase of the lash that a scenario's landings are run at: a bouncing truck arrives at any, and some of them here.
pub(crate) const LANDING_PHASE: f64 = 0.875;
/// Cases that a scenario is judged by: an accident is not among them, a landing off the throttle hardly loads the teeth.
const CASES: [Case; 5] = [Case::Launch, Case::FullBrake, Case::LandingOnThrottle, Case::LandingOnBrake, Case::Reversal];
/// Spread of the model itself, as a standard deviation in logarithms (estimate, no source).
const MODEL_SPREAD: f64 = 0.15;
/// Spread of the contact ratio at which teeth ride over each other (estimate, no source).
const ENGAGEMENT_SPREAD: f64 = 0.08;
/// Share of the needed overlap at which a face goes with even odds, and its spread (estimate, no source).
const OVERLAP_EVEN: f64 = 0.75;
const OVERLAP_SPREAD: f64 = 0.15;
/// Runs that the even odds of engagement and overlap are stated for (estimate, no source).
const REFERENCE_RUNS: f64 = 10.0;
/// Standard normal quantile of the ends of a stated range.
const END_Z: f64 = 1.645;
/// Inputs that bear on what the gears can take or how often they are asked, not on the blow.
const STILL: [&str; 10] = [
    "stack.",
    "support.",
    "motor.run_out",
    "gears.pinion.hardness",
    "gears.spur.hardness",
    "driver.landings",
    "driver.landings_on_throttle",
    "driver.launches",
    "driver.full_brakes",
    "driver.reversals",
];
/// Weights of a cause at its low, usual and high severity.
const SEVERITIES: [(Severity, f64); 3] = [(Severity::Low, 0.25), (Severity::Usual, 0.5), (Severity::High, 0.25)];

/// How severe the causes of a scenario are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Severity {
    Low,
    Usual,
    High,
}

/// Chance of each triggered mode over some runs.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Triggered {
    root: f64,
    engagement: f64,
    overlap: f64,
}

impl Triggered {
    /// The chance that a trigger stands for.
    pub(crate) fn of(&self, trigger: Trigger) -> f64 {
        match trigger {
            Trigger::Root => self.root,
            Trigger::Engagement => self.engagement,
            Trigger::Overlap => self.overlap,
        }
    }
}

/// Chances since the last gear change, and over the horizon.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Chances {
    pub(crate) past: Triggered,
    pub(crate) ahead: Triggered,
}

impl Chances {
    /// The links that bring these about where `nothing` is already there: 1 - (1 - q)/(1 - q0), none below 0.
    fn beyond(&self, nothing: &Chances) -> Chances {
        let link = |q: f64, q0: f64| if q0 < 1.0 { (1.0 - (1.0 - q) / (1.0 - q0)).clamp(0.0, 1.0) } else { 0.0 };
        let links = |q: &Triggered, q0: &Triggered| Triggered {
            root: link(q.root, q0.root),
            engagement: link(q.engagement, q0.engagement),
            overlap: link(q.overlap, q0.overlap),
        };
        Chances { past: links(&self.past, &nothing.past), ahead: links(&self.ahead, &nothing.ahead) }
    }
}

/// A computed cause as this job has it.
pub(crate) struct Computed<'a> {
    pub(crate) cause: &'a Cause,
    /// Whether the build decides that it is there, or a finding shows it.
    pub(crate) certain: bool,
    /// What its presence changes; with the measured severity where the bench measured it.
    pub(crate) present: Vec<Change>,
}

/// What the mechanics compute of a job's causes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Scenarios {
    /// The causes computed together, as places in the list of computed ones.
    pub(crate) together: Vec<usize>,
    /// q(S) for every subset of those, bit i for the i-th.
    pub(crate) table: Vec<Chances>,
    /// Every other computed cause, with the link that it has by itself.
    pub(crate) alone: Vec<(usize, Chances)>,
}

/// Most causes whose every set is computed.
const MOST_TOGETHER: usize = 8;

/// The chances of every computed cause: of those that count most in every set, of the others by themselves.
pub(crate) fn scenarios(job: &Job, computed: &[Computed<'_>], usual: &Fields, memo: &Memo) -> Result<Scenarios, Error> {
    let spread = demand_spread(&job.built);
    let past_runs = job.runs_since_gears.max(1.0);
    let mut setting = Setting { job, computed, usual, spread, past_runs, blows: HashMap::new() };
    let singles: Vec<usize> = std::iter::once(0).chain((0..computed.len()).map(|bit| 1 << bit)).collect();
    let by_itself = setting.judge_all(&singles, memo)?;
    let nothing = by_itself.first().copied().unwrap_or_default();
    let links: Vec<Chances> = by_itself.iter().skip(1).map(|single| single.beyond(&nothing)).collect();
    let mut order: Vec<usize> = (0..computed.len()).collect();
    let weight = |place: &usize| computed[*place].weight(&links[*place]);
    order.sort_by(|a, b| weight(b).total_cmp(&weight(a)).then(a.cmp(b)));
    let mut together: Vec<usize> = order.iter().copied().take(MOST_TOGETHER).collect();
    together.sort_unstable();
    let alone = order.into_iter().skip(MOST_TOGETHER).map(|place| (place, links[place])).collect();
    let bits = |set: usize| -> usize {
        let chosen = together.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1);
        chosen.map(|(_, place)| 1 << place).sum()
    };
    let sets: Vec<usize> = (0..1_usize << together.len()).map(bits).collect();
    let table = setting.judge_all(&sets, memo)?;
    Ok(Scenarios { together, table, alone })
}

impl Computed<'_> {
    /// What is certain comes first, then prior times what it does by itself.
    fn weight(&self, link: &Chances) -> f64 {
        let [past, ahead] = [link.past, link.ahead].map(|one| one.root.max(one.engagement).max(one.overlap));
        f64::from(u8::from(self.certain)) + self.cause.prior.mean() * past.max(ahead)
    }
}

struct Setting<'a> {
    job: &'a Job,
    computed: &'a [Computed<'a>],
    usual: &'a Fields,
    spread: f64,
    past_runs: f64,
    /// Blows by the causes that move them.
    blows: HashMap<usize, Vec<CasePeaks>>,
}

impl Setting<'_> {
    /// The chances of some sets, their blows simulated first.
    fn judge_all(&mut self, sets: &[usize], memo: &Memo) -> Result<Vec<Chances>, Error> {
        let moving = self.moving();
        let mut new: Vec<usize> = sets.iter().map(|set| set & moving).collect();
        new.sort_unstable();
        new.dedup();
        new.retain(|set| !self.blows.contains_key(set));
        let blows = self.simulate(&new, memo)?;
        self.blows.extend(blows);
        sets.par_iter().map(|set| self.judge(*set)).collect()
    }

    fn judge(&self, set: usize) -> Result<Chances, Error> {
        let mut sum = Chances::default();
        let usual = self.build(set, Severity::Usual)?;
        let bay = Bay::new(&usual, true)?;
        let moving = self.moving();
        let peaks = self.blows.get(&(set & moving)).map_or(&[][..], Vec::as_slice);
        for (severity, weight) in SEVERITIES {
            let (build, bay) = match severity {
                Severity::Usual => (usual.clone(), bay.clone()),
                other => {
                    let build = self.build(set, other)?;
                    let bay = Bay::new(&build, true)?;
                    (build, bay)
                }
            };
            let one = self.one(&build, &bay, peaks)?;
            for (into, from) in [(&mut sum.past, one.past), (&mut sum.ahead, one.ahead)] {
                into.root += weight * from.root;
                into.engagement += weight * from.engagement;
                into.overlap += weight * from.overlap;
            }
        }
        Ok(sum)
    }

    /// The built truck with the causes of `set` present and the others absent.
    fn sheet(&self, set: usize, severity: Severity) -> Sheet {
        let mut sheet = self.job.built.clone();
        for (bit, computed) in self.computed.iter().enumerate() {
            let because = Origin::Change(computed.cause.id.clone());
            if set >> bit & 1 == 1 {
                let changes: Vec<Change> = computed.present.iter().map(|change| severe(change, severity)).collect();
                sheet.change(&changes, self.usual, &because);
            } else {
                sheet.change(&computed.cause.absent, self.usual, &because);
            }
        }
        sheet
    }

    fn build(&self, set: usize, severity: Severity) -> Result<Build, Error> {
        Ok(self.sheet(set, severity).build()?)
    }

    /// The causes that move the blows: where the faces meet, how the shaft leans and how often an event comes do not.
    fn moving(&self) -> usize {
        let moves = |computed: &Computed<'_>| {
            let mut inputs = computed.present.iter().chain(&computed.cause.absent).filter_map(Change::input);
            inputs.any(|input| !STILL.iter().any(|still| input.starts_with(still)))
        };
        self.computed.iter().enumerate().filter(|(_, computed)| moves(computed)).map(|(bit, _)| 1 << bit).sum()
    }

    /// Blows of sets of those causes.
    fn simulate(&self, sets: &[usize], memo: &Memo) -> Result<HashMap<usize, Vec<CasePeaks>>, Error> {
        let truck = |set: &usize| -> Result<(Build, Bay), Error> {
            let build = self.build(*set, Severity::Usual)?;
            let bay = Bay::new(&build, true)?;
            Ok((build, bay))
        };
        let trucks: Vec<(Build, Bay)> = sets.par_iter().map(truck).collect::<Result<_, _>>()?;
        let phases = Phases::Drawn(LANDING_PHASE);
        let asked: Vec<Asked<'_>> =
            trucks.iter().map(|(build, bay)| Asked { build, bay, cases: &CASES, phases }).collect();
        sets.iter().zip(peaks_of(&asked, memo)).map(|(set, peaks)| Ok((*set, peaks?))).collect()
    }

    fn one(&self, build: &Build, bay: &Bay, peaks: &[CasePeaks]) -> Result<Chances, Error> {
        let at = |runs: f64| -> Result<Triggered, Error> {
            let path = LoadPath {
                build,
                bay,
                peaks,
                windows: &Windows::new(),
                horizon_runs: runs,
                friction: JointFriction::NOMINAL,
                strength: [1.0; 2],
            };
            triggered(&path, self.spread, runs)
        };
        Ok(Chances { past: at(self.past_runs)?, ahead: at(self.job.shop.horizon_runs)? })
    }
}

fn severe(change: &Change, severity: Severity) -> Change {
    match (change, severity) {
        (Change::Add { input, low, .. }, Severity::Low) => {
            Change::Add { input: input.clone(), amount_si: *low, low: *low, high: *low }
        }
        (Change::Add { input, high, .. }, Severity::High) => {
            Change::Add { input: input.clone(), amount_si: *high, low: *high, high: *high }
        }
        _ => change.clone(),
    }
}

fn triggered(path: &LoadPath<'_>, spread: f64, runs: f64) -> Result<Triggered, Error> {
    let driven = |case: &&CasePeaks| crate::joint::per_run(&path.build.driver, case.case) > 0.0;
    let force_n = path.peaks.iter().filter(driven).map(|case| case.hardest().force_n).fold(0.0, f64::max);
    let mut root = f64::MAX;
    let mut ratio = f64::MAX;
    for (member, name) in [(Member::Pinion, "pinion"), (Member::Spur, "spur")] {
        let stress_pa = path.root_stress_pa(member, force_n)?;
        if stress_pa > 0.0 {
            root = root.min(path.root_strength_pa(member)? / stress_pa);
        }
        root = root.min(path.endurance(member, name, runs)?.margin.unwrap_or(f64::MAX));
        ratio = ratio.min(path.bay.loaded_contact_ratio(toothsayer_quantity::Force::n(force_n))?);
    }
    let gears = &path.build.gears;
    let narrow_m = gears.pinion.face_width.min(gears.spur.face_width).to_m();
    let overlap = path.bay.overlap.to_m() / (0.8 * narrow_m);
    let exposed = |chance: f64| 1.0 - (1.0 - chance).powf(runs / REFERENCE_RUNS);
    Ok(Triggered {
        root: below(root, spread),
        engagement: exposed(below(ratio / 1.2, ENGAGEMENT_SPREAD)),
        overlap: exposed(below(overlap / OVERLAP_EVEN, OVERLAP_SPREAD)),
    })
}

/// P(margin below 1) of a margin spread lognormally about its point value.
fn below(margin: f64, spread: f64) -> f64 {
    if margin > 0.0 { normal_cdf(-margin.ln() / spread) } else { 1.0 }
}

/// Spread of the hardest blow against the root's strength, from the model's and the inputs' stated ranges.
fn demand_spread(sheet: &Sheet) -> f64 {
    let deviations = sheet.fields.numbers.iter().map(|(key, entry)| influence(key, entry) / (2.0 * END_Z));
    let squares: f64 = deviations.map(|deviation| deviation * deviation).sum();
    (MODEL_SPREAD * MODEL_SPREAD + squares).sqrt()
}
