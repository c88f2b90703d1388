//! Alternatives: what to repair, in which order, for how much, and how likely the truck comes back.

use crate::Error;
use crate::diagnosis::Diagnosis;
use std::collections::BTreeSet;
use toothsayer_evidence::{Belief, CauseId, CauseSet};
use toothsayer_fault_book::{Cause, Figure, Removal, Step, Wanted};
use toothsayer_job::{Job, Origin, Sheet};
use toothsayer_quantity::Money;

/// Causes less likely than this are not offered to be cured.
const LEAST_PRESENT: f64 = 0.02;
/// Most cures whose every combination is priced.
const MOST_CHOICES: usize = 10;
/// Cures beyond this many are left out when the worth of a check is computed.
const MOST_CHOICES_OF_WORTH: usize = 6;
/// A cause that is left uncured is told when it would strip the next set with this chance.
const TOLD_FROM: f64 = 0.05;
/// Chances of a comeback closer than this count as equal.
const SAME_CHANCE: f64 = 0.002;

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

/// One alternative.
#[derive(Clone, Debug)]
pub struct Alternative {
    /// "new-gears-only", "recommended" or "sturdiest".
    pub name: &'static str,
    /// Parts with known prices and labour.
    pub price: Money,
    /// Chance of another strip within the horizon.
    pub comeback: f64,
    /// Minutes of work.
    pub minutes: f64,
    /// The work, in bench order.
    pub steps: Vec<PlanStep>,
    /// The parts.
    pub parts: Vec<PlanPart>,
    /// Ids of the causes that it cures.
    pub cures: Vec<String>,
    /// What it leaves, told in a line each.
    pub leaves_open: Vec<String>,
}

/// A point of the price/comeback curve.
#[derive(Clone, Debug)]
pub struct FrontPoint {
    /// Price.
    pub price: Money,
    /// Chance of a comeback.
    pub comeback: f64,
    /// Ids of the causes that it cures.
    pub cures: Vec<String>,
}

/// The alternatives of a job.
#[derive(Clone, Debug)]
pub struct Plan {
    /// New gears only, recommended, sturdiest.
    pub alternatives: Vec<Alternative>,
    /// Every combination that no other beats in price and chance, cheapest first.
    pub front: Vec<FrontPoint>,
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
        let priced = planner.price_all(&choices, &diagnosis.belief)?;
        let seen = planner.seen(&choices);
        let recommended = best(&priced, seen, diagnosis.job);
        let sturdiest = sturdiest(&priced, seen);
        let named = [("new-gears-only", 0), ("recommended", recommended), ("sturdiest", sturdiest)];
        let alternatives =
            named.iter().map(|(name, set)| planner.alternative(name, *set, &choices, &priced[*set])).collect();
        let front = planner.front(&choices, &priced);
        let worth = planner.worths(&choices, &priced[recommended])?;
        Ok(Plan { alternatives, front, worth })
    }

    /// The recommended alternative.
    pub fn recommended(&self) -> Option<&Alternative> {
        self.alternatives.iter().find(|alternative| alternative.name == "recommended")
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
        let always = |cause: &Cause| {
            cause.cured_by.iter().any(|id| book.step(id).is_some_and(|step| is_wanted(step, diagnosis.job)))
        };
        let gears_go = diagnosis.job.strip_happened();
        let ends = |cause: &Cause| (gears_go && !cause.outlives_gear_change) || always(cause);
        let cured = book.causes().iter().enumerate().filter(|(_, cause)| ends(cause));
        let always_cured = cured.map(|(place, _)| CauseId(place)).collect();
        Self { diagnosis, job: diagnosis.job, always_cured }
    }

    /// Causes worth a cure of their own, the most dangerous first.
    fn choices(&self) -> Vec<Choice<'a>> {
        let book = self.diagnosis.book;
        let places = book.causes().iter().enumerate();
        let mut choices: Vec<Choice<'a>> = places
            .filter(|(place, _)| !self.always_cured.contains(CauseId(*place)))
            .filter(|(place, _)| self.diagnosis.causes[*place].present >= LEAST_PRESENT)
            .map(|(place, cause)| Choice { place, cause })
            .collect();
        let urgency = |choice: &Choice<'_>| {
            let seen = if self.is_seen(choice) { 1.0 } else { 0.0 };
            seen + self.diagnosis.causes[choice.place].next_set
        };
        choices.sort_by(|a, b| urgency(b).total_cmp(&urgency(a)));
        choices.truncate(MOST_CHOICES);
        choices
    }

    fn is_seen(&self, choice: &Choice<'a>) -> bool {
        self.diagnosis.seen.contains(CauseId(choice.place))
    }

    /// The choices that no honest repair leaves out: what was found broken is replaced.
    fn seen(&self, choices: &[Choice<'a>]) -> usize {
        choices.iter().enumerate().filter(|(_, choice)| self.is_seen(choice)).map(|(bit, _)| 1 << bit).sum()
    }

    fn price_all(&self, choices: &[Choice<'a>], belief: &Belief) -> Result<Vec<Priced>, Error> {
        let comebacks = self.comebacks(choices, belief)?;
        let priced = |(set, comeback): (usize, f64)| Priced { price: self.price(set, choices), comeback };
        Ok(comebacks.into_iter().enumerate().map(priced).collect())
    }

    /// Chance of a comeback for every combination of the choices, what is always cured taken away first.
    fn comebacks(&self, choices: &[Choice<'a>], belief: &Belief) -> Result<Vec<f64>, Error> {
        let mut sets = vec![self.always_cured];
        sets.extend(choices.iter().map(|choice| CauseSet::only(CauseId(choice.place))));
        let all = belief.failures(&self.diagnosis.ahead, &sets)?;
        Ok(all.into_iter().enumerate().filter(|(set, _)| set & 1 == 1).map(|(_, chance)| chance).collect())
    }

    fn steps(&self, set: usize, choices: &[Choice<'a>]) -> Vec<&'a Step> {
        let book = self.diagnosis.book;
        let cures: BTreeSet<&str> = choices
            .iter()
            .enumerate()
            .filter(|(bit, _)| set >> bit & 1 == 1)
            .flat_map(|(_, choice)| choice.cause.cured_by.iter().map(String::as_str))
            .collect();
        let steps = book.steps().iter();
        steps.filter(|step| is_wanted(step, self.job) || cures.contains(step.id.as_str())).collect()
    }

    fn price(&self, set: usize, choices: &[Choice<'a>]) -> Money {
        let steps = self.steps(set, choices);
        let labour = self.job.shop.labour_rate.for_minutes(self.minutes(&steps));
        let parts = steps.iter().flat_map(|step| &step.parts).filter_map(|name| self.part(name).price);
        Money { minor: labour.minor + parts.map(|price| price.minor).sum::<i64>(), ..labour }
    }

    fn minutes(&self, steps: &[&Step]) -> f64 {
        let needs = steps.iter().flat_map(|step| step.needs.iter().map(String::as_str));
        let off = self.diagnosis.book.removals_for(needs);
        let moving: f64 = off.iter().map(|removal| removal.off_minutes + removal.on_minutes).sum();
        moving + steps.iter().map(|step| step.minutes).sum::<f64>()
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

    fn alternative(&self, name: &'static str, set: usize, choices: &[Choice<'a>], priced: &Priced) -> Alternative {
        let steps = self.steps(set, choices);
        let parts = steps.iter().flat_map(|step| step.parts.iter().map(|part| self.part(part))).collect();
        Alternative {
            name,
            price: priced.price,
            comeback: priced.comeback,
            minutes: self.minutes(&steps),
            steps: self.bench_order(&steps),
            parts,
            cures: self.cures(set, choices),
            leaves_open: self.leaves_open(set, choices),
        }
    }

    fn cures(&self, set: usize, choices: &[Choice<'a>]) -> Vec<String> {
        let chosen = choices.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1);
        chosen.map(|(_, choice)| choice.cause.id.clone()).collect()
    }

    fn leaves_open(&self, set: usize, choices: &[Choice<'a>]) -> Vec<String> {
        let left = choices.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 0);
        left.filter_map(|(_, choice)| {
            let verdict = &self.diagnosis.causes[choice.place];
            let told = verdict.next_set >= TOLD_FROM;
            let likely = format!("{:.0} % likely", 100.0 * verdict.present);
            let strips = format!("alone strips the next set with {:.0} %", 100.0 * verdict.next_set / verdict.present);
            told.then(|| format!("{}: {likely}, {strips}", choice.cause.name))
        })
        .collect()
    }

    /// Everything comes off, then the work in the book's order; a part goes back once no later step needs it off.
    fn bench_order(&self, steps: &[&Step]) -> Vec<PlanStep> {
        let book = self.diagnosis.book;
        let off_for = |steps: &[&Step]| -> Vec<&Removal> {
            book.removals_for(steps.iter().flat_map(|step| step.needs.iter().map(String::as_str)))
        };
        let mut off = off_for(steps);
        let mut order: Vec<PlanStep> = off.iter().map(|part| self.taken_off(part)).collect();
        for place in 0..=steps.len() {
            let needed: BTreeSet<&str> = off_for(&steps[place..]).iter().map(|part| part.id.as_str()).collect();
            let (stays, back): (Vec<_>, Vec<_>) = off.into_iter().partition(|part| needed.contains(part.id.as_str()));
            order.extend(back.iter().rev().map(|part| self.put_back(part)));
            off = stays;
            order.extend(steps.get(place).map(|step| self.work(step)));
        }
        order
    }

    fn cautions(&self, ids: &[String]) -> Vec<String> {
        ids.iter().filter_map(|id| self.diagnosis.book.caution(id)).map(str::to_owned).collect()
    }

    fn taken_off(&self, part: &Removal) -> PlanStep {
        PlanStep {
            id: format!("off {}", part.id),
            name: format!("Take off: {}", part.name),
            what: String::new(),
            minutes: part.off_minutes,
            tools: part.tools.clone(),
            cautions: self.cautions(&part.cautions),
            tightens: None,
            figure: None,
        }
    }

    fn put_back(&self, part: &Removal) -> PlanStep {
        PlanStep {
            id: format!("on {}", part.id),
            name: format!("Put back: {}", part.name),
            minutes: part.on_minutes,
            cautions: self.cautions(&part.cautions_back),
            tightens: part.tightens.clone(),
            figure: part.figure,
            ..self.taken_off(part)
        }
    }

    fn work(&self, step: &Step) -> PlanStep {
        PlanStep {
            id: step.id.clone(),
            name: step.name.clone(),
            what: step.what.clone(),
            minutes: step.minutes,
            tools: step.tools.clone(),
            cautions: self.cautions(&step.cautions),
            tightens: step.tightens.clone(),
            figure: step.figure,
        }
    }

    fn front(&self, choices: &[Choice<'a>], priced: &[Priced]) -> Vec<FrontPoint> {
        let mut order: Vec<usize> = (0..priced.len()).collect();
        order.sort_by(|a, b| {
            let (a, b) = (&priced[*a], &priced[*b]);
            a.price.minor.cmp(&b.price.minor).then(a.comeback.total_cmp(&b.comeback))
        });
        let mut least = f64::MAX;
        let mut front = Vec::new();
        for set in order {
            if priced[set].comeback < least - SAME_CHANCE {
                least = priced[set].comeback;
                let (price, comeback) = (priced[set].price, priced[set].comeback);
                front.push(FrontPoint { price, comeback, cures: self.cures(set, choices) });
            }
        }
        front
    }

    /// Expected drop in the cost of the best alternative, less the labour of looking, for each open check.
    fn worths(&self, choices: &[Choice<'a>], now: &Priced) -> Result<Vec<Money>, Error> {
        let few = &choices[..choices.len().min(MOST_CHOICES_OF_WORTH)];
        let prices: Vec<Money> = (0..1 << few.len()).map(|set| self.price(set, few)).collect();
        let comeback_minor = self.job.shop.comeback_cost.minor as f64;
        let least = |belief: &Belief| -> Result<f64, Error> {
            let chances = self.comebacks(few, belief)?;
            let cost = |(price, chance): (&Money, f64)| price.minor as f64 + chance * comeback_minor;
            Ok(prices.iter().zip(chances).map(cost).fold(f64::MAX, f64::min))
        };
        let blind = least(&self.diagnosis.belief)?.min(now.price.minor as f64 + now.comeback * comeback_minor);
        let mut worths = Vec::with_capacity(self.diagnosis.open.len());
        for (check, (yes, after_yes, after_no)) in self.diagnosis.open.iter().zip(&self.diagnosis.answered) {
            let after = |belief: &Option<Belief>| belief.as_ref().map_or(Ok(blind), &least);
            let informed = yes * after(after_yes)? + (1.0 - yes) * after(after_no)?;
            let labour = self.job.shop.labour_rate.for_minutes(check.minutes);
            let minor = (blind - informed).round() as i64 - labour.minor;
            worths.push(Money { minor, ..labour });
        }
        Ok(worths)
    }
}

/// Whether every plan of this job has the step.
fn is_wanted(step: &Step, job: &Job) -> bool {
    step.wanted.is_some_and(|wanted| match wanted {
        Wanted::Always => true,
        Wanted::AfterStrip => job.strip_happened(),
        Wanted::NewTruck => !job.strip_happened() && job.runs_since_gears == 0.0,
    })
}

/// Least expected total cost among the sets that hold `needed`: price and the comeback's chance times its cost.
fn best(priced: &[Priced], needed: usize, job: &Job) -> usize {
    let cost = |priced: &Priced| priced.price.minor as f64 + priced.comeback * job.shop.comeback_cost.minor as f64;
    let sets = priced.iter().enumerate().filter(|(set, _)| set & needed == needed);
    sets.min_by(|a, b| cost(a.1).total_cmp(&cost(b.1))).map_or(needed, |(set, _)| set)
}

/// Least chance of a comeback among the sets that hold `needed`; of equal ones the cheapest.
fn sturdiest(priced: &[Priced], needed: usize) -> usize {
    let sets = || priced.iter().enumerate().filter(|(set, _)| set & needed == needed);
    let least = sets().map(|(_, priced)| priced.comeback).fold(f64::MAX, f64::min);
    let equal = sets().filter(|(_, priced)| priced.comeback <= least + SAME_CHANCE);
    equal.min_by_key(|(_, priced)| priced.price.minor).map_or(needed, |(set, _)| set)
}

/// The truck with the recommended repair done: cures and changed settings, new gears, and the findings left uncured.
pub fn proposed(diagnosis: &Diagnosis<'_>, plan: &Plan) -> Sheet {
    let (job, book) = (diagnosis.job, diagnosis.book);
    let mut sheet = job.built.clone();
    let Some(recommended) = plan.recommended() else { return sheet };
    let planner = Planner::new(diagnosis);
    let cured = |place: usize, cause: &Cause| {
        planner.always_cured.contains(CauseId(place)) || recommended.cures.contains(&cause.id)
    };
    for (place, cause) in book.causes().iter().enumerate().filter(|(place, cause)| cured(*place, cause)) {
        if diagnosis.causes[place].decided && diagnosis.causes[place].present > 0.5 {
            sheet.change(&cause.absent, &diagnosis.usual, &Origin::Change(cause.id.clone()));
        }
    }
    for finding in job.findings.iter().filter(|finding| finding.yes) {
        let mut causes =
            book.causes().iter().enumerate().filter(|(_, cause)| cause.findings.contains_key(&finding.check));
        if !causes.any(|(place, cause)| cured(place, cause)) {
            sheet.change(&finding.effects(book), &job.built.fields, &Origin::Finding(finding.check.clone()));
        }
    }
    for carries in recommended.steps.iter().filter_map(|step| step.tightens.as_deref()) {
        sheet.tighten(carries);
    }
    sheet
}
