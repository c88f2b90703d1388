//! The warranty pack: the truck as found, in figures and pictures, and at which step each part falls short, without blame.

use super::hand_over::finding_item;
use super::matter::Matter;
use super::tables::margins_table;
use crate::Error;
use crate::typeset::{Block, Item, Notice, Picture, Tone, Words};
use crate::words::{holds_words, in_case, list, moved, number, sentence, shortfall_words, state_words};
use toothsayer_job::State;
use toothsayer_verdict::Share;

/// Margins that the fitted parts took most of, as they are told.
const TOLD_SHARES: usize = 4;
/// Smaller shares of a margin are left out.
const TOLD_FROM: f64 = 0.005;

pub(crate) fn blocks(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let name = format!("{}: warranty pack", matter.truck());
    let mut blocks = vec![Block::Title { name, under: matter.under_title() }];
    blocks.push(Block::text(
        "What was found, and at which step each part falls short. Steps are named, not persons. A margin is what a part \
         bears over what is asked of it: below 1 it falls short.",
    ));
    blocks.push(Block::Facts(matter.truck_facts()));
    found(matter, &mut blocks)?;
    short(matter, &mut blocks);
    fitted(matter, &mut blocks);
    stock(matter, &mut blocks);
    photos(matter, &mut blocks);
    super::notes(matter, &mut blocks);
    let lines = vec![Words::from(
        "The steps as sold, fitted and found are judged with a driver who is usual for this class of truck; what falls \
         short with the driver of the job alone is told as driving. Figures are estimates for hobby-size machines from the \
         values that were given and measured, not a design approval and not a finding of law; makers' instructions and \
         local rules decide.",
    )];
    blocks.push(Block::Notice(Notice { tone: Tone::Neutral, title: String::new(), lines }));
    blocks.push(Block::Sign(["day", "measured by", "signature"].map(str::to_owned).to_vec()));
    Ok(blocks)
}

fn found(matter: &Matter<'_>, blocks: &mut Vec<Block>) -> Result<(), Error> {
    let job = matter.verdict.job;
    blocks.push(Block::heading("As found"));
    let complaint = matter.verdict.diagnosis.book.complaint(&job.complaint);
    let came = complaint.map_or(job.complaint.as_str(), |complaint| complaint.plain.as_str());
    let runs = match job.runs_since_gears {
        0.0 => "The gears had not run, or their runs are not known.".to_owned(),
        runs => format!("The gears had done {runs:.0} runs."),
    };
    blocks.push(Block::text(format!("{came} {runs}")));
    let items: Vec<Item> = job.findings.iter().filter_map(|finding| finding_item(matter, finding)).collect();
    match items.is_empty() {
        true => blocks.push(Block::text("Nothing is recorded yet: the truck is judged as built.")),
        false => blocks.push(Block::bullets(items)),
    }
    let figure = matter.bay(&matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 130.0 }));
    Ok(())
}

fn short(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    blocks.push(Block::heading("Where it falls short"));
    let told = matter.margins.iter().filter(|one| !matches!(one.state, State::Proposed | State::After));
    let states: Vec<String> =
        told.map(|one| format!("{} it {}", state_words(one.state), holds_words(one.holds))).collect();
    blocks.push(Block::text(format!("{}.", sentence(&states.join("; ")))));
    if !matter.verdict.job.has_stock {
        blocks.push(Block::text("What was sold is not known: the truck as built counts as sold."));
    }
    let items: Vec<Item> =
        matter.statement.shortfalls.iter().map(|one| Words::from(shortfall_words(one)).into()).collect();
    match items.is_empty() {
        true => blocks.push(Block::text("At the usual values no part falls short.")),
        false => blocks.push(Block::bullets(items)),
    }
}

fn fitted(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let (job, statement) = (matter.verdict.job, matter.statement);
    if statement.fitted.is_empty() {
        return;
    }
    blocks.push(Block::heading("What was fitted or set since it was sold"));
    let changes = statement.fitted.iter().map(|one| {
        let told = moved(&job.stock, &job.built, one, matter.system).join("; ");
        Item::from(Words::strong(sentence(&one.key)).and(format!(": {told}.")))
    });
    blocks.push(Block::bullets(changes));
    let fell = statement.shares.iter().filter(|share| share.after < share.before).take(TOLD_SHARES);
    let shares: Vec<Item> = fell.map(|share| Words::from(share_words(matter, share)).into()).collect();
    if !shares.is_empty() {
        blocks.push(Block::text("What each of these took of the margins that moved most:"));
        blocks.push(Block::bullets(shares));
    }
}

fn share_words(matter: &Matter<'_>, share: &Share) -> String {
    let parts = matter.statement.fitted.iter().zip(&share.by).filter(|(_, by)| **by < -TOLD_FROM);
    let by: Vec<String> = parts.map(|(part, by)| format!("{} {:.2}", part.key, by.abs())).collect();
    format!(
        "{}, {}{}: margin {} as sold, {} as built; of that took {}.",
        sentence(&share.part),
        share.limit.row().plain,
        in_case(share.case),
        number(share.before),
        number(share.after),
        list(&by)
    )
}

fn stock(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let state = matter.of(State::Stock).or_else(|| matter.of(State::Built));
    let Some(state) = state else { return };
    blocks.push(Block::heading(format!("Margins {}", state_words(state.state))));
    blocks.push(Block::Table(margins_table(state, matter.system)));
}

fn photos(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    if matter.cover.photos.is_empty() {
        return;
    }
    blocks.push(Block::heading("Photos"));
    blocks.extend(matter.cover.photos.iter().cloned().map(Block::Photo));
}
