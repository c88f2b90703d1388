//! The chance of each mode at every cause vector: leak, links and trigger together.

use crate::chance::{Chance, NoisyOr};
use crate::ids::CauseId;
use crate::layout::{Layout, SubsetIndex};
use crate::network::{MAX_MODES, Modes};

/// One chance for each mode, in a fixed array so that the inner loops do not allocate.
pub(crate) type ModeChances = [Chance; MAX_MODES];

/// The modes, prepared for one layout of the causes.
#[derive(Clone, Debug)]
pub(crate) struct ModeTable<'a> {
    modes: &'a Modes,
    links: Vec<NoisyOr>,
    subset: SubsetIndex,
}

impl<'a> ModeTable<'a> {
    pub fn new(modes: &'a Modes, layout: &Layout) -> Self {
        let links = modes.rows.iter().map(|mode| NoisyOr::new(layout, mode.leak, &mode.links)).collect();
        Self { modes, links, subset: SubsetIndex::new(layout, &modes.computed) }
    }

    pub fn len(&self) -> usize {
        self.links.len()
    }

    /// The mechanical trigger q of a mode at a cause vector.
    pub fn trigger(&self, mode: usize, vector: usize) -> f64 {
        self.modes.rows[mode].trigger.get(self.subset.at(vector)).copied().unwrap_or(0.0)
    }

    /// Leak and links of a mode without its trigger.
    pub fn links(&self, mode: usize, vector: usize) -> Chance {
        self.links[mode].at(vector)
    }

    /// The chance of every mode at a cause vector.
    pub fn at(&self, vector: usize) -> ModeChances {
        let mut chances = [Chance::NEVER; MAX_MODES];
        for (mode, chance) in chances.iter_mut().enumerate().take(self.len()) {
            *chance = self.links(mode, vector).or(Chance::of(self.trigger(mode, vector)));
        }
        chances
    }

    /// The chance that at least one mode happens at a cause vector.
    pub fn some(&self, vector: usize) -> f64 {
        self.at(vector).into_iter().fold(Chance::NEVER, Chance::or).hit
    }
}

impl Modes {
    /// The link probability from a cause to a mode; 0 where there is none.
    pub(crate) fn link(&self, mode: usize, cause: CauseId) -> f64 {
        self.rows[mode].links.iter().find(|link| link.cause == cause).map_or(0.0, |link| link.probability)
    }

    /// Whether any mode depends on the cause.
    pub(crate) fn depend_on(&self, cause: CauseId) -> bool {
        let triggered = self.computed.contains(&cause) && self.rows.iter().any(|mode| !mode.trigger.is_empty());
        triggered || (0..self.rows.len()).any(|mode| self.link(mode, cause) > 0.0)
    }
}
