//! Alternatives: what to repair, in which order, for how much, and how likely the truck comes back.

mod braking;
mod choices;
mod front;
mod order;
mod over_runs;
mod pricing;
mod proposed;
mod tariff;

pub use proposed::proposed;

use crate::Error;
use crate::diagnosis::Diagnosis;
use crate::stopping::Stopping;
use choices::is_wanted;
use front::{best, front, smallest_sound, sturdiest};
use std::collections::BTreeSet;
use std::fmt;
use toothsayer_evidence::{CauseId, CauseSet};
use toothsayer_fault_book::{Cause, Figure, Step};
use toothsayer_job::Job;
use toothsayer_quantity::Money;

/// What the customer asks for: the gears, and what comes with them.
pub const NEW_GEARS_ONLY: &str = "new-gears-only";
/// The cheapest repair that cures what would surely take the next set and comes back less likely than not.
pub const SMALLEST_SOUND: &str = "smallest-sound";
/// The sound repair of the least expected cost.
pub const RECOMMENDED: &str = "recommended";
/// The sound repair of the least chance of a comeback.
pub const STURDIEST: &str = "sturdiest";
/// A cause that is left uncured is told when it would strip the next set with this chance.
const TOLD_FROM: f64 = 0.05;

/// One step of a plan.
#[derive(Clone, Debug)]
pub struct PlanStep {
    /// Id in the fault book; the removal's with "off " or "on " before it.
    pub id: String,
    /// Name.
    pub name: String,
    /// What is done.
    pub what: String,
    /// Minutes.
    pub minutes: f64,
    /// Tools.
    pub tools: Vec<String>,
    /// Cautions, in words.
    pub cautions: Vec<String>,
    /// What the joint that it tightens carries.
    pub tightens: Option<String>,
    /// The figure that it is done to.
    pub figure: Option<Figure>,
}

/// A part of a plan.
#[derive(Clone, Debug)]
pub struct PlanPart {
    /// Its name.
    pub name: String,
    /// Its price, where the shop gives one.
    pub price: Option<Money>,
    /// How many lie on the shelf.
    pub on_shelf: Option<u32>,
    /// Days until one arrives.
    pub lead_days: Option<u32>,
}

/// A cause that a repair leaves as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// Its name.
    pub name: String,
    /// The chance that it is there.
    pub present: f64,
    /// The chance that it alone strips the next set, where it is there.
    pub strips: f64,
}

/// "motor loose in its mount: 98 % likely, alone strips the next set with 69 %".
impl fmt::Display for Left {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.present {
            present if present > 0.995 => write!(f, "{}: surely there", self.name)?,
            present => write!(f, "{}: {:.0} % likely", self.name, 100.0 * present)?,
        }
        write!(f, ", alone strips the next set with {:.0} %", 100.0 * self.strips)
    }
}

/// One alternative.
#[derive(Clone, Debug)]
pub struct Alternative {
    /// [`NEW_GEARS_ONLY`], [`SMALLEST_SOUND`], [`RECOMMENDED`] or [`STURDIEST`].
    pub name: &'static str,
    /// Parts with known prices and labour.
    pub price: Money,
    /// Chance of another strip within the horizon.
    pub comeback: f64,
    /// The same, were every blow at the low and at the high end of what model and inputs leave open.
    pub comeback_range: [f64; 2],
    /// Minutes of work.
    pub minutes: f64,
    /// The work, in bench order.
    pub steps: Vec<PlanStep>,
    /// The parts.
    pub parts: Vec<PlanPart>,
    /// Ids of the causes that it cures.
    pub cures: Vec<String>,
    /// The causes that it leaves and that may come back.
    pub leaves_open: Vec<Left>,
    /// The cautions of its steps, each once.
    pub cautions: Vec<String>,
    /// The way to a stop before and after, where it changes the brake.
    pub stops: Option<[Stopping; 2]>,
}

/// A point of the price/comeback curve.
#[derive(Clone, Debug)]
pub struct FrontPoint {
    /// Price.
    pub price: Money,
    /// Chance of a comeback.
    pub comeback: f64,
    /// The same, were every blow at the low and at the high end of what model and inputs leave open.
    pub comeback_range: [f64; 2],
    /// Ids of the causes that it cures.
    pub cures: Vec<String>,
    /// Names of the alternatives that it is.
    pub marks: Vec<&'static str>,
}

/// The alternatives of a job.
#[derive(Clone, Debug)]
pub struct Plan {
    /// New gears only, smallest that is sound, recommended, sturdiest; two may be the same repair.
    pub alternatives: Vec<Alternative>,
    /// Every combination that no other beats in price and chance, and the alternatives, cheapest first.
    pub front: Vec<FrontPoint>,
    /// Chance of a strip over the horizon with every cause of the book cured: what no repair takes away.
    pub unavoidable: f64,
    /// Worth of each open check, as the diagnosis lists them: expected saving less the labour of looking.
    pub worth: Vec<Money>,
}

/// A cause that may be cured, with the steps for it.
struct Choice<'a> {
    place: usize,
    cause: &'a Cause,
}

/// What one combination costs and risks.
struct Priced {
    price: Money,
    comeback: f64,
}

impl Plan {
    /// Prices every combination of cures.
    pub fn new(diagnosis: &Diagnosis<'_>) -> Result<Plan, Error> {
        let planner = Planner::new(diagnosis);
        let choices = planner.choices();
        let priced = planner.price_all(&choices)?;
        let needed = planner.needed(&choices);
        let recommended = best(&priced, needed, diagnosis.job);
        let named = [
            (NEW_GEARS_ONLY, 0),
            (SMALLEST_SOUND, smallest_sound(&priced, needed)),
            (RECOMMENDED, recommended),
            (STURDIEST, sturdiest(&priced, needed)),
        ];
        let mut points = front(&priced);
        points.extend(named.iter().map(|(_, set)| set).filter(|set| !points.contains(set)).collect::<BTreeSet<_>>());
        points.sort_by_key(|set| priced[*set].price.minor);
        let ends = planner.comeback_ends(&choices, &points)?;
        let range = |set: usize| {
            let mean = priced[set].comeback;
            // The mean over all levels can lie beyond the chance at the high one.
            let ends = points.iter().position(|point| *point == set).map_or([mean; 2], |at| ends[at]);
            [ends[0].min(mean), ends[1].max(mean)]
        };
        let alternative = |(name, set): &(&'static str, usize)| {
            planner.alternative(name, *set, &choices, (&priced[*set], range(*set)))
        };
        let point = |set: &usize| FrontPoint {
            price: priced[*set].price,
            comeback: priced[*set].comeback,
            comeback_range: range(*set),
            cures: planner.cures(*set, &choices),
            marks: named.iter().filter(|(_, other)| other == set).map(|(name, _)| *name).collect(),
        };
        Ok(Plan {
            alternatives: named.iter().map(alternative).collect::<Result<_, _>>()?,
            front: points.iter().map(point).collect(),
            unavoidable: planner.unavoidable()?,
            worth: planner.worths(&choices, &priced, &points)?,
        })
    }

    /// An alternative by its name.
    pub fn alternative(&self, name: &str) -> Option<&Alternative> {
        self.alternatives.iter().find(|alternative| alternative.name == name)
    }

    /// The recommended alternative.
    pub fn recommended(&self) -> Option<&Alternative> {
        self.alternative(RECOMMENDED)
    }

    /// Whether no open check is expected, by itself, to save more than looking costs.
    pub fn no_check_pays(&self) -> bool {
        self.worth.iter().all(|worth| worth.minor <= 0)
    }
}

struct Planner<'a> {
    diagnosis: &'a Diagnosis<'a>,
    job: &'a Job,
    /// Causes that the steps of every plan of this job cure, and after a strip those that end with the old gears.
    always_cured: CauseSet,
}

impl<'a> Planner<'a> {
    fn new(diagnosis: &'a Diagnosis<'a>) -> Self {
        let book = diagnosis.book;
        let wanted: Vec<&Step> = book.steps().iter().filter(|step| is_wanted(step, book, diagnosis.job)).collect();
        let off = book.removals_for(wanted.iter().flat_map(|step| step.needs.iter().map(String::as_str)));
        let put_back = |step: &Step| step.tightens.is_some() && off.iter().any(|part| part.tightens == step.tightens);
        let done = |step: &Step| wanted.iter().any(|one| one.id == step.id) || put_back(step);
        let always = |cause: &Cause| cause.cured_by.iter().all(|id| book.step(id).is_some_and(done));
        let gears_go = diagnosis.job.strip_happened();
        let ends = |cause: &Cause| (gears_go && !cause.outlives_gear_change) || always(cause);
        let cured = book.causes().iter().enumerate().filter(|(_, cause)| ends(cause));
        let always_cured = cured.map(|(place, _)| CauseId(place)).collect();
        Self { diagnosis, job: diagnosis.job, always_cured }
    }

    fn unavoidable(&self) -> Result<f64, Error> {
        let diagnosis = self.diagnosis;
        let all: CauseSet = (0..diagnosis.causes.len()).map(CauseId).collect();
        Ok(diagnosis.belief.failure(&diagnosis.ahead, all)?)
    }

    fn part(&self, name: &str) -> PlanPart {
        let fields = &self.job.built.fields;
        let teeth = |key: &str| fields.number(key).map_or(String::new(), |teeth| format!(" {teeth}"));
        let name = match name {
            "pinion" => format!("pinion{}", teeth("gears.pinion.teeth")),
            "spur" => format!("spur{}", teeth("gears.spur.teeth")),
            other => other.to_owned(),
        };
        let known = self.job.shop.parts.iter().find(|part| part.name == name);
        PlanPart {
            price: known.map(|part| part.price),
            on_shelf: known.and_then(|part| part.on_shelf),
            lead_days: known.and_then(|part| part.lead_days),
            name,
        }
    }

    fn alternative(
        &self,
        name: &'static str,
        set: usize,
        choices: &[Choice<'a>],
        (priced, comeback_range): (&Priced, [f64; 2]),
    ) -> Result<Alternative, Error> {
        let cured = choices.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1).map(|(_, choice)| choice.cause);
        let stops = self.ways_to_stop(&cured.collect::<Vec<_>>())?;
        let steps = self.steps(set, choices);
        let parts = steps.iter().flat_map(|step| step.parts.iter().map(|part| self.part(part))).collect();
        let minutes = self.minutes(&steps);
        let steps = self.bench_order(&steps);
        let mut cautions: Vec<String> = Vec::new();
        for caution in steps.iter().flat_map(|step| &step.cautions) {
            if !cautions.contains(caution) {
                cautions.push(caution.clone());
            }
        }
        Ok(Alternative {
            name,
            price: priced.price,
            comeback: priced.comeback,
            comeback_range,
            minutes,
            steps,
            parts,
            cures: self.cures(set, choices),
            leaves_open: self.leaves_open(set, choices),
            cautions,
            stops,
        })
    }

    fn cures(&self, set: usize, choices: &[Choice<'a>]) -> Vec<String> {
        let chosen = choices.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1);
        chosen.map(|(_, choice)| choice.cause.id.clone()).collect()
    }

    fn leaves_open(&self, set: usize, choices: &[Choice<'a>]) -> Vec<Left> {
        let left = choices.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 0);
        let left = left.map(|(_, choice)| (choice.cause, &self.diagnosis.causes[choice.place]));
        let told = left.filter(|(_, verdict)| verdict.next_set >= TOLD_FROM);
        told.map(|(cause, verdict)| Left {
            name: cause.name.clone(),
            present: verdict.present,
            strips: verdict.next_set / verdict.present,
        })
        .collect()
    }
}
