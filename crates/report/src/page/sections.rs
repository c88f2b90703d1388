//! What stands on the verdict page, in the order in which people ask.

use crate::Error;
use crate::papers::{Matter, bench_sheet, hand_over, quote, tables};
use crate::typeset::{Block, Fact, Head, Item, Notice, Table, Tone, Words};
use crate::words::{holds_words, repairs, sentence, shortfall_words, state_words};
use toothsayer_figures::{self as figures, Frame};
use toothsayer_job::State;

/// A part of the page.
pub(crate) struct Section {
    pub id: &'static str,
    pub title: &'static str,
    pub blocks: Vec<Block>,
}

/// Every section.
pub(crate) fn sections(matter: &Matter<'_>) -> Result<Vec<Section>, Error> {
    let of = |id, title, blocks| Section { id, title, blocks };
    let frames = matter.page_frames()?;
    let mut sections = vec![
        of("bay", "The gear bay", bay(matter, &frames)?),
        of("why", "Why the teeth went", why(matter, &frames)?),
        of("holds", "What holds and what fails", holds(matter, &frames)?),
        of("repairs", "What to do, and what it costs", repairs_of(matter, &frames)?),
        of("work", "The work, and how tight", work(matter)?),
        of("care", "What to do next", care(matter)),
    ];
    if !matter.verdict.job.strip_happened() {
        sections[1].title = "What could take the teeth";
    }
    let notes: Vec<Block> = matter.notes().into_iter().map(Block::text).collect();
    if !notes.is_empty() {
        sections.push(of("notes", "Notes", notes));
    }
    let assumptions = matter.verdict.job.assumptions();
    if !assumptions.is_empty() {
        let told =
            "Nobody stated or measured these values; usual ones stand in, and a measurement narrows the verdict.";
        let table = tables::assumptions_table(&assumptions, matter.system);
        sections.push(of("assumed", "What was assumed", vec![Block::text(told), Block::Table(table)]));
    }
    Ok(sections)
}

/// A drawing for a desk and for a phone.
pub(super) fn both(
    [wide, narrow]: &[Frame; 2],
    draw: impl Fn(&Frame) -> Result<figures::Figure, Error>,
) -> Result<[Block; 2], Error> {
    Ok([Block::Wide(draw(wide)?), Block::Narrow(draw(narrow)?)])
}

fn bay(matter: &Matter<'_>, frames: &[Frame; 2]) -> Result<Vec<Block>, Error> {
    let mut blocks: Vec<Block> = both(frames, |frame| matter.bay(frame))?.into();
    let facts: Vec<Fact> = matter.truck_facts().into_iter().skip(1).collect();
    blocks.push(Block::Facts(facts));
    Ok(blocks)
}

fn why(matter: &Matter<'_>, frames: &[Frame; 2]) -> Result<Vec<Block>, Error> {
    let (job, diagnosis) = (matter.verdict.job, &matter.verdict.diagnosis);
    let came = diagnosis.book.complaint(&job.complaint).map_or(job.complaint.as_str(), |entry| entry.plain.as_str());
    let mut blocks = vec![Block::text(came)];
    let causes = hand_over::told_causes(matter);
    if !causes.is_empty() {
        blocks.push(Block::bullets(causes));
    }
    let found: Vec<Item> = job.findings.iter().filter_map(|one| hand_over::finding_item(matter, one)).collect();
    if !found.is_empty() {
        blocks.push(Block::sub_heading("What was seen and measured"));
        blocks.push(Block::bullets(found));
    }
    blocks.extend(both(frames, |frame| Ok(figures::causes(diagnosis, frame)?))?);
    Ok(blocks)
}

fn holds(matter: &Matter<'_>, frames: &[Frame; 2]) -> Result<Vec<Block>, Error> {
    let states: Vec<String> =
        matter.margins.iter().map(|one| format!("{} it {}", state_words(one.state), holds_words(one.holds))).collect();
    let mut blocks = vec![Block::text(format!("{}.", sentence(&states.join("; "))))];
    let short: Vec<Item> =
        matter.statement.shortfalls.iter().map(|one| Words::from(shortfall_words(one)).into()).collect();
    if !short.is_empty() {
        blocks.push(Block::bullets(short));
    }
    let shown: Vec<_> = [matter.came(), matter.leaving()].into_iter().flatten().collect();
    let truck = matter.truck();
    blocks.extend(both(frames, |frame| Ok(figures::margins(&truck, &shown, frame)?))?);
    blocks.push(Block::small(
        "A margin is what a part bears over what is asked of it: below 1 it fails. Wear of the flanks and a wheel stopped \
         from outside are shown and do not decide.",
    ));
    Ok(blocks)
}

fn repairs_of(matter: &Matter<'_>, frames: &[Frame; 2]) -> Result<Vec<Block>, Error> {
    let repairs = repairs(&matter.verdict.plan.alternatives);
    let mut blocks: Vec<Block> = matter
        .comeback()
        .map(|told| Block::text(format!("With the recommended repair: {}", quote::uncapital(&told))))
        .into_iter()
        .collect();
    blocks.push(Block::Table(quote::table(matter, &repairs)));
    blocks.extend(both(frames, |frame| Ok(figures::price_and_comeback(matter.verdict, frame)?))?);
    blocks.push(Block::bullets(repairs.iter().map(|same| quote::leaves(matter, same))));
    Ok(blocks)
}

fn work(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let mut blocks = Vec::new();
    let Some(repair) = matter.recommended() else { return Ok(blocks) };
    let lines = repair.cautions.iter().map(|caution| Words::from(caution.as_str())).collect();
    blocks.push(Block::Notice(Notice { tone: Tone::Doubt, title: "Before and while you work".into(), lines }));
    let loaded = matter.verdict.loaded(State::Proposed, matter.memo)?;
    blocks.push(bench_sheet::steps(matter, repair, &loaded));
    if !loaded.build.joints.is_empty() {
        blocks.push(Block::Table(bench_sheet::tightening_table(matter, &loaded)));
    }
    Ok(blocks)
}

fn care(matter: &Matter<'_>) -> Vec<Block> {
    let (rows, cautions) = hand_over::care_rows(matter);
    let heads = vec![Head::left("when", 0.24), Head::left("what", 0.76)];
    let lines = cautions.into_iter().map(Words::from).collect();
    vec![
        Block::text("Runs are counted from the day of the hand-over."),
        Block::Table(Table { heads, rows }),
        Block::Notice(Notice { tone: Tone::Doubt, title: "Cautions".into(), lines }),
    ]
}
