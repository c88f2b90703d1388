//! The hand-over: two pages for the customer. What happened, what was done, what to do next.

use super::matter::{Matter, stands};
use super::standing::Standing;
use crate::Error;
use crate::care_words;
use crate::typeset::{Block, Head, Item, Notice, Picture, Table, Tone, Words};
use crate::words::{chance, measured, minutes, sentence};
use toothsayer_job::State;
use toothsayer_verdict::{Alternative, CauseVerdict, Holds};

/// Causes that are told are at least this likely.
const TOLD_FROM: f64 = 0.2;
/// Causes and findings that are told at most.
const MOST_CAUSES: usize = 3;
const MOST_FINDINGS: usize = 8;
/// What the figures are, and what goes before them.
pub(crate) const ESTIMATES: &str = "Figures are estimates for a hobby-size machine, not a design approval: the makers' \
    instructions, the venue's and the local rules win.";
/// What goes with a truck that the shop gave back as it came.
const UNCURED: &str =
    "Nothing was cured: what took the teeth can take the next set. Battery out before fingers go near gears.";

pub(crate) fn blocks(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let mut blocks = vec![Block::Title { name: format!("{}: hand-over", matter.truck()), under: matter.under_title() }];
    happened(matter, &mut blocks)?;
    done(matter, &mut blocks);
    next(matter, &mut blocks);
    Ok(blocks)
}

fn happened(matter: &Matter<'_>, blocks: &mut Vec<Block>) -> Result<(), Error> {
    blocks.push(Block::heading("What happened"));
    told(matter, blocks);
    let figure = matter.bay(&matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 150.0 }));
    Ok(())
}

/// What the truck came with, the causes, what was seen.
pub(crate) fn told(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let (job, book) = (matter.verdict.job, matter.verdict.diagnosis.book);
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
    let Some(repair) = matter.repair() else { return };
    blocks.push(Block::heading(what_of_the_work(matter).title));
    blocks.push(Block::text(basis(matter)));
    work(repair, blocks);
    verdict(matter, blocks);
}

/// How the work is headed, and what is told of it first.
pub(crate) struct OfTheWork {
    pub title: &'static str,
    pub lead: &'static str,
}

pub(crate) fn what_of_the_work(matter: &Matter<'_>) -> OfTheWork {
    let (title, lead) = match (matter.cover.standing, matter.cover.taken.is_some()) {
        (Standing::Done, true) => ("What was done", "The work that was agreed on"),
        (Standing::Done, false) => ("What was done", "The recommended work"),
        (Standing::Proposed, true) => ("What will be done", "The work that was agreed on"),
        (Standing::Proposed, false) => ("What is proposed", "The work that we recommend"),
        (Standing::Declined, _) => ("What was proposed", "It was not wanted: the truck is as it came"),
    };
    OfTheWork { title, lead }
}

/// "The recommended work, as it was planned. ... Time: 1 h 20 min. Price: 98.40 EUR."
fn basis(matter: &Matter<'_>) -> String {
    let lead = what_of_the_work(matter).lead;
    let basis = match (matter.cover.standing, matter.of(State::After).is_some()) {
        (Standing::Declined, _) => return format!("{lead}."),
        (Standing::Proposed, _) => ".",
        (Standing::Done, true) => ", with what was measured when it was done.",
        (Standing::Done, false) => ", as it was planned. Where it differed, it is noted by hand.",
    };
    let time = matter.repair().map_or_else(String::new, |repair| format!(" Time: {}.", minutes(repair.minutes)));
    let price = matter.price().map_or_else(String::new, |price| format!(" Price: {price}."));
    format!("{lead}{basis}{time}{price}")
}

/// What is done in a repair, without what only comes off and goes on again, and its parts.
pub(crate) fn work(repair: &Alternative, blocks: &mut Vec<Block>) {
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
}

/// Whether the next set will hold.
pub(crate) fn verdict(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let Some(state) = matter.leaving() else { return };
    // The margins as proposed are those of the recommended repair, and tell nothing of another one.
    let is_told = state.state == State::After || matter.takes_recommended();
    let tone = match state.holds {
        _ if !is_told => Tone::Neutral,
        Holds::Yes => Tone::Good,
        Holds::Unsure => Tone::Doubt,
        Holds::No => Tone::Bad,
    };
    let mut lines = Vec::new();
    if is_told {
        lines.push(Words::from(stands(state)));
    }
    lines.extend(matter.repair().map(|repair| Words::from(matter.comeback_of(repair))));
    let open = matter.repair().map_or(&[][..], |repair| &repair.leaves_open);
    if !open.is_empty() {
        lines.push(Words::from(format!("Left as it is: {}.", crate::words::list(open))));
    }
    blocks.push(Block::Notice(Notice { tone, title: "Will it hold?".into(), lines }));
}

fn next(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    blocks.push(Block::heading("What to do next"));
    care(matter, blocks);
    super::notes(matter, blocks);
}

/// The care plan with its cautions; of a truck that is as it came, what that means.
pub(crate) fn care(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    if matter.cover.standing == Standing::Declined {
        let lines = [UNCURED, ESTIMATES].map(Words::from).into();
        blocks.push(Block::Notice(Notice { tone: Tone::Doubt, title: "Cautions".into(), lines }));
        return;
    }
    blocks.push(Block::text("Runs are counted from the day of the hand-over."));
    let (rows, mut cautions) = care_rows(matter);
    blocks.push(Block::Table(Table { heads: vec![Head::left("when", 0.24), Head::left("what", 0.76)], rows }));
    brake(matter, &mut cautions);
    cautions.push(ESTIMATES.into());
    let lines = cautions.into_iter().map(Words::from).collect();
    blocks.push(Block::Notice(Notice { tone: Tone::Doubt, title: "Cautions".into(), lines }));
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
    let stops = matter.repair().and_then(|repair| repair.stops.as_ref());
    cautions
        .extend(stops.map(|stops| format!("About the repair: {}", crate::words::brake_words(stops, matter.system))));
}
