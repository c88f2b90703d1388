//! q(S): how likely each mode is when exactly a set of computed causes is present.

mod chances;
mod content;
mod demand;
mod judge;
mod sets;
mod survive;

pub(crate) use chances::{Chances, Triggered};
pub(crate) use content::Content;

use crate::Error;
use crate::influence::influence;
use crate::peaks::Memo;
use content::Contents;
use demand::{Demand, Wanted};
use judge::{END_Z, Judge, spots};
use rayon::prelude::*;
use sets::{Causes, base};
use survive::trucks;
use toothsayer_fault_book::{Cause, Change, FaultBook};
use toothsayer_job::{Fields, Job, Sheet};

/// Spread of the model itself, as a standard deviation in logarithms (estimate, no source).
const MODEL_SPREAD: f64 = 0.15;
/// Seed of the draws: the same for every set and job.
const SEED: u32 = 1;
/// Most causes whose every set is computed.
const MOST_TOGETHER: usize = 8;

/// A computed cause as this job has it.
pub(crate) struct Computed<'a> {
    pub(crate) cause: &'a Cause,
    /// Whether the build decides that it is there, or a finding shows it.
    pub(crate) certain: bool,
    /// What its presence changes; with the measured severity where the bench measured it.
    pub(crate) present: Vec<Change>,
}

/// What is asked of the mechanics.
pub(crate) struct Asked<'a> {
    pub(crate) job: &'a Job,
    pub(crate) book: &'a FaultBook,
    pub(crate) computed: &'a [Computed<'a>],
    /// What is usual for the truck.
    pub(crate) usual: &'a Fields,
}

/// What the mechanics compute of a job's causes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Triggers {
    /// The causes computed together, as places in the list of computed ones.
    pub(crate) together: Vec<usize>,
    /// q(S) for every subset of those, bit i for the i-th.
    pub(crate) table: Vec<Chances>,
    /// Every other computed cause, with the link that it has by itself.
    pub(crate) alone: Vec<(usize, Chances)>,
}

/// The chances of every computed cause: of those that count most in every set, of the others by themselves.
pub(crate) fn triggers(asked: &Asked<'_>, memo: &Memo) -> Result<Triggers, Error> {
    let Asked { job, book, computed, usual } = *asked;
    let base = base(job, book);
    let mut sets = Sets::new(job, Causes { base: &base, computed, usual }, memo)?;
    let singles: Vec<usize> = std::iter::once(0).chain((0..computed.len()).map(|bit| 1 << bit)).collect();
    let by_itself = sets.judge(&singles)?;
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
    let every: Vec<usize> = (0..1_usize << together.len()).map(bits).collect();
    let table = sets.judge(&every)?;
    Ok(Triggers { together, table, alone })
}

impl Computed<'_> {
    /// What is certain comes first, then prior times what it does by itself.
    fn weight(&self, link: &Chances) -> f64 {
        f64::from(u8::from(self.certain)) + self.cause.prior.mean() * link.past.most().max(link.ahead.most())
    }
}

/// Sets of causes on their way to chances.
struct Sets<'a> {
    causes: Causes<'a>,
    movers: usize,
    demand: Demand<'a>,
    judge: Judge,
    contents: Contents,
    memo: &'a Memo,
}

impl<'a> Sets<'a> {
    fn new(job: &Job, causes: Causes<'a>, memo: &'a Memo) -> Result<Self, Error> {
        let judge = Judge {
            trucks: trucks(SEED),
            spots: spots(causes.base, &causes.base.build()?, SEED),
            spread: level_spread(causes.base),
            past_runs: job.runs_since_gears.max(1.0),
            horizon_runs: job.shop.horizon_runs,
        };
        let contents = Contents::of(&causes, &judge);
        Ok(Self { causes, movers: causes.movers(), demand: Demand::new(causes, memo)?, judge, contents, memo })
    }

    /// The chances of some sets: those that are not known yet, their blows simulated first.
    fn judge(&mut self, sets: &[usize]) -> Result<Vec<Chances>, Error> {
        let known = self.known(sets);
        let fresh: Vec<usize> =
            sets.iter().zip(&known).filter(|(_, known)| known.is_none()).map(|(set, _)| *set).collect();
        let mut wanted = Vec::new();
        for set in &fresh {
            wanted.extend(self.causes.severities(*set).iter().map(|(severity, _)| self.wanted(*set, *severity)));
        }
        self.demand.learn(&wanted)?;
        let judged: Vec<Chances> = fresh.par_iter().map(|set| self.chances(*set)).collect::<Result<_, _>>()?;
        if let Ok(mut memo) = self.memo.chances.lock() {
            memo.extend(fresh.iter().map(|set| self.contents.of_set(*set)).zip(judged.iter().copied()));
        }
        let mut judged = judged.into_iter();
        Ok(known.into_iter().filter_map(|known| known.or_else(|| judged.next())).collect())
    }

    fn known(&self, sets: &[usize]) -> Vec<Option<Chances>> {
        let Ok(memo) = self.memo.chances.lock() else { return vec![None; sets.len()] };
        sets.iter().map(|set| memo.get(&self.contents.of_set(*set)).copied()).collect()
    }

    fn wanted(&self, set: usize, severity: sets::Severity) -> Wanted {
        self.demand.wanted(set & self.movers, self.causes.opening_m(set, severity))
    }

    fn chances(&self, set: usize) -> Result<Chances, Error> {
        let mut sum = Chances::default();
        for (severity, weight) in self.causes.severities(set) {
            let build = self.causes.build(set, *severity)?;
            let blows = self.demand.blows(self.wanted(set, *severity));
            sum = sum.plus(*weight, &self.judge.chances(&build, &blows)?);
        }
        Ok(sum)
    }
}

/// Spread of the level of a truck's blows, in logarithms: the model's, and that of the inputs' stated ranges but for the
/// height of landings, which is drawn for each.
fn level_spread(sheet: &Sheet) -> f64 {
    let inputs = sheet.fields.numbers.iter().filter(|(key, _)| **key != "driver.drop_height");
    let deviations = inputs.map(|(key, entry)| influence(key, entry) / (2.0 * END_Z));
    let squares: f64 = deviations.map(|deviation| deviation * deviation).sum();
    (MODEL_SPREAD * MODEL_SPREAD + squares).sqrt()
}
