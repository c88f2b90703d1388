//! The repairs of a job as they can be offered: what each costs, how likely the truck comes back, what is done and left.

use crate::job::drawing::in_both_widths;
use crate::page::html::Html;
use crate::page::trouble::Trouble;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::price_and_comeback;
use toothsayer_job::Job;
use toothsayer_quantity::{Money, System};
use toothsayer_report::words::{brake_words, names, repairs};
use toothsayer_verdict::{Alternative, Memo, RECOMMENDED, Verdict};

/// One repair.
#[derive(Clone, Debug)]
pub(crate) struct Repair {
    /// What it is called: the names of the alternatives that it is.
    pub name: String,
    /// Whether it is the recommended one.
    pub recommended: bool,
    /// Labour and the parts whose price is known.
    pub price: Money,
    /// Minutes of work.
    pub minutes: f64,
    /// The chance of a comeback.
    pub comeback: f64,
    /// The same, were every blow as soft or as hard as model and inputs leave open.
    pub comeback_range: [f64; 2],
    /// What it cures beside the broken gears.
    pub cures: Vec<String>,
    /// What it leaves.
    pub leaves: Vec<String>,
    /// The work, in bench order.
    pub steps: Vec<String>,
    /// Its parts with their prices.
    pub parts: Vec<String>,
    /// What a weaker brake does to the way to a stop.
    pub brake: Option<String>,
}

impl Repair {
    /// The chance of a comeback in millionths, as the records keep it.
    pub(crate) fn comeback_ppm(&self) -> i64 {
        (1e6 * self.comeback).round() as i64
    }

    /// Whole minutes, as the records keep them.
    pub(crate) fn whole_minutes(&self) -> i64 {
        self.minutes.round() as i64
    }
}

/// The repairs of a job.
pub(crate) struct Offering {
    /// New gears only first; what is the same repair stands once.
    pub repairs: Vec<Repair>,
    /// Price against the chance of a comeback.
    pub drawing: Html,
    /// Parts that are not in the sums, as nobody gave their price.
    pub unpriced: Vec<String>,
    /// Amounts that the shop did not set.
    pub assumed: Vec<String>,
    /// Runs within which a second strip counts as a comeback.
    pub horizon_runs: f64,
    /// The chance of a strip with everything cured.
    pub unavoidable: f64,
}

impl Offering {
    /// Tells this offering from another: a form carries it, so that nothing is offered that was not on the page.
    pub(crate) fn mark(&self) -> String {
        let mut text = String::new();
        for one in &self.repairs {
            let _ = writeln!(text, "{}|{}|{}|{}", one.name, one.price, one.whole_minutes(), one.comeback_ppm());
        }
        Sha256::digest(text.as_bytes()).iter().take(8).fold(String::new(), |mut mark, byte| {
            let _ = write!(mark, "{byte:02x}");
            mark
        })
    }
}

/// Weighs and prices a job.
pub(crate) fn offering(text: &str, book: &FaultBook, system: System, memo: &Memo) -> Result<Offering, Trouble> {
    let job = Job::parse(text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    let plan = &verdict.plan;
    let told = repairs(&plan.alternatives).into_iter().map(|same| repair(&job, book, system, &same)).collect();
    let mut unpriced: Vec<String> = Vec::new();
    for part in plan.alternatives.iter().flat_map(|one| &one.parts).filter(|part| part.price.is_none()) {
        if !unpriced.contains(&part.name) {
            unpriced.push(part.name.clone());
        }
    }
    Ok(Offering {
        repairs: told,
        drawing: in_both_widths(system, |frame| price_and_comeback(&verdict, frame))?,
        unpriced,
        assumed: job.shop.assumed.iter().map(|name| name.replace('_', " ")).collect(),
        horizon_runs: job.shop.horizon_runs,
        unavoidable: plan.unavoidable,
    })
}

fn repair(job: &Job, book: &FaultBook, system: System, same: &[&Alternative]) -> Repair {
    let one = same[0];
    let named = |id: &String| book.cause(id).map_or(id.clone(), |cause| cause.name.clone());
    let part = |part: &toothsayer_verdict::PlanPart| {
        let price = part.price.map_or("no price known".to_owned(), |price| price.to_string());
        let shelf = match (part.on_shelf, part.lead_days) {
            (Some(count), _) if count > 0 => format!(", {count} on the shelf"),
            (_, Some(days)) => format!(", {days} days"),
            _ => String::new(),
        };
        format!("{}: {price}{shelf}", part.name)
    };
    Repair {
        name: names(same, job),
        recommended: same.iter().any(|one| one.name == RECOMMENDED),
        price: one.price,
        minutes: one.minutes,
        comeback: one.comeback,
        comeback_range: one.comeback_range,
        cures: one.cures.iter().map(named).collect(),
        leaves: one.leaves_open.clone(),
        steps: one.steps.iter().map(|step| step.name.clone()).collect(),
        parts: one.parts.iter().map(part).collect(),
        brake: one.stops.as_ref().map(|stops| brake_words(stops, system)),
    }
}
