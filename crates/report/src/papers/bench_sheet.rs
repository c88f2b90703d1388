//! The bench sheet: the work in bench order with boxes to tick, the screw map, how tight and no tighter.

use super::agreed::{OwnLine, minutes_with};
use super::hand_over::finding_item;
use super::matter::Matter;
use super::standing::Standing;
use crate::Error;
use crate::torque::{screws, tighten_to};
use crate::typeset::{Block, Fact, Head, Item, List, Marker, Notice, Picture, Table, Tone, Words};
use crate::words::{figure_words, list, minutes};
use toothsayer_figures::screw_map;
use toothsayer_job::{Joint, State};
use toothsayer_verdict::{Alternative, Loaded, PlanStep, WorkFigure};

pub(crate) fn blocks(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let title = format!("{}: bench sheet", matter.truck());
    let mut blocks = vec![Block::Title { name: title, under: matter.under_title() }];
    let job = matter.verdict.job;
    let mut facts = matter.truck_facts();
    let came = matter.verdict.diagnosis.book.complaint(&job.complaint).map_or("", |complaint| complaint.plain.as_str());
    facts.push(Fact { name: "came in".into(), words: came.into() });
    blocks.push(Block::Facts(facts));
    blocks.extend(before(matter));
    let repair = matter.repair();
    if let Some(repair) = repair {
        let lines = repair.cautions.iter().map(|caution| Words::from(caution.as_str())).collect();
        blocks.push(Block::Notice(Notice { tone: Tone::Doubt, title: "Before and while you work".into(), lines }));
    }
    let found: Vec<Item> = job.findings.iter().filter_map(|finding| finding_item(matter, finding)).collect();
    if !found.is_empty() {
        blocks.push(Block::heading("Seen and measured so far"));
        blocks.push(Block::bullets(found));
    }
    let loaded = matter.verdict.loaded(State::Proposed, matter.memo)?;
    work(matter, repair, &loaded, &mut blocks);
    tightening(matter, &loaded, &mut blocks)?;
    parts(matter, repair, &mut blocks);
    super::notes(matter, &mut blocks);
    blocks.push(Block::Sign(["done by", "day", "checked by"].map(str::to_owned).to_vec()));
    Ok(blocks)
}

/// What has to be known of the agreement before work begins.
fn before(matter: &Matter<'_>) -> Option<Block> {
    let taken = matter.cover.taken.as_ref();
    let told = match (taken, matter.gone(), matter.rose()) {
        (_, Some(gone), _) => format!(
            "The customer agreed to: {}, {}. The plan no longer has that repair as it was agreed on: offer anew before work \
             begins. Below stands only what the shop added.",
            gone.name, gone.price
        ),
        (_, _, Some([agreed, price])) => {
            format!("It was agreed on up to {agreed}, and now comes to {price}: ask the customer before work goes on.")
        }
        (None, ..) if matter.cover.standing == Standing::Proposed => {
            "No repair is agreed on yet. Below stands the recommended one.".to_owned()
        }
        (Some(taken), ..) => {
            let name = &taken.name;
            let lines = vec![Words::from(format!("Agreed on: {name}."))];
            return Some(Block::Notice(Notice { tone: Tone::Neutral, title: String::new(), lines }));
        }
        (None, ..) => return None,
    };
    Some(Block::Notice(Notice { tone: Tone::Bad, title: String::new(), lines: vec![told.into()] }))
}

fn work(matter: &Matter<'_>, repair: Option<&Alternative>, loaded: &Loaded, blocks: &mut Vec<Block>) {
    let mut items: Vec<Item> =
        repair.into_iter().flat_map(|repair| &repair.steps).map(|step| item(matter, step, loaded)).collect();
    items.extend(matter.cover.lines.iter().filter(|line| line.is_work).map(own_item));
    if items.is_empty() {
        return;
    }
    let time = minutes_with(repair.map_or(0.0, |repair| repair.minutes), &matter.cover.lines);
    blocks.push(Block::heading(format!("Work, in bench order: {}", minutes(time))));
    blocks.push(Block::List(List { marker: Marker::Tick, items }));
}

/// The steps of a repair with boxes to tick.
pub(crate) fn steps(matter: &Matter<'_>, repair: &Alternative, loaded: &Loaded) -> Block {
    let items = repair.steps.iter().map(|step| item(matter, step, loaded)).collect();
    Block::List(List { marker: Marker::Tick, items })
}

/// Work in the shop's own words.
fn own_item(line: &OwnLine) -> Item {
    let time = if line.minutes > 0 { format!(" {}", minutes(line.minutes as f64)) } else { String::new() };
    Item::from(Words::strong(line.told()).and_quiet(time))
}

fn item(matter: &Matter<'_>, step: &PlanStep, loaded: &Loaded) -> Item {
    let what = if step.what.is_empty() { String::new() } else { format!(": {}", step.what) };
    let words = Words::strong(step.name.as_str()).and(what).and_quiet(format!(" {}", minutes(step.minutes)));
    let mut under = Vec::new();
    if !step.tools.is_empty() {
        under.push(Words::quiet(format!("Tools: {}.", list(&step.tools))));
    }
    let carried = |joint: &&Joint| step.tightens.as_deref() == Some(joint.carries.as_str());
    for joint in loaded.build.joints.iter().filter(carried) {
        under.push(Words::strong(format!("{}: ", joint.name)).and(tighten_to(
            &matter.verdict.windows,
            joint,
            matter.system,
        )));
    }
    if let Some(figure) = step.figure.and_then(|figure| WorkFigure::of(figure, &loaded.build)) {
        under.push(Words::strong("Figure: ").and(format!("{}.", figure_words(&figure, matter.system))));
    }
    Item { words, under }
}

fn tightening(matter: &Matter<'_>, loaded: &Loaded, blocks: &mut Vec<Block>) -> Result<(), Error> {
    if loaded.build.joints.is_empty() {
        return Ok(());
    }
    blocks.push(Block::heading("Which screw goes where, how tight and no tighter"));
    if !matter.takes_recommended() {
        blocks.push(Block::small("The torque windows are those for the blows of the recommended repair."));
    }
    blocks.push(Block::Table(tightening_table(matter, loaded)));
    let truck = matter.truck();
    let figure = screw_map(&truck, State::Proposed, loaded, &matter.verdict.windows, &matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 200.0 }));
    Ok(())
}

/// Each joint with its screws and its window.
pub(crate) fn tightening_table(matter: &Matter<'_>, loaded: &Loaded) -> Table {
    let heads = vec![
        Head::left("joint", 0.27),
        Head::left("screws", 0.23),
        Head::left("into", 0.16),
        Head::left("tighten to", 0.34),
    ];
    let row = |joint: &Joint| {
        vec![
            Words::strong(joint.name.as_str()),
            Words::from(screws(joint, matter.system)),
            Words::from(joint.thread_in.as_str()),
            Words::from(tighten_to(&matter.verdict.windows, joint, matter.system)),
        ]
    };
    Table { heads, rows: loaded.build.joints.iter().map(row).collect() }
}

fn parts(matter: &Matter<'_>, repair: Option<&Alternative>, blocks: &mut Vec<Block>) {
    let of_plan = repair.into_iter().flat_map(|repair| &repair.parts).map(|part| {
        let price = part.price.map_or("no price given".to_owned(), |price| price.to_string());
        let from = match (part.on_shelf, part.lead_days) {
            (Some(count), _) if count > 0 => format!("{count} on the shelf"),
            (_, Some(days)) => format!("{days} days to come"),
            _ => "not known".into(),
        };
        vec![Words::strong(part.name.as_str()), price.into(), from.into()]
    });
    let own = matter.cover.lines.iter().filter(|line| !line.is_work);
    let own = own.map(|line| vec![Words::strong(line.told()), line.price().to_string().into(), "not known".into()]);
    let rows: Vec<Vec<Words>> = of_plan.chain(own).collect();
    if rows.is_empty() {
        return;
    }
    blocks.push(Block::heading("Parts"));
    let heads = vec![Head::left("part", 0.4), Head::right("price", 0.2), Head::left("where from", 0.4)];
    blocks.push(Block::Table(Table { heads, rows }));
}
