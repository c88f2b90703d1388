//! The hand-over: two pages for the customer. What happened, what was done, what to do next.

use super::matter::{Matter, stands};
use crate::Error;
use crate::care_words;
use crate::typeset::{Block, Head, Item, Notice, Picture, Table, Tone, Words};
use crate::words::{chance, measured, minutes, sentence};
use toothsayer_job::State;
use toothsayer_verdict::{CauseVerdict, Holds};

/// Causes that are told are at least this likely.
const TOLD_FROM: f64 = 0.2;
/// Causes and findings that are told at most.
const MOST_CAUSES: usize = 3;
const MOST_FINDINGS: usize = 8;

pub(crate) fn blocks(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let mut blocks = vec![Block::Title { name: format!("{}: hand-over", matter.truck()), under: matter.under_title() }];
    happened(matter, &mut blocks)?;
    done(matter, &mut blocks);
    next(matter, &mut blocks);
    Ok(blocks)
}

fn happened(matter: &Matter<'_>, blocks: &mut Vec<Block>) -> Result<(), Error> {
    let (job, book) = (matter.verdict.job, matter.verdict.diagnosis.book);
    blocks.push(Block::heading("What happened"));
    let came = book.complaint(&job.complaint).map_or(job.complaint.as_str(), |complaint| complaint.plain.as_str());
    let runs = match job.runs_since_gears {
        0.0 => String::new(),
        runs => format!(" The gears had done {runs:.0} runs."),
    };
    blocks.push(Block::text(format!("{came}{runs}")));
    let causes = told_causes(matter);
    if !causes.is_empty() {
        blocks.push(Block::bullets(causes));
    }
    seen(matter, blocks);
    let figure = matter.bay(&matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 150.0 }));
    Ok(())
}

/// What was found; what was looked for and not found is told where nothing else is, else counted.
fn seen(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let findings = &matter.verdict.job.findings;
    let any = findings.iter().any(|finding| finding.yes);
    let told = findings.iter().filter(|finding| finding.yes || !any);
    let items: Vec<Item> = told.filter_map(|finding| finding_item(matter, finding)).take(MOST_FINDINGS).collect();
    if items.is_empty() {
        return;
    }
    let others = findings.len() - items.len();
    blocks.push(Block::sub_heading("What was seen and measured"));
    blocks.push(Block::bullets(items));
    match others {
        0 => {}
        1 => blocks.push(Block::text("One more answer is in the shop's record.")),
        others => blocks.push(Block::text(format!("{others} more answers are in the shop's record."))),
    }
}

/// The causes that most likely took the teeth, in plain words; probabilities, never accusations.
pub(crate) fn told_causes(matter: &Matter<'_>) -> Vec<Item> {
    let (diagnosis, strip) = (&matter.verdict.diagnosis, matter.verdict.job.strip_happened());
    let weight = |cause: &CauseVerdict| if strip { cause.mattered } else { cause.next_set };
    let ranked = diagnosis.ranked().into_iter().filter(|cause| weight(cause) >= TOLD_FROM);
    let item = |cause: &CauseVerdict| {
        let entry = diagnosis.book.cause(&cause.id)?;
        let (present, weight) = (chance(cause.present), chance(weight(cause)));
        let chances = match strip {
            true => format!(" ({present} likely to be there; without it the teeth would have held, with {weight})"),
            false => format!(" ({present} likely to be there; it takes the next set with {weight})"),
        };
        Some(Item::from(Words::strong(sentence(&entry.name)).and(format!(": {}", entry.plain)).and_quiet(chances)))
    };
    ranked.filter_map(item).take(MOST_CAUSES).collect()
}

/// "Can the motor be rocked in its mount? Yes, measured 0.45 mm."
pub(crate) fn finding_item(matter: &Matter<'_>, finding: &toothsayer_job::Finding) -> Option<Item> {
    let book = matter.verdict.diagnosis.book;
    let entry = book.finding(&finding.check)?;
    let answer = if finding.yes { "Yes" } else { "No" };
    let value = measured(finding, book, matter.system).map_or_else(String::new, |value| format!(", {value}"));
    Some(Item::from(Words::from(format!("{} ", entry.question)).and_strong(format!("{answer}{value}."))))
}

fn done(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let Some(repair) = matter.recommended() else { return };
    let measured_after = matter.of(State::After).is_some();
    blocks.push(Block::heading("What was done"));
    let basis = match measured_after {
        true => "The recommended work, with what was measured when it was done.",
        false => "The recommended work, as it was planned. Where it differed, it is noted by hand.",
    };
    blocks.push(Block::text(format!("{basis} Time: {}. Price: {}.", minutes(repair.minutes), repair.price)));
    let is_work = |id: &str| !id.starts_with("off ") && !id.starts_with("on ");
    let items = repair.steps.iter().filter(|step| is_work(&step.id)).map(|step| {
        let told = Words::strong(step.name.as_str());
        Item::from(if step.what.is_empty() { told } else { told.and(format!(": {}", step.what)) })
    });
    blocks.push(Block::bullets(items));
    if !repair.parts.is_empty() {
        let parts: Vec<String> = repair.parts.iter().map(|part| part.name.clone()).collect();
        blocks.push(Block::text(Words::strong("New parts: ").and(format!("{}.", crate::words::list(&parts)))));
    }
    verdict(matter, blocks);
}

/// Whether the next set will hold.
fn verdict(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let Some(state) = matter.leaving() else { return };
    let tone = match state.holds {
        Holds::Yes => Tone::Good,
        Holds::Unsure => Tone::Doubt,
        Holds::No => Tone::Bad,
    };
    let mut lines = vec![Words::from(stands(state))];
    lines.extend(matter.comeback().map(Words::from));
    let open = matter.recommended().map_or(&[][..], |repair| &repair.leaves_open);
    if !open.is_empty() {
        lines.push(Words::from(format!("Left as it is: {}.", crate::words::list(open))));
    }
    blocks.push(Block::Notice(Notice { tone, title: "Will it hold?".into(), lines }));
}

fn next(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    blocks.push(Block::heading("What to do next"));
    blocks.push(Block::text("Runs are counted from the day of the hand-over."));
    let (rows, mut cautions) = care_rows(matter);
    blocks.push(Block::Table(Table { heads: vec![Head::left("when", 0.24), Head::left("what", 0.76)], rows }));
    brake(matter, &mut cautions);
    cautions.push(
        "Figures are estimates for a hobby-size machine, not a design approval: the makers' instructions, the venue's and \
         the local rules win."
            .into(),
    );
    let lines = cautions.into_iter().map(Words::from).collect();
    blocks.push(Block::Notice(Notice { tone: Tone::Doubt, title: "Cautions".into(), lines }));
    super::notes(matter, blocks);
}

/// The care plan as rows of a table, a row for each time, and its cautions, each once.
pub(crate) fn care_rows(matter: &Matter<'_>) -> (Vec<Vec<Words>>, Vec<String>) {
    let mut cautions: Vec<String> = Vec::new();
    let mut due: Vec<(String, Words)> = Vec::new();
    for item in matter.care {
        let words = care_words(item, matter.system);
        let what = format!("{}.", sentence(&words.what));
        match due.last_mut().filter(|(when, _)| *when == words.when) {
            Some((_, told)) => *told = std::mem::take(told).and(format!("\n{what}")),
            None => due.push((words.when.clone(), Words::from(what))),
        }
        for caution in words.cautions.iter().filter_map(|id| matter.caution(id)) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
    }
    let rows = due.into_iter().map(|(when, what)| vec![Words::strong(sentence(&when)), what]).collect();
    (rows, cautions)
}

/// By how much a weaker brake lengthens the way to a stop.
fn brake(matter: &Matter<'_>, cautions: &mut Vec<String>) {
    let stops = matter.recommended().and_then(|repair| repair.stops.as_ref());
    cautions
        .extend(stops.map(|stops| format!("About the repair: {}", crate::words::brake_words(stops, matter.system))));
}
