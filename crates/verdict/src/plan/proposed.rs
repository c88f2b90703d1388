//! The truck as the recommended repair leaves it.

use super::{Plan, Planner};
use crate::diagnosis::Diagnosis;
use toothsayer_evidence::CauseId;
use toothsayer_fault_book::Cause;
use toothsayer_job::{Origin, Sheet};

/// The truck with the recommended repair done: cures and changed settings, new gears, and the findings left uncured.
pub fn proposed(diagnosis: &Diagnosis<'_>, plan: &Plan) -> Sheet {
    let (job, book) = (diagnosis.job, diagnosis.book);
    let mut sheet = job.built.clone();
    let Some(recommended) = plan.recommended() else { return sheet };
    let planner = Planner::new(diagnosis);
    let cured = |place: usize, cause: &Cause| {
        planner.always_cured.contains(CauseId(place)) || recommended.cures.contains(&cause.id)
    };
    for (place, cause) in book.causes().iter().enumerate().filter(|(place, cause)| cured(*place, cause)) {
        if diagnosis.causes[place].decided && diagnosis.causes[place].present > 0.5 {
            sheet.change(&cause.absent, &diagnosis.usual, &Origin::Change(cause.id.clone()));
        }
    }
    for finding in job.findings.iter().filter(|finding| finding.yes) {
        let mut causes =
            book.causes().iter().enumerate().filter(|(_, cause)| cause.findings.contains_key(&finding.check));
        if !causes.any(|(place, cause)| cured(place, cause)) {
            sheet.change(&finding.effects(book), &job.built.fields, &Origin::Finding(finding.check.clone()));
        }
    }
    for carries in recommended.steps.iter().filter_map(|step| step.tightens.as_deref()) {
        sheet.tighten(carries);
    }
    sheet
}
