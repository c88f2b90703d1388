//! `mattered`: the probability that a cause was there, that a failure happened, and that none would have without it.

use crate::chance::Chance;
use crate::ids::{CauseId, CauseSet};
use crate::joint::{Live, Posterior};
use crate::mode_sum::{ModeEvidence, Scratch};
use crate::mode_table::{ModeChances, ModeTable};
use crate::network::{MAX_MODES, State};

impl Posterior<'_> {
    /// P(cause present, some mode happened, none would have happened without the cause | evidence), for every cause.
    ///
    /// The triggers are kept as they fell: each leak, each link, and for each mode one uniform U with the computed
    /// trigger on exactly when U < q(S). Only the cause is taken away. So a mode stays on if its leak, another link,
    /// or U < q(S without the cause) holds it.
    pub fn mattered(&self) -> Vec<f64> {
        (0..self.network.causes.len()).map(|place| self.cause_mattered(CauseId(place))).collect()
    }

    fn cause_mattered(&self, cause: CauseId) -> f64 {
        let modes = &self.network.modes;
        if self.network.causes[cause.0].state == State::Known(false) || !modes.depend_on(cause) {
            return 0.0;
        }
        let layout = &self.belief.layout;
        let reduced = layout.without(CauseSet::only(cause));
        let removal = Removal {
            with: ModeTable::new(modes, layout),
            without: ModeTable::new(modes, &reduced),
            link: std::array::from_fn(|mode| if mode < modes.len() { modes.link(mode, cause) } else { 0.0 }),
        };
        let bit = layout.position(cause).map_or(0, |position| 1 << position);
        let held: Vec<_> = self.live.iter().filter(|row| row.vector & bit == bit).collect();
        self.sum_prevented(&held, &removal)
    }

    fn sum_prevented(&self, rows: &[&Live], removal: &Removal) -> f64 {
        let evidence = self.mode_evidence.with_some();
        let mut scratch = Scratch::default();
        let mut prevented = |row: &Live| {
            evidence.explain(row.vector, &mut scratch);
            let sum = evidence.sum(&removal.prevented(row.vector), &ModeEvidence::no_cost(), &mut scratch);
            row.weight * sum / row.mode_sum
        };
        rows.iter().map(|row| prevented(row)).sum::<f64>().min(1.0)
    }
}

/// The modes with and without one cause.
struct Removal<'a> {
    with: ModeTable<'a>,
    without: ModeTable<'a>,
    link: [f64; MAX_MODES],
}

impl Removal<'_> {
    /// For each mode: P(on with the cause, off without it) and P(off both times).
    fn prevented(&self, vector: usize) -> ModeChances {
        let mut chances = [Chance::NEVER; MAX_MODES];
        for (mode, chance) in chances.iter_mut().enumerate().take(self.with.len()) {
            let others_off = self.without.links(mode, vector).miss;
            let q_without = self.without.trigger(mode, vector);
            let q_either = self.with.trigger(mode, vector).max(q_without);
            let link = self.link[mode];
            chance.hit = others_off * (link * (1.0 - q_without) + (1.0 - link) * (q_either - q_without));
            chance.miss = others_off * (1.0 - link) * (1.0 - q_either);
        }
        chances
    }
}
