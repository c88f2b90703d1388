//! The engineer's appendix: every figure with its inputs, formula and source, and what was assumed.

use super::hand_over::finding_item;
use super::matter::Matter;
use super::tables::{assumptions_table, margins_table};
use crate::Error;
use crate::typeset::{Block, Head, Item, Picture, Table, Words};
use crate::words::{chance, holds_words, list, minutes, name_words, sentence, state_words, value};
use toothsayer_figures::tooth_force;
use toothsayer_quantity::Kind;
use toothsayer_verdict::{Derivation, LIMITS, LimitRow, OF_CARE, OF_CAUSES, OF_REPAIRS};

/// Causes less likely than this, before and after, are left out.
const TOLD_FROM: f64 = 0.005;

pub(crate) fn blocks(matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
    let name = format!("{}: engineer's appendix", matter.truck());
    let mut blocks = vec![Block::Title { name, under: matter.under_title() }];
    blocks.push(Block::text(
        "Every figure of the job with its inputs, formula and source. A margin is what a part bears over what is asked of \
         it; its range holds nine draws in ten of the inputs within what is stated of them. Estimates for hobby-size \
         machines, not a design approval.",
    ));
    blocks.push(Block::Facts(matter.truck_facts()));
    findings(matter, &mut blocks);
    states(matter, &mut blocks)?;
    limits(matter, &mut blocks);
    causes(matter, &mut blocks);
    repairs(matter, &mut blocks);
    derivations("How the care plan comes about", OF_CARE, &mut blocks);
    let assumptions = matter.verdict.job.assumptions();
    if !assumptions.is_empty() {
        blocks.push(Block::heading("What was assumed"));
        blocks.push(Block::text("Nobody stated or measured these values; usual ones stand in."));
        blocks.push(Block::Table(assumptions_table(&assumptions, matter.system)));
    }
    super::notes(matter, &mut blocks);
    Ok(blocks)
}

fn findings(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let job = matter.verdict.job;
    let items: Vec<Item> = job.findings.iter().filter_map(|finding| finding_item(matter, finding)).collect();
    if !items.is_empty() {
        blocks.push(Block::heading("What was seen and measured"));
        blocks.push(Block::bullets(items));
    }
    blocks.extend(job.warnings.iter().map(|warning| Block::text(Words::strong("Note: ").and(warning.as_str()))));
}

fn states(matter: &Matter<'_>, blocks: &mut Vec<Block>) -> Result<(), Error> {
    blocks.push(Block::heading("Margins by state"));
    for state in matter.margins {
        blocks.push(Block::sub_heading(sentence(state_words(state.state))));
        let draws = state.drawn.map_or_else(String::new, |drawn| format!(" {} draws.", drawn.used));
        blocks.push(Block::text(format!("{}.{draws}", sentence(holds_words(state.holds)))));
        blocks.push(Block::Table(margins_table(state, matter.system)));
    }
    let Some(came) = matter.came() else { return Ok(()) };
    let loaded = matter.verdict.loaded(came.state, matter.memo)?;
    let figure = tooth_force(&matter.truck(), &loaded, came, &matter.frame()?)?;
    blocks.push(Block::Picture(Picture { figure, highest_mm: 150.0 }));
    Ok(())
}

fn limits(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    blocks.push(Block::heading("How each margin comes about"));
    let told =
        |row: &&LimitRow| matter.margins.iter().any(|state| state.margins.iter().any(|one| one.limit == row.limit));
    for row in LIMITS.iter().filter(told) {
        let name = format!("{}: {}", sentence(row.name), row.plain);
        derivation(&name, row.formula, row.source, blocks);
        let inputs: Vec<String> = row.inputs.iter().filter_map(|key| input(matter, key)).collect();
        if !inputs.is_empty() {
            blocks.push(Block::small(Words::quiet("inputs: ").and(format!("{}.", inputs.join("; ")))));
        }
    }
}

/// "gears.module = 1 mm (given)".
fn input(matter: &Matter<'_>, key: &str) -> Option<String> {
    let entry = matter.verdict.job.built.fields.numbers.get(key)?;
    let kind = toothsayer_inputs::find(key).map_or(Kind::Number, toothsayer_inputs::Input::kind);
    let show = |si: f64| value(kind, si, matter.system);
    let range = match entry.has_spread() {
        true => format!(" [{} to {}]", show(entry.low), show(entry.high)),
        false => String::new(),
    };
    Some(format!("{key} = {}{range} ({})", show(entry.value), entry.origin))
}

fn derivation(name: &str, formula: &str, source: &str, blocks: &mut Vec<Block>) {
    blocks.push(Block::sub_heading(name));
    blocks.push(Block::small(Words::quiet("formula: ").and(formula)));
    blocks.push(Block::small(Words::quiet("source: ").and(source)));
}

fn derivations(title: &str, rows: &[Derivation], blocks: &mut Vec<Block>) {
    blocks.push(Block::heading(title));
    rows.iter().for_each(|row| derivation(&sentence(row.name), row.formula, row.source, blocks));
}

fn causes(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let diagnosis = &matter.verdict.diagnosis;
    blocks.push(Block::heading("Causes"));
    let heads = vec![
        Head::left("cause", 0.4),
        Head::right("present", 0.14),
        Head::right("mattered", 0.14),
        Head::right("takes the next set", 0.16),
        Head::left("known from", 0.16),
    ];
    let told = diagnosis.ranked().into_iter().filter(|cause| cause.present >= TOLD_FROM || cause.decided);
    let rows = told.map(|cause| {
        let name = diagnosis.book.cause(&cause.id).map_or(cause.id.as_str(), |entry| entry.name.as_str());
        let from = match (cause.decided, cause.computed) {
            (true, _) => "the build",
            (_, true) => "findings, computed",
            _ => "findings, the book",
        };
        let [present, mattered, next] = [cause.present, cause.mattered, cause.next_set].map(|p| Words::from(chance(p)));
        vec![Words::strong(name), present, mattered, next, from.into()]
    });
    blocks.push(Block::Table(Table { heads, rows: rows.collect() }));
    derivations("How the chances of causes come about", OF_CAUSES, blocks);
}

fn repairs(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let (job, plan) = (matter.verdict.job, &matter.verdict.plan);
    blocks.push(Block::heading("The sums of the repairs"));
    let sum = |one: &toothsayer_verdict::Alternative| {
        let priced = |part: &toothsayer_verdict::PlanPart| Some(format!("{} ({})", part.name, part.price?));
        let parts: Vec<String> = one.parts.iter().filter_map(priced).collect();
        let parts = if parts.is_empty() { String::new() } else { format!(" + {}", list(&parts)) };
        Item::from(Words::strong(name_words(one.name, job)).and(format!(
            ": {} = {} an hour x {}{parts}; comeback {} x {} within {:.0} runs.",
            one.price,
            job.shop.labour_rate,
            minutes(one.minutes),
            chance(one.comeback),
            job.shop.comeback_cost,
            job.shop.horizon_runs
        )))
    };
    blocks.push(Block::bullets(plan.alternatives.iter().map(sum)));
    derivations("How prices and comebacks come about", OF_REPAIRS, blocks);
}
