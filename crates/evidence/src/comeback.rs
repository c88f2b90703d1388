//! The chance that something fails again: from what is believed of the causes, and what is taken away.

use crate::belief::{Belief, merge};
use crate::chance::Chance;
use crate::error::Error;
use crate::ids::{CauseId, CauseSet};
use crate::layout::Layout;
use crate::mode_table::ModeTable;
use crate::network::{MAX_UNDECIDED, Modes};

/// Most choices whose every combination is asked for at once.
const MAX_CHOICES: usize = 16;
/// Most causes that are undecided, or known and curable.
const MAX_OPEN: usize = MAX_UNDECIDED + 8;

impl Modes {
    /// P(the cause alone brings some mode about) = 1 - prod over modes (1 - q({cause})) (1 - p), the leaks left out.
    pub fn alone(&self, cause: CauseId) -> f64 {
        let subset = self.computed.iter().position(|other| *other == cause).map_or(0, |bit| 1 << bit);
        let by_mode = self.rows.iter().enumerate().map(|(mode, row)| {
            let trigger = if subset == 0 { 0.0 } else { row.trigger.get(subset).copied().unwrap_or(0.0) };
            Chance::of(self.link(mode, cause)).or(Chance::of(trigger))
        });
        by_mode.fold(Chance::NEVER, Chance::or).hit
    }
}

impl Belief {
    /// P(at least one of `modes` happens) once the causes in `cured` are taken away.
    ///
    /// `modes` may describe another horizon than the one that led to this belief, over the same causes.
    pub fn failure(&self, modes: &Modes, cured: CauseSet) -> Result<f64, Error> {
        self.fits(modes)?;
        let table = ModeTable::new(modes, &self.layout.without(cured));
        let rows = self.rows().filter(|(_, weight)| *weight > 0.0);
        Ok(rows.map(|(vector, weight)| weight * table.some(vector)).sum::<f64>().min(1.0))
    }

    /// The same for every combination of `choices`: bit i of the place in the result says that choice i is made.
    pub fn failures(&self, modes: &Modes, choices: &[CauseSet]) -> Result<Vec<f64>, Error> {
        self.fits(modes)?;
        if choices.len() > MAX_CHOICES {
            return Err(Error::TooMany { what: "choices", count: choices.len(), limit: MAX_CHOICES });
        }
        let all = choices.iter().fold(CauseSet::EMPTY, |all, choice| all.union(*choice));
        let risk = Risk::new(self, modes, all)?;
        let masks: Vec<usize> = choices.iter().map(|choice| risk.mask(*choice)).collect();
        let mut chances = vec![0.0; 1 << choices.len()];
        risk.walk(risk.rows(self, modes), &masks, 0, &mut chances);
        Ok(chances)
    }

    pub(crate) fn fits(&self, modes: &Modes) -> Result<(), Error> {
        let count = self.layout.n_causes();
        if modes.n_causes == count {
            return Ok(());
        }
        Err(Error::NoSuch { whose: "the set of modes".to_owned(), what: "cause", place: modes.n_causes, count })
    }
}

/// The chance of failure at any vector of the causes that can still be there.
struct Risk<'a> {
    opened: Layout,
    table: ModeTable<'a>,
    /// Bits of the known causes that may be taken away.
    known: usize,
}

impl<'a> Risk<'a> {
    /// Known causes that a choice may take away get a bit of their own.
    fn new(belief: &Belief, modes: &'a Modes, curable: CauseSet) -> Result<Self, Error> {
        let known: Vec<_> = curable.iter().filter(|cause| belief.layout.is_known_present(*cause)).collect();
        let undecided = belief.layout.n_undecided();
        let count = undecided + known.len();
        if count > MAX_OPEN {
            return Err(Error::TooMany { what: "undecided or curable causes", count, limit: MAX_OPEN });
        }
        let mut causes = belief.layout.undecided().to_vec();
        causes.extend(&known);
        let opened = Layout::open(belief.layout.n_causes(), &causes, &belief.layout);
        let table = ModeTable::new(modes, &opened);
        Ok(Self { opened, table, known: ((1 << known.len()) - 1) << undecided })
    }

    fn mask(&self, causes: CauseSet) -> usize {
        causes.iter().filter_map(|cause| self.opened.position(cause)).map(|position| 1 << position).sum()
    }

    /// The belief's rows; causes that no mode depends on lose their bits.
    fn rows(&self, belief: &Belief, modes: &Modes) -> Vec<(usize, f64)> {
        let idle = self.opened.undecided().iter().copied().filter(|cause| !modes.depend_on(*cause)).collect();
        let idle = self.mask(idle);
        let mut rows = belief.rows().map(|(vector, weight)| ((vector | self.known) & !idle, weight)).collect();
        merge(&mut rows);
        rows
    }

    /// Visits every combination of the choices, the last one first; curing one merges the vectors that differ by it.
    fn walk(&self, rows: Vec<(usize, f64)>, masks: &[usize], place: usize, chances: &mut [f64]) {
        let Some((choice, others)) = masks.split_last() else {
            let sum: f64 = rows.iter().map(|(vector, weight)| weight * self.table.some(*vector)).sum();
            chances[place] = sum.min(1.0);
            return;
        };
        let mut cured: Vec<(usize, f64)> = rows.iter().map(|(vector, weight)| (vector & !choice, *weight)).collect();
        merge(&mut cured);
        self.walk(cured, others, place | 1 << others.len(), chances);
        self.walk(rows, others, place, chances);
    }
}
