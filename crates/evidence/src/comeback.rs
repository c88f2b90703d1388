//! The chance that something fails again: from what is believed of the causes, and what is taken away.

use crate::belief::Belief;
use crate::chance::Chance;
use crate::error::Error;
use crate::ids::{CauseId, CauseSet};
use crate::layout::Layout;
use crate::mode_table::ModeTable;
use crate::network::{MAX_UNDECIDED, Modes};

/// Most choices whose every combination is asked for at once.
const MAX_CHOICES: usize = 16;

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
        let weights = self.weights.iter().enumerate().filter(|(_, weight)| **weight > 0.0);
        Ok(weights.map(|(vector, weight)| weight * table.some(vector)).sum::<f64>().min(1.0))
    }

    /// The same for every combination of `choices`: bit i of the place in the result says that choice i is made.
    pub fn failures(&self, modes: &Modes, choices: &[CauseSet]) -> Result<Vec<f64>, Error> {
        self.fits(modes)?;
        if choices.len() > MAX_CHOICES {
            return Err(Error::TooMany { what: "choices", count: choices.len(), limit: MAX_CHOICES });
        }
        let all = choices.iter().fold(CauseSet::EMPTY, |all, choice| all.union(*choice));
        let cube = Cube::new(self, modes, all)?;
        let mut chances = vec![0.0; 1 << choices.len()];
        cube.walk(choices, 0, 1, &mut chances);
        Ok(chances)
    }

    fn fits(&self, modes: &Modes) -> Result<(), Error> {
        let count = self.layout.n_causes();
        if modes.n_causes == count {
            return Ok(());
        }
        Err(Error::NoSuch { whose: "the set of modes".to_owned(), what: "cause", place: modes.n_causes, count })
    }
}

/// Weights and chances of failure over the vectors of the causes that can still be there.
struct Cube {
    causes: Vec<CauseId>,
    weights: Vec<f64>,
    failure: Vec<f64>,
}

impl Cube {
    /// Known causes that a choice may take away get a bit of their own; causes that no mode depends on lose theirs.
    fn new(belief: &Belief, modes: &Modes, curable: CauseSet) -> Result<Self, Error> {
        let known: Vec<_> = curable.iter().filter(|cause| belief.layout.is_known_present(*cause)).collect();
        let count = belief.layout.n_undecided() + known.len();
        if count > MAX_UNDECIDED {
            return Err(Error::TooMany { what: "undecided or curable causes", count, limit: MAX_UNDECIDED });
        }
        let mut causes = belief.layout.undecided().to_vec();
        causes.extend(&known);
        let opened = Layout::open(belief.layout.n_causes(), &causes, &belief.layout);
        let table = ModeTable::new(modes, &opened);
        let failure = (0..opened.n_vectors()).map(|vector| table.some(vector)).collect();
        let mut weights = vec![0.0; opened.n_vectors() - belief.weights.len()];
        weights.extend(&belief.weights);
        let idle: CauseSet = causes.iter().copied().filter(|cause| !modes.depend_on(*cause)).collect();
        Ok(Self { causes, weights, failure }.cured(idle))
    }

    /// Visits every combination of the choices from `depth` on; `place` carries a leading one that is cut off at the end.
    fn walk(&self, choices: &[CauseSet], depth: usize, place: usize, chances: &mut [f64]) {
        let Some(choice) = choices.len().checked_sub(depth + 1).map(|last| choices[last]) else {
            let sum: f64 = self.weights.iter().zip(&self.failure).map(|(weight, failure)| weight * failure).sum();
            chances[place - (1 << choices.len())] = sum.min(1.0);
            return;
        };
        self.walk(choices, depth + 1, place << 1, chances);
        self.cured(choice).walk(choices, depth + 1, place << 1 | 1, chances);
    }

    /// The cube without some causes: their weight goes to the vectors that lack them.
    fn cured(&self, cured: CauseSet) -> Self {
        let kept = |cause: &CauseId| !cured.contains(*cause);
        let causes: Vec<_> = self.causes.iter().copied().filter(kept).collect();
        let mut weights = self.weights.clone();
        let mut failure = self.failure.clone();
        for position in (0..self.causes.len()).rev().filter(|position| !kept(&self.causes[*position])) {
            let (low, step) = ((1 << position) - 1, 1 << position);
            let rows = weights.len() / 2;
            for row in 0..rows {
                let from = (row & !low) << 1 | (row & low);
                weights[row] = weights[from] + weights[from | step];
                failure[row] = failure[from];
            }
            weights.truncate(rows);
            failure.truncate(rows);
        }
        Self { causes, weights, failure }
    }
}
