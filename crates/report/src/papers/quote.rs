//! The quote: what each repair costs and how likely the truck comes back with it, new gears only among them.

use super::agreed::OwnLine;
use super::matter::Matter;
use crate::Error;
use crate::typeset::{Block, Head, Item, List, Marker, Notice, Picture, Table, Tone, Words};
use crate::words::{brake_words, chance, list, minutes, names, repairs};
use toothsayer_figures::price_and_comeback;
use toothsayer_verdict::Alternative;

pub(crate) fn blocks(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let mut blocks = vec![Block::Title { name: format!("{}: quote", matter.truck()), under: matter.under_title() }];
    blocks.push(Block::Facts(matter.truck_facts()));
    blocks.push(Block::heading("What the repairs cost, and how likely the truck comes back"));
    if let Some(comeback) = matter.comeback() {
        blocks.push(Block::text(format!("With the recommended repair: {}", uncapital(&comeback))));
    }
    let plan = &matter.verdict.plan;
    let repairs = repairs(&plan.alternatives);
    blocks.push(Block::Table(table(matter, &repairs)));
    own_lines(matter, &mut blocks);
    blocks.push(Block::heading("What each repair leaves as it is"));
    blocks.push(Block::bullets(repairs.iter().map(|same| leaves(matter, same))));
    notes(matter, &mut blocks);
    choice(matter, &repairs, &mut blocks);
    // Behind the signature: what is signed for stands on one page.
    blocks.push(Block::heading("Price against the chance of a comeback"));
    let figure = price_and_comeback(matter.verdict, &matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 150.0 }));
    if !matter.cover.lines.is_empty() {
        blocks.push(Block::small("The drawing compares the repairs alone, without the further parts and work."));
    }
    Ok(blocks)
}

/// A sentence that goes on after a colon.
pub(crate) fn uncapital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// The repairs side by side. With lines of the shop's own, price and time are told with all of them.
pub(crate) fn table(matter: &Matter<'_>, repairs: &[Vec<&Alternative>]) -> Table {
    let with_lines = !matter.cover.lines.is_empty();
    let mut heads = vec![
        Head::left("repair", 0.22),
        Head::right("price", 0.14),
        Head::right("time", 0.13),
        Head::right("comeback", 0.12),
        Head::left("cures", if with_lines { 0.24 } else { 0.39 }),
    ];
    if with_lines {
        heads.insert(2, Head::right("with all lines", 0.15));
    }
    let book = matter.verdict.diagnosis.book;
    let row = |same: &Vec<&Alternative>| {
        let one = same[0];
        let cures: Vec<&str> =
            one.cures.iter().filter_map(|id| book.cause(id)).map(|cause| cause.name.as_str()).collect();
        let cures = match cures[..] {
            [] if matter.verdict.job.strip_happened() => "nothing beyond the gears".to_owned(),
            [] => "nothing".to_owned(),
            [one] => one.to_owned(),
            [first, ..] => format!("{first} and {} more, named below", cures.len() - 1),
        };
        let mut cells = vec![
            Words::strong(names(same, matter.verdict.job)),
            Words::from(one.price.to_string()),
            Words::from(minutes(matter.minutes_of(one))),
            Words::toned(chance(one.comeback), tone(one.comeback)),
            Words::from(cures),
        ];
        if with_lines {
            cells.insert(2, Words::strong(matter.price_of(one).to_string()));
        }
        cells
    };
    Table { heads, rows: repairs.iter().map(row).collect() }
}

/// What the shop added, each with its amount.
fn own_lines(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let lines = &matter.cover.lines;
    if lines.is_empty() {
        return;
    }
    blocks.push(Block::sub_heading("Further parts and work, whichever repair is taken"));
    let heads = vec![
        Head::left("line", 0.46),
        Head::right("how many", 0.12),
        Head::right("price of one", 0.15),
        Head::right("amount", 0.14),
        Head::right("time", 0.13),
    ];
    let row = |line: &OwnLine| {
        let time = if line.minutes > 0 { minutes(line.minutes as f64) } else { String::new() };
        let [each, amount] = [line.each, line.price()].map(|money| Words::from(money.to_string()));
        vec![Words::strong(line.text.as_str()), line.quantity.to_string().into(), each, amount, time.into()]
    };
    blocks.push(Block::Table(Table { heads, rows: lines.iter().map(row).collect() }));
}

fn tone(comeback: f64) -> Tone {
    match comeback {
        p if p > 0.5 => Tone::Bad,
        p if p > 0.2 => Tone::Doubt,
        _ => Tone::Good,
    }
}

pub(crate) fn leaves(matter: &Matter<'_>, same: &[&Alternative]) -> Item {
    let one = same[0];
    let open = match one.leaves_open.is_empty() {
        true => "no cause that alone would likely come back".to_owned(),
        false => list(&one.leaves_open),
    };
    let [low, high] = one.comeback_range.map(chance);
    let range = match low == high {
        true => String::new(),
        false => format!(" Were every blow as soft or as hard as model and inputs leave open: {low} to {high}."),
    };
    let words = Words::strong(names(same, matter.verdict.job)).and(format!(": {open}.")).and_quiet(range);
    let caution = |stops| Words::toned("Caution: ", Tone::Doubt).and(brake_words(stops, matter.system));
    Item { words, under: one.stops.as_ref().map(caution).into_iter().collect() }
}

/// What is not in the sums, and what stands in for what the shop did not say.
fn notes(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let shop = &matter.verdict.job.shop;
    let mut unpriced: Vec<String> = Vec::new();
    for part in matter.verdict.plan.alternatives.iter().flat_map(|one| &one.parts) {
        if part.price.is_none() && !unpriced.contains(&part.name) {
            unpriced.push(part.name.clone());
        }
    }
    let mut lines = Vec::new();
    if !unpriced.is_empty() {
        lines.push(Words::from(format!("Not in the sums, for their price is not known: {}.", list(&unpriced))));
    }
    if !shop.assumed.is_empty() {
        let names: Vec<String> = shop.assumed.iter().map(|name| name.replace('_', " ")).collect();
        lines.push(Words::from(format!("Usual values stand in for: {} (estimate, no source).", list(&names))));
    }
    lines.push(Words::from(format!(
        "A comeback: another strip within {:.0} runs. Every cause that may still be there counts, also the many that are \
         unlikely; with all of them cured {} would remain. Smallest sound: the cheapest that cures what would surely take \
         the next set and comes back less likely than not. Recommended: of the sound ones the least expected cost, a \
         comeback's included. Sturdiest: the least chance of a comeback. Chances are computed from what is known of this \
         truck and are estimates.",
        shop.horizon_runs,
        chance(matter.verdict.plan.unavoidable)
    )));
    blocks.push(Block::Notice(Notice { tone: Tone::Neutral, title: String::new(), lines }));
    super::notes(matter, blocks);
}

/// Boxes to tick, and lines to sign.
fn choice(matter: &Matter<'_>, repairs: &[Vec<&Alternative>], blocks: &mut Vec<Block>) {
    blocks.push(Block::heading("Your choice"));
    let item = |same: &Vec<&Alternative>| {
        let one = same[0];
        let (price, time) = (matter.price_of(one), minutes(matter.minutes_of(one)));
        let told = format!(": {price}, {time}, comeback {}", chance(one.comeback));
        Item::from(Words::strong(names(same, matter.verdict.job)).and(told))
    };
    blocks.push(Block::List(List { marker: Marker::Tick, items: repairs.iter().map(item).collect() }));
    blocks.push(Block::text(
        "Please do the repair that is ticked. If the open truck shows more, ask before the price rises.",
    ));
    blocks.push(Block::Sign(["day", "name", "signature"].map(str::to_owned).to_vec()));
}
