//! One entry of the book in plain words.

use crate::failure::Failure;
use crate::paper::{Paper, Tint};
use crate::words::{chance, list, minutes, sentence};
use toothsayer_fault_book::{Cause, Complaint, FaultBook, Finding, Mode, Removal, Step};
use toothsayer_quantity::nearest;

/// One entry in plain words.
pub(super) fn explain(book: &FaultBook, id: &str, paper: &mut Paper) -> Result<(), Failure> {
    let named = || book.causes().iter().find(|cause| cause.name == id);
    if let Some(cause) = book.cause(id).or_else(named) {
        explain_cause(book, cause, paper);
    } else if let Some(finding) = book.finding(id) {
        explain_finding(book, finding, paper);
    } else if let Some(step) = book.step(id) {
        explain_step(book, step, paper);
    } else if let Some(mode) = book.mode(id) {
        explain_mode(book, mode, paper);
    } else if let Some(part) = book.removal(id) {
        explain_removal(book, part, paper);
    } else if let Some(complaint) = book.complaint(id) {
        explain_complaint(book, complaint, paper);
    } else {
        let known: Vec<&str> = book
            .causes()
            .iter()
            .map(|cause| cause.id.as_str())
            .chain(book.finding_ids())
            .chain(book.steps().iter().map(|step| step.id.as_str()))
            .chain(book.modes().iter().map(|mode| mode.id.as_str()))
            .chain(book.removals().iter().map(|part| part.id.as_str()))
            .chain(book.complaints().iter().map(|complaint| complaint.id.as_str()))
            .collect();
        let hint = nearest(id, known)
            .map_or("`toothsayer fault-book` lists the entries".into(), |near| format!("did you mean \"{near}\"?"));
        return Err(Failure::usage(format!("the book has no entry \"{id}\""), hint));
    }
    Ok(())
}

fn explain_cause(book: &FaultBook, cause: &Cause, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &sentence(&cause.name));
    paper.paragraph(&format!("{head} (cause \"{}\"): {}", cause.id, cause.plain));
    let computed = if cause.is_computed() {
        "What it does to the teeth is computed from the truck."
    } else {
        "What it does to the teeth is the book's estimate."
    };
    paper.paragraph(computed);
    paper.paragraph(&format!("Before anything is seen, {} of trucks have it.", chance(cause.prior.mean())));
    let seen: Vec<String> = cause.findings.iter().map(|(id, p)| format!("{id} ({})", chance(*p))).collect();
    paper.paragraph(&format!("Seen by: {}.", list(&seen)));
    if cause.outlives_gear_change {
        paper.paragraph("It outlives a change of gears: new gears alone do not cure it.");
    }
    let modes: Vec<String> = cause.modes.iter().map(|(id, p)| format!("{id} ({})", chance(*p))).collect();
    if !modes.is_empty() {
        paper.paragraph(&format!("By the book's estimate it brings about: {}.", list(&modes)));
    }
    for step in cause.cured_by.iter().filter_map(|id| book.step(id)) {
        paper.item("Cure:", &format!("{}: {}", step.name, step.what));
    }
    for caution in cause.cautions.iter().filter_map(|id| book.caution(id)) {
        paper.item("caution:", caution);
    }
}

fn explain_mode(book: &FaultBook, mode: &Mode, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &sentence(&mode.name));
    paper.paragraph(&format!("{head} (mode \"{}\"): {}.", mode.id, mode.plain));
    let from: Vec<String> = book
        .causes()
        .iter()
        .filter_map(|cause| Some(format!("{} ({})", cause.name, chance(*cause.modes.get(&mode.id)?))))
        .collect();
    if !from.is_empty() {
        paper.paragraph(&format!("Brought about, by the book's estimate, by: {}.", list(&from)));
    }
    if mode.computed.is_some() {
        paper.paragraph("What the computed causes do to it comes from the truck's own mechanics.");
    }
    let seen: Vec<String> = book
        .findings()
        .iter()
        .filter_map(|check| Some(format!("{} ({})", check.id, chance(*check.modes.get(&mode.id)?))))
        .collect();
    paper.paragraph(&format!("Seen by: {}.", list(&seen)));
}

fn explain_removal(book: &FaultBook, part: &Removal, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &sentence(&part.name));
    let (off, on) = (minutes(part.off_minutes), minutes(part.on_minutes));
    paper.paragraph(&format!("{head} (comes off; \"{}\"): {off} off, {on} on again.", part.id));
    let first: Vec<String> =
        book.removals_for(part.needs.iter().map(String::as_str)).iter().map(|part| part.name.clone()).collect();
    if !first.is_empty() {
        paper.paragraph(&format!("Off first: {}.", list(&first)));
    }
    if let Some(carries) = &part.tightens {
        paper.paragraph(&format!("Putting it back tightens the joint that carries the {carries}."));
    }
    for caution in part.cautions.iter().chain(&part.cautions_back).filter_map(|id| book.caution(id)) {
        paper.item("caution:", caution);
    }
}

fn explain_complaint(book: &FaultBook, complaint: &Complaint, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &sentence(&complaint.name));
    paper.paragraph(&format!("{head} (complaint \"{}\"): {}", complaint.id, complaint.plain));
    paper.paragraph(if complaint.stripped { "It says that teeth went." } else { "It does not say that teeth went." });
    for check in complaint.implies.iter().filter_map(|id| book.finding(id)) {
        paper.item("Taken as answered with yes:", &check.question);
    }
    for step in complaint.steps.iter().filter_map(|id| book.step(id)) {
        paper.item("Every plan has:", &step.name);
    }
}

fn explain_finding(book: &FaultBook, finding: &Finding, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &finding.question);
    paper.paragraph(&format!("{head} (check \"{}\")", finding.id));
    paper.paragraph(&finding.how);
    let off: Vec<String> =
        book.removals_for(finding.needs.iter().map(String::as_str)).iter().map(|part| part.name.clone()).collect();
    if !off.is_empty() {
        paper.paragraph(&format!("Off first: {}.", list(&off)));
    }
    if let Some(value) = &finding.value {
        let verb = if value.adds { "adds to" } else { "sets" };
        paper.paragraph(&format!("A measured value (value = \"...\") {verb} `{}`.", value.input));
    }
    if let Some(frees) = &finding.frees {
        let what = if frees == "pinion" {
            "the pinion holds no longer on its shaft".to_owned()
        } else {
            format!("the joint that carries the {frees} clamps nothing")
        };
        paper.paragraph(&format!("A yes means: {what}."));
    }
    let from: Vec<String> = book
        .causes()
        .iter()
        .filter(|cause| cause.findings.contains_key(&finding.id))
        .map(|cause| cause.name.clone())
        .collect();
    if !from.is_empty() {
        paper.paragraph(&format!("Points to: {}.", list(&from)));
    }
    for caution in finding.cautions.iter().filter_map(|id| book.caution(id)) {
        paper.item("caution:", caution);
    }
}

fn explain_step(book: &FaultBook, step: &Step, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &step.name);
    paper.paragraph(&format!("{head} (step \"{}\", {}): {}", step.id, minutes(step.minutes), step.what));
    if !step.parts.is_empty() {
        paper.paragraph(&format!("Parts: {}.", list(&step.parts)));
    }
    paper.paragraph(&format!("Tools: {}.", list(&step.tools)));
    let off: Vec<String> =
        book.removals_for(step.needs.iter().map(String::as_str)).iter().map(|part| part.name.clone()).collect();
    if !off.is_empty() {
        paper.paragraph(&format!("Off first: {}.", list(&off)));
    }
    if let Some(carries) = &step.tightens {
        paper.paragraph(&format!("It tightens the joint that carries the {carries}, within its window."));
    }
    if book.plans().always.contains(&step.id) {
        paper.paragraph("Every plan has this step.");
    }
    let visits: Vec<String> =
        book.complaints().iter().filter(|one| one.steps.contains(&step.id)).map(|one| one.name.clone()).collect();
    if !visits.is_empty() {
        paper.paragraph(&format!("Every plan for these visits has it: {}.", list(&visits)));
    }
    let cures: Vec<String> = book
        .causes()
        .iter()
        .filter(|cause| cause.cured_by.contains(&step.id))
        .map(|cause| cause.name.clone())
        .collect();
    if !cures.is_empty() {
        paper.paragraph(&format!("Part of the cure of: {}.", list(&cures)));
    }
    for caution in step.cautions.iter().filter_map(|id| book.caution(id)) {
        paper.item("caution:", caution);
    }
}
