//! The chance that something fails again, for every combination of cures at once.

use crate::belief::Belief;
use crate::chance::NoisyOr;
use crate::error::Error;
use crate::ids::{CauseId, CauseSet};
use crate::layout::{Layout, SubsetIndex};
use crate::network::{CauseLink, Modes};
use std::sync::Arc;

/// Most causes that the choices may take away together: every set of them is worked out.
const MAX_CURABLE: usize = 16;

/// Choices over modes, prepared for the vectors of one belief.
///
/// That no mode happens at a vector x is A(S) prod g_k: S the computed causes of x, A(S) the product over modes of
/// (1 - leak)(1 - q(S)), g_k the product over modes of (1 - p) of each present cause. Vectors with the same S and the same
/// curable causes therefore fall into one cell, whatever else they hold, and curing a cause of no trigger is one factor.
#[derive(Clone, Debug)]
pub struct Outlook {
    vectors: Arc<[usize]>,
    plan: Arc<Plan>,
    /// For each vector its cell, and the chance that none of its incurable causes brings a mode about.
    places: Vec<(usize, f64)>,
}

/// What does not depend on the vectors.
#[derive(Clone, Debug)]
struct Plan {
    layout: Layout,
    subset: SubsetIndex,
    incurable: NoisyOr,
    /// A(S) with the links of S, for every set of computed causes.
    quiet: Vec<f64>,
    /// Bits of S that may be cured.
    triggers: Vec<usize>,
    /// Curable causes of no trigger, each with its g.
    plain: Vec<(CauseId, f64)>,
    /// For each combination of choices the cured triggers' places and the cured plain causes' bits.
    choices: Vec<(usize, usize)>,
}

impl Outlook {
    /// Every combination of `choices`; the causes of `always` are away in each.
    pub fn new(belief: &Belief, modes: &Modes, always: CauseSet, choices: &[CauseSet]) -> Result<Self, Error> {
        belief.fits(modes)?;
        let count = choices.len();
        if count > MAX_CURABLE {
            return Err(Error::TooMany { what: "choices", count, limit: MAX_CURABLE });
        }
        let plan = Arc::new(Plan::new(belief, modes, always, choices)?);
        let places = plan.places(&belief.vectors);
        Ok(Self { vectors: belief.vectors.clone(), plan, places })
    }

    /// P(at least one mode happens) under `belief`: bit i of the place in the result says that choice i is made.
    pub fn failures(&self, belief: &Belief) -> Vec<f64> {
        let cells = self.cells(belief);
        let plan = &self.plan;
        let cured: Vec<Vec<f64>> =
            (0..1_usize << plan.triggers.len()).map(|set| plan.cure_triggers(set, &cells)).collect();
        (0..1_usize << plan.choices.len())
            .map(|made| {
                let (triggers, plain) = plan.made(made);
                (1.0 - cured[triggers][plain]).clamp(0.0, 1.0)
            })
            .collect()
    }

    /// The same for some combinations: far less work where they are few.
    pub fn failures_of(&self, belief: &Belief, combinations: &[usize]) -> Vec<f64> {
        let cells = self.cells(belief);
        let width = self.plan.width();
        let failure = |made: &usize| {
            let (triggers, plain) = self.plan.made(*made);
            let away = self.plan.away(triggers);
            let quiet = |(held, row): (usize, &[f64])| self.plan.quiet[held & !away] * row[plain];
            (1.0 - cells.chunks(width).enumerate().map(quiet).sum::<f64>()).clamp(0.0, 1.0)
        };
        combinations.iter().map(failure).collect()
    }

    /// The weight of each cell under `belief`, its incurable causes silent, by the cured plain causes.
    fn cells(&self, belief: &Belief) -> Vec<f64> {
        let same = Arc::ptr_eq(&self.vectors, &belief.vectors);
        let anew = if same { Vec::new() } else { self.plan.places(&belief.vectors) };
        let places = if same { &self.places } else { &anew };
        let width = self.plan.width();
        let mut cells = vec![0.0; self.plan.quiet.len() * width];
        for ((cell, miss), weight) in places.iter().zip(&belief.weights) {
            cells[*cell] += weight * miss;
        }
        cells.chunks_mut(width).for_each(|row| self.plan.cure_plain(row));
        cells
    }
}

impl Plan {
    fn new(belief: &Belief, modes: &Modes, always: CauseSet, choices: &[CauseSet]) -> Result<Self, Error> {
        let layout = belief.layout.without(always);
        let all = choices.iter().fold(CauseSet::EMPTY, |all, choice| all.union(*choice)).without(always);
        let there = |cause: &CauseId| layout.position(*cause).is_some() || layout.is_known_present(*cause);
        let curable: Vec<CauseId> = all.iter().filter(there).collect();
        let count = curable.len();
        if count > MAX_CURABLE {
            return Err(Error::TooMany { what: "curable causes", count, limit: MAX_CURABLE });
        }
        let is_trigger = |cause: &CauseId| modes.computed.contains(cause);
        let (triggering, plain): (Vec<CauseId>, Vec<CauseId>) = curable.into_iter().partition(is_trigger);
        let silent = |cause: CauseId| (0..modes.rows.len()).map(|mode| 1.0 - modes.link(mode, cause)).product::<f64>();
        let bit = |cause: &CauseId| modes.computed.iter().position(|other| other == cause).map_or(0, |bit| 1 << bit);
        let rest = (0..modes.n_causes).map(CauseId).filter(|cause| !plain.contains(cause) && !is_trigger(cause));
        let links: Vec<CauseLink> = rest.map(|cause| CauseLink { cause, probability: 1.0 - silent(cause) }).collect();
        let chosen = |choice: &CauseSet| {
            let places = |of: &[CauseId]| -> usize {
                of.iter().enumerate().filter(|(_, cause)| choice.contains(**cause)).map(|(place, _)| 1 << place).sum()
            };
            (places(&triggering), places(&plain))
        };
        Ok(Self {
            subset: SubsetIndex::new(&layout, &modes.computed),
            incurable: NoisyOr::new(&layout, 0.0, &links),
            quiet: quiet(modes, &silent),
            triggers: triggering.iter().map(bit).collect(),
            choices: choices.iter().map(chosen).collect(),
            plain: plain.into_iter().map(|cause| (cause, silent(cause))).collect(),
            layout,
        })
    }

    fn places(&self, vectors: &[usize]) -> Vec<(usize, f64)> {
        let plain: Vec<Option<usize>> = self.plain.iter().map(|(cause, _)| self.layout.position(*cause)).collect();
        let is_there = |vector: usize, position: &Option<usize>| position.is_none_or(|bit| vector >> bit & 1 == 1);
        let place = |vector: &usize| {
            let held: usize = plain
                .iter()
                .enumerate()
                .filter(|(_, position)| is_there(*vector, position))
                .map(|(place, _)| 1 << place)
                .sum();
            let cell = self.subset.at(*vector) << self.plain.len() | held;
            (cell, self.incurable.at(*vector).miss)
        };
        vectors.iter().map(place).collect()
    }

    /// Sets of the plain causes.
    fn width(&self) -> usize {
        1 << self.plain.len()
    }

    /// What a combination of choices cures: places of triggers, bits of plain causes.
    fn made(&self, combination: usize) -> (usize, usize) {
        let chosen = self.choices.iter().enumerate().filter(|(bit, _)| combination >> bit & 1 == 1);
        chosen.fold((0, 0), |all, (_, one)| (all.0 | one.0, all.1 | one.1))
    }

    /// The bits of S that a set of cured triggers takes away.
    fn away(&self, triggers: usize) -> usize {
        let made = self.triggers.iter().enumerate().filter(|(place, _)| triggers >> place & 1 == 1);
        made.map(|(_, bit)| bit).sum()
    }

    /// From "which of the plain causes are there" to "which of them are cured".
    fn cure_plain(&self, row: &mut [f64]) {
        for (place, (_, silent)) in self.plain.iter().enumerate() {
            let bit = 1 << place;
            for at in (0..row.len()).filter(|at| at & bit == 0) {
                let (absent, present) = (row[at], row[at | bit]);
                row[at] = absent + present * silent;
                row[at | bit] = absent + present;
            }
        }
    }

    /// P(no mode) for every set of cured plain causes, the triggers of `set` away.
    fn cure_triggers(&self, set: usize, cells: &[f64]) -> Vec<f64> {
        let (away, width) = (self.away(set), self.width());
        let mut quiet = vec![0.0; width];
        for (held, row) in cells.chunks(width).enumerate() {
            let chance = self.quiet[held & !away];
            quiet.iter_mut().zip(row).for_each(|(sum, weight)| *sum += chance * weight);
        }
        quiet
    }
}

/// That no mode happens by its leak, its trigger or a link of the computed causes, for every set of these.
fn quiet(modes: &Modes, silent: &impl Fn(CauseId) -> f64) -> Vec<f64> {
    let links: Vec<f64> = modes.computed.iter().map(|cause| silent(*cause)).collect();
    let at = |set: usize| {
        let linked: f64 = links.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1).map(|(_, g)| g).product();
        let by_mode =
            modes.rows.iter().map(|mode| (1.0 - mode.leak) * (1.0 - mode.trigger.get(set).copied().unwrap_or(0.0)));
        linked * by_mode.product::<f64>()
    };
    (0..1_usize << modes.computed.len()).map(at).collect()
}
