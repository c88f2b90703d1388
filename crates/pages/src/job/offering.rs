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
use toothsayer_records::Offer;
use toothsayer_report::words::{brake_words, names, repairs};
use toothsayer_report::{Offered, plain, work_of};
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
    /// Within how many runs.
    pub horizon_runs: f64,
    /// The same, were every blow as soft or as hard as model and inputs leave open.
    pub comeback_range: [f64; 2],
    /// What it cures beside the broken gears.
    pub cures: Vec<String>,
    /// What it leaves.
    pub leaves: Vec<String>,
    /// The same as the customer reads it, without figures.
    pub leaves_plain: Vec<String>,
    /// What kind of repair it is, in a sentence for each of its names.
    pub kinds: Vec<String>,
    /// The work, in bench order.
    pub steps: Vec<String>,
    /// The same without what only comes off and goes on again.
    pub work: Vec<String>,
    /// Its parts with their prices.
    pub parts: Vec<String>,
    /// Its parts by their names.
    pub part_names: Vec<String>,
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

    fn sums(&self) -> Offered {
        let Self { name, price, .. } = self;
        let (minutes, comeback_ppm) = (self.whole_minutes(), Some(self.comeback_ppm()));
        Offered { name: name.clone(), price: *price, minutes, comeback_ppm }
    }

    /// Whether an offer is this repair as it is reckoned now.
    fn is_offered_as(&self, offer: &Offer) -> bool {
        let sums = (offer.price, offer.minutes, offer.comeback_ppm);
        offer.name == self.name && sums == (self.price.minor, self.whole_minutes(), Some(self.comeback_ppm()))
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
    /// Whether teeth went: then new gears come with every repair.
    pub strip_happened: bool,
    /// The chance of a strip with everything cured.
    pub unavoidable: f64,
}

impl Offering {
    /// The repair that an offer is as it stands; none where it is reckoned otherwise now.
    pub(crate) fn repair_of(&self, offer: &Offer) -> Option<&Repair> {
        self.repairs.iter().find(|repair| repair.is_offered_as(offer))
    }

    /// Whether the plan still has the work of an offer, whatever it is reckoned to cost now.
    pub(crate) fn has_work_of(&self, offer: &Offer) -> bool {
        place_in(&self.repairs.iter().map(Repair::sums).collect::<Vec<_>>(), offer).is_some()
    }

    /// Whether these offers are the repairs as they are reckoned now, every one of them.
    pub(crate) fn is_offered(&self, offers: &[Offer]) -> bool {
        self.repairs.iter().all(|repair| offers.iter().any(|offer| repair.is_offered_as(offer)))
    }

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

/// Which of a plan's repairs is the work of an offer; none where the plan has no such work any more.
pub(crate) fn place_in(plan: &[Offered], offer: &Offer) -> Option<usize> {
    let price = Money { minor: offer.price, ..plan.first()?.price };
    let Offer { name, minutes, comeback_ppm, .. } = offer.clone();
    Offered { name, price, minutes, comeback_ppm }.place_in(plan)
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
        strip_happened: job.strip_happened(),
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
        horizon_runs: job.shop.horizon_runs,
        comeback_range: one.comeback_range,
        cures: one.cures.iter().map(named).collect(),
        leaves: one.leaves_open.iter().map(ToString::to_string).collect(),
        leaves_plain: one.leaves_open.iter().map(plain::left).collect(),
        kinds: plain::kinds(same, job),
        steps: one.steps.iter().map(|step| step.name.clone()).collect(),
        work: work_of(one).map(|step| step.name.clone()).collect(),
        parts: one.parts.iter().map(part).collect(),
        part_names: one.parts.iter().map(|part| part.name.clone()).collect(),
        brake: one.stops.as_ref().map(|stops| brake_words(stops, system)),
    }
}
