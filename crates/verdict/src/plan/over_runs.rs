//! The chance of a comeback over the next runs, for cures that are settled.

use super::{Alternative, Plan, Planner};
use crate::Error;
use crate::diagnosis::Diagnosis;
use crate::peaks::Memo;
use toothsayer_evidence::{CauseId, CauseSet};
use toothsayer_job::Job;

impl Plan {
    /// The chance that the teeth have gone again after each of `runs`, for each alternative in its order.
    ///
    /// The causes are weighed as now; what they bring about is computed for each number of runs as `Plan::new` does for
    /// the horizon, where the result is the alternative's own chance.
    pub fn comeback_over_runs(
        &self,
        diagnosis: &Diagnosis<'_>,
        runs: &[f64],
        memo: &Memo,
    ) -> Result<Vec<Vec<f64>>, Error> {
        let mut chances = vec![Vec::with_capacity(runs.len()); self.alternatives.len()];
        for horizon in runs {
            let mut job: Job = diagnosis.job.clone();
            job.shop.horizon_runs = *horizon;
            let ahead = Diagnosis::new(&job, diagnosis.book, memo)?;
            let planner = Planner::new(&ahead);
            for (alternative, chances) in self.alternatives.iter().zip(&mut chances) {
                chances.push(planner.comeback(alternative)?);
            }
        }
        Ok(chances)
    }
}

impl Planner<'_> {
    /// The chance of a comeback with an alternative's cures.
    fn comeback(&self, alternative: &Alternative) -> Result<f64, Error> {
        let causes = self.diagnosis.book.causes().iter().enumerate();
        let cured: CauseSet = causes
            .filter(|(_, cause)| alternative.cures.contains(&cause.id))
            .map(|(place, _)| CauseId(place))
            .collect();
        let away = self.always_cured.union(cured);
        let chances = self.diagnosis.belief.failures(&self.diagnosis.ahead, away, &[])?;
        Ok(chances.first().copied().unwrap_or(0.0))
    }
}
