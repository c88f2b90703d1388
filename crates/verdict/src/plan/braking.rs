//! The way to a stop before and after a repair that lowers the brake.

use super::Planner;
use crate::Error;
use crate::bay::Bay;
use crate::stopping::{Stopping, stopping_distance};
use toothsayer_fault_book::{Cause, Change};
use toothsayer_job::{Origin, Sheet};

/// The setting that a brake is lowered by.
const BRAKE: &str = "controller.brake_strength";

impl Planner<'_> {
    /// The ways before and after the cures, where one of them changes the brake.
    pub(super) fn ways_to_stop(&self, cures: &[&Cause]) -> Result<Option<[Stopping; 2]>, Error> {
        let brakes = |cause: &&&Cause| cause.absent.iter().any(|change| change.input() == Some(BRAKE));
        let built = &self.job.built;
        let mut after = built.clone();
        for cause in cures.iter().filter(brakes) {
            let changes: Vec<Change> =
                cause.absent.iter().filter(|change| change.input() == Some(BRAKE)).cloned().collect();
            after.change(&changes, &self.diagnosis.usual, &Origin::Change(cause.id.clone()));
        }
        if after.fields.number(BRAKE) == built.fields.number(BRAKE) {
            return Ok(None);
        }
        let way = |sheet: &Sheet| -> Result<Stopping, Error> {
            let build = sheet.build()?;
            stopping_distance(&build, &Bay::new(&build, true)?, build.controller.brake_strength)
        };
        Ok(Some([way(built)?, way(&after)?]))
    }
}
