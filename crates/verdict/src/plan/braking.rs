//! The way to a stop before and after a repair that lowers the brake.

use super::Planner;
use crate::Error;
use crate::bay::Bay;
use crate::stopping::{Stopping, stopping_distance};
use toothsayer_fault_book::{Cause, Change};
use toothsayer_job::{Origin, Sheet};

/// The settings that a brake is lowered by.
const BRAKE: [&str; 2] = ["controller.brake_strength", "controller.brake_current"];

/// Whether a change is one of the brake.
fn brakes(change: &Change) -> bool {
    change.input().is_some_and(|input| BRAKE.contains(&input))
}

impl Planner<'_> {
    /// The ways before and after the cures, where one of them changes the brake.
    pub(super) fn ways_to_stop(&self, cures: &[&Cause]) -> Result<Option<[Stopping; 2]>, Error> {
        let built = &self.job.built;
        let mut after = built.clone();
        for cause in cures {
            let changes: Vec<Change> = cause.absent.iter().filter(|change| brakes(change)).cloned().collect();
            after.change(&changes, &self.diagnosis.usual, &Origin::Change(cause.id.clone()));
        }
        if BRAKE.iter().all(|key| after.fields.number(key) == built.fields.number(key)) {
            return Ok(None);
        }
        let way = |sheet: &Sheet| -> Result<Stopping, Error> {
            let build = sheet.build()?;
            stopping_distance(&build, &Bay::new(&build, true)?, build.controller.brake_strength)
        };
        Ok(Some([way(built)?, way(&after)?]))
    }
}
