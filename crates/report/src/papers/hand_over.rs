//! The hand-over: two pages for the customer. What happened, what was done, what to do next.

use super::agreed::OwnLine;
use super::matter::Matter;
use super::standing::Standing;
use crate::Error;
use crate::care_words;
use crate::plain;
use crate::typeset::{Block, Head, Item, Notice, Picture, Table, Tone, Words};
use crate::words::{chance, list, measured, minutes, sentence};
use toothsayer_job::State;
use toothsayer_verdict::{Alternative, CauseVerdict, Holds, PlanStep};

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
    seen(matter, blocks);
    let figure = matter.plain_bay(&matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 150.0 }));
    Ok(())
}

/// What the truck came with, and the causes in plain words.
pub(crate) fn told(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let (job, book) = (matter.verdict.job, matter.verdict.diagnosis.book);
    let came = book.complaint(&job.complaint).map_or(job.complaint.as_str(), |complaint| complaint.plain.as_str());
    let runs = match job.runs_since_gears {
        0.0 => String::new(),
        runs => format!(" The gears had done {runs:.0} runs."),
    };
    blocks.push(Block::text(format!("{came}{runs}")));
    let causes = plain_causes(matter);
    if !causes.is_empty() {
        blocks.push(Block::bullets(causes));
    }
}

/// What was found; what was looked for and not found is told where nothing else is, else counted.
pub(crate) fn seen(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
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

/// The causes that most likely took the teeth, with their chances; probabilities, never accusations.
pub(crate) fn told_causes(matter: &Matter<'_>) -> Vec<Item> {
    causes(matter, |cause, weight, strip| {
        let (present, weight) = (chance(cause.present), chance(weight));
        match strip {
            true => format!("{present} likely to be there; without it the teeth would have held, with {weight}"),
            false => format!("{present} likely to be there; it takes the next set with {weight}"),
        }
    })
}

/// The same as the customer reads them, without figures.
fn plain_causes(matter: &Matter<'_>) -> Vec<Item> {
    causes(matter, |cause, weight, strip| {
        let weight = if strip { plain::took(weight) } else { plain::takes(weight) };
        format!("{}; {weight}", plain::there(cause.present))
    })
}

/// The likeliest causes, each with what is told of its chance to be there and of its weight.
fn causes(matter: &Matter<'_>, told: impl Fn(&CauseVerdict, f64, bool) -> String) -> Vec<Item> {
    let (diagnosis, strip) = (&matter.verdict.diagnosis, matter.verdict.job.strip_happened());
    let weight = |cause: &CauseVerdict| if strip { cause.mattered } else { cause.next_set };
    let ranked = diagnosis.ranked().into_iter().filter(|cause| weight(cause) >= TOLD_FROM);
    let item = |cause: &CauseVerdict| {
        let entry = diagnosis.book.cause(&cause.id)?;
        let chances = format!(" ({})", told(cause, weight(cause), strip));
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
    let told = what_of_the_work(matter);
    blocks.push(Block::heading(told.title));
    blocks.push(Block::text(basis(matter, told.lead)));
    blocks.extend(not_agreed(matter));
    work(matter, blocks);
    verdict(matter, blocks);
}

/// How the work is headed, and what is told of it first.
pub(crate) struct OfTheWork {
    pub title: &'static str,
    pub lead: &'static str,
}

/// Work is called agreed on where somebody said yes to it and to what it costs now.
pub(crate) fn what_of_the_work(matter: &Matter<'_>) -> OfTheWork {
    let is_agreed = matter.cover.taken.is_some() && matter.rose().is_none();
    let (title, lead) = match (matter.cover.standing, is_agreed) {
        (Standing::Done, true) => ("What was done", "The work that was agreed on"),
        (Standing::Done, false) if matter.cover.taken.is_some() => ("What was done", "The work"),
        (Standing::Done, false) => ("What was done", "The recommended work"),
        (Standing::Proposed, _) if matter.gone().is_some() => ("What was agreed on", "The work that was agreed on"),
        (Standing::Proposed, true) => ("What will be done", "The work that was agreed on"),
        (Standing::Proposed, false) if matter.cover.taken.is_some() => {
            ("What is proposed", "The work that was agreed on, and what was added to it since")
        }
        (Standing::Proposed, false) => ("What is proposed", "The work that we recommend"),
        (Standing::Declined, _) => ("What was proposed", "It was not wanted: the truck is as it came"),
        (Standing::LookedAt, _) => ("What was proposed", "Nothing was agreed on: the truck is as it came"),
    };
    OfTheWork { title, lead }
}

/// "The recommended work, as it was planned. ... Time: 1 h 20 min. Price: 98.40 EUR."
fn basis(matter: &Matter<'_>, lead: &str) -> String {
    let basis = match (matter.cover.standing, matter.of(State::After).is_some()) {
        (standing, _) if standing.is_as_it_came() => return format!("{lead}."),
        (Standing::Done, true) => ", with what was measured when it was done.",
        (Standing::Done, false) => ", as it was planned. Where it differed, it is noted by hand.",
        _ => ".",
    };
    let time =
        matter.repair().map_or_else(String::new, |repair| format!(" Time: {}.", minutes(matter.minutes_of(repair))));
    let price = match matter.price() {
        // What was not agreed on as it stands is told by itself.
        _ if not_agreed(matter).is_some() => String::new(),
        _ if matter.cover.is_free => " Price: nothing, the shop or the maker pays.".to_owned(),
        Some(price) => format!(" Price: {price}."),
        None => String::new(),
    };
    format!("{lead}{basis}{time}{price}")
}

/// What stands between the work and its being agreed on: a price that rose, a plan that has it no more.
pub(crate) fn not_agreed(matter: &Matter<'_>) -> Option<Block> {
    let mut lines = Vec::new();
    if let Some([agreed, price]) = matter.rose() {
        lines.push(match matter.cover.standing {
            Standing::Proposed => {
                format!("It was agreed on up to {agreed}. Now it comes to {price}: we ask you again before we go on.")
            }
            _ => format!("It was agreed on up to {agreed}, and comes to {price}: what is above was not agreed on."),
        });
    }
    if let Some(gone) = matter.gone() {
        let told = format!("Agreed on was: {}, {}", gone.name, gone.price);
        lines.push(match matter.cover.standing {
            Standing::Proposed => format!(
                "{told}. More is known by now, and the plan no longer has that repair as it was agreed on. It is reckoned \
                 anew, and you are asked again."
            ),
            _ => format!("{told}. Its steps are not told here, for what is known by now gives another plan."),
        });
    }
    let lines: Vec<Words> = lines.into_iter().map(Words::from).collect();
    let notice = |lines| Block::Notice(Notice { tone: Tone::Doubt, title: String::new(), lines });
    (!lines.is_empty() && !matter.cover.standing.is_as_it_came()).then(|| notice(lines))
}

/// What is done in a repair and in the shop's own lines, without what only comes off and goes on again, and the parts.
pub(crate) fn work(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let (repair, lines) = (matter.repair(), &matter.cover.lines);
    let steps = repair.into_iter().flat_map(work_of).map(|step| {
        let told = Words::strong(step.name.as_str());
        Item::from(if step.what.is_empty() { told } else { told.and(format!(": {}", step.what)) })
    });
    let own = lines.iter().filter(|line| line.is_work).map(|line| Item::from(Words::strong(line.told())));
    let items: Vec<Item> = steps.chain(own).collect();
    if !items.is_empty() {
        blocks.push(Block::bullets(items));
    }
    blocks.extend(new_parts(matter));
}

/// The parts as planned; of work that is done those that were noted as fitted, where the shop keeps a list of them.
fn new_parts(matter: &Matter<'_>) -> Option<Block> {
    let planned = matter.repair().into_iter().flat_map(|repair| &repair.parts).map(|part| part.name.clone());
    let own = matter.cover.lines.iter().filter(|line| !line.is_work).map(OwnLine::told);
    let parts = match (&matter.cover.fitted, matter.cover.standing) {
        (Some(fitted), Standing::Done) => fitted.clone(),
        _ => planned.chain(own).collect(),
    };
    let told = || Block::text(Words::strong("New parts: ").and(format!("{}.", list(&parts))));
    (!parts.is_empty()).then(told)
}

/// The steps of a repair without what only comes off and goes on again.
pub fn work_of(repair: &Alternative) -> impl Iterator<Item = &PlanStep> {
    repair.steps.iter().filter(|step| !step.id.starts_with("off ") && !step.id.starts_with("on "))
}

/// Whether the next set will hold.
pub(crate) fn verdict(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let (Some(state), Some(repair)) = (matter.leaving(), matter.repair()) else { return };
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
        lines.push(Words::from(plain::holds(state.state, state.holds)));
    }
    lines.push(Words::from(comes_back(matter, repair)));
    lines.extend(told_then(matter, repair).map(Words::from));
    let open: Vec<String> = repair.leaves_open.iter().map(plain::left).collect();
    if !open.is_empty() {
        lines.push(Words::from(format!("Left as it is: {}.", list(&open))));
    }
    blocks.push(Block::Notice(Notice { tone, title: "Will it hold?".into(), lines }));
}

/// "About 16 in 100 such trucks come back within 50 runs; with new gears only it would be about 94 in 100."
fn comes_back(matter: &Matter<'_>, repair: &Alternative) -> String {
    let told = sentence(&plain::comes_back(repair.comeback, matter.verdict.job.shop.horizon_runs));
    match matter.gears_beside(repair) {
        Some(gears) => format!("{told}; with new gears only it would be {}.", plain::share(gears.comeback)),
        None => format!("{told}."),
    }
}

/// What was told of the chance when the work was agreed on, where more is known by now.
fn told_then(matter: &Matter<'_>, repair: &Alternative) -> Option<String> {
    let [then, now] = [matter.cover.taken.as_ref()?.comeback()?, repair.comeback].map(plain::share);
    (then != now).then(|| format!("When it was agreed on, less was known, and it was told as {then}."))
}

fn next(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    blocks.push(Block::heading("What to do next"));
    care(matter, blocks);
    super::notes(matter, blocks);
}

/// The care plan with its cautions; of a truck that is as it came, what that means.
pub(crate) fn care(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    if matter.cover.standing.is_as_it_came() {
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
