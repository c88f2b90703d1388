//! The chance that something fails again: from what is believed of the causes, and what is taken away.

use crate::belief::Belief;
use crate::chance::Chance;
use crate::error::Error;
use crate::ids::{CauseId, CauseSet};
use crate::mode_table::ModeTable;
use crate::network::Modes;
use crate::outlook::Outlook;

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
    pub fn failures(&self, modes: &Modes, always: CauseSet, choices: &[CauseSet]) -> Result<Vec<f64>, Error> {
        Ok(Outlook::new(self, modes, always, choices)?.failures(self))
    }

    pub(crate) fn fits(&self, modes: &Modes) -> Result<(), Error> {
        let count = self.layout.n_causes();
        if modes.n_causes == count {
            return Ok(());
        }
        Err(Error::NoSuch { whose: "the set of modes".to_owned(), what: "cause", place: modes.n_causes, count })
    }
}
