//! `plan`: repairs in alternatives, the work in bench order, torques, parts, price, chance of a comeback.

use super::alternatives;
use super::care;
use super::margins::reasons;
use crate::args::FileArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use crate::words::{chance, derivations, holds_words, list, minutes, value, window as torque_window};
use std::collections::BTreeSet;
use toothsayer_job::{Job, State};
use toothsayer_quantity::{Kind, Torque};
use toothsayer_report::machine;
use toothsayer_report::words::{figure_words, name_words};
use toothsayer_verdict::{Alternative, Holds, Memo, NEW_GEARS_ONLY, OF_REPAIRS, StateMargins, Verdict, WorkFigure};

/// The alternatives of a job file.
pub fn run(desk: &Desk<'_>, args: &FileArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let care = verdict.care(desk.global.seed, &memo)?;
    if desk.global.json {
        let repaired = repaired(&verdict, &memo)?;
        return json::text(&machine::plan(&verdict, &care, repaired.map(|state| state.holds)));
    }
    let mut paper = Paper::new();
    write(desk, &job, &verdict, &memo, &mut paper)?;
    Ok(paper.finish())
}

/// The margins of the truck as the recommended repair leaves it, at point values.
fn repaired(verdict: &Verdict<'_>, memo: &Memo) -> Result<Option<StateMargins>, Failure> {
    Ok(verdict.margins(None, memo)?.into_iter().find(|state| state.state == State::Proposed))
}

/// For people: one sentence first.
pub fn write(desk: &Desk<'_>, job: &Job, verdict: &Verdict<'_>, memo: &Memo, paper: &mut Paper) -> Result<(), Failure> {
    let alternatives = &verdict.plan.alternatives;
    paper.paragraph(&first_sentence(job, verdict));
    let without: BTreeSet<&str> = verdict.plan.recommended().into_iter().flat_map(unpriced).collect();
    if !without.is_empty() {
        let names: Vec<String> = without.into_iter().map(str::to_owned).collect();
        paper.paragraph(&format!("The price leaves out what has none in [shop]: {}.", list(&names)));
    }
    if let Some(state) = repaired(verdict, memo)? {
        paper.paragraph(&holds_sentence(&state, paper));
    }
    alternatives::write(desk, verdict, paper);
    let unpriced: BTreeSet<&str> = alternatives.iter().flat_map(unpriced).collect();
    if !unpriced.is_empty() {
        let names: Vec<String> = unpriced.into_iter().map(str::to_owned).collect();
        paper.item("note:", &format!("no price in [shop] for {}: not in the sums.", list(&names)));
    }
    if !job.shop.assumed.is_empty() {
        let names: Vec<String> = job.shop.assumed.iter().map(|name| format!("`{name}`")).collect();
        paper.item(
            "note:",
            &format!("[shop] leaves {} open: usual values stand in (estimate, no source).", list(&names)),
        );
    }
    if let Some(recommended) = verdict.plan.recommended() {
        work(desk, verdict, recommended, memo, paper)?;
    }
    paper.heading("Care plan");
    care::write(desk, &verdict.care(desk.global.seed, memo)?, paper);
    if desk.global.explain {
        derivations(OF_REPAIRS, paper);
        sums(job, alternatives, paper);
    }
    Ok(())
}

/// Parts of a repair that the shop gives no price for.
fn unpriced(one: &Alternative) -> impl Iterator<Item = &str> {
    one.parts.iter().filter(|part| part.price.is_none()).map(|part| part.name.as_str())
}

/// The sum behind each price.
fn sums(job: &Job, alternatives: &[Alternative], paper: &mut Paper) {
    let shop = &job.shop;
    paper.heading("The sums");
    for one in alternatives {
        let parts: Vec<String> =
            one.parts.iter().filter_map(|part| part.price.map(|price| format!(" + {} ({price})", part.name))).collect();
        let sum = format!(
            "{} = {} an hour x {}{}; comeback {} x {} within {:.0} runs",
            one.price,
            shop.labour_rate,
            minutes(one.minutes),
            parts.concat(),
            chance(one.comeback),
            shop.comeback_cost,
            shop.horizon_runs
        );
        paper.item("·", &format!("{}: {sum}.", name_words(one.name, job)));
    }
}

fn first_sentence(job: &Job, verdict: &Verdict<'_>) -> String {
    let plan = &verdict.plan;
    let (Some(gears), Some(best)) = (plan.alternative(NEW_GEARS_ONLY), plan.recommended()) else {
        return String::new();
    };
    let runs = job.shop.horizon_runs;
    if gears.cures == best.cures {
        let work = if job.strip_happened() { "new gears and a clean gear bay" } else { "the check" };
        let (told, look) = match verdict.enough_is_known() {
            true => (format!("Nothing more than {work} is needed"), ""),
            false => (
                format!("On what is known so far, {work} and nothing more comes cheapest in the end"),
                " Look further first: `toothsayer why` tells what tells most.",
            ),
        };
        return format!(
            "{told}: {}, {}, chance of a comeback within {runs:.0} runs {}.{look}",
            best.price,
            minutes(best.minutes),
            chance(best.comeback)
        );
    }
    format!(
        "Recommended: {} for {} ({}), and the chance of a comeback within {runs:.0} runs falls from {} with new gears only to {}.",
        "cure what would take the next set",
        best.price,
        minutes(best.minutes),
        chance(gears.comeback),
        chance(best.comeback)
    )
}

/// Whether the truck then holds; a repair that lowers the risk and still leaves a part too weak says so.
fn holds_sentence(state: &StateMargins, paper: &Paper) -> String {
    let (words, tint) = holds_words(state.holds);
    let told = format!("Then the truck {words}");
    match state.holds {
        Holds::No => format!(
            "{}: {}. What else would mend it: `toothsayer change` tells the remedies.",
            paper.tint(tint, &told),
            reasons(state)
        ),
        Holds::Yes | Holds::Unsure => format!("{}.", paper.tint(tint, &told)),
    }
}

fn work(
    desk: &Desk<'_>,
    verdict: &Verdict<'_>,
    one: &Alternative,
    memo: &Memo,
    paper: &mut Paper,
) -> Result<(), Failure> {
    paper.heading("Work, in bench order (recommended)");
    let loaded = verdict.loaded(State::Proposed, memo)?;
    let torque = |torque: Torque| value(Kind::Torque, torque.to_n_m(), desk.system);
    let mut told = BTreeSet::new();
    for (place, step) in one.steps.iter().enumerate() {
        let what = if step.what.is_empty() { String::new() } else { format!(": {}", step.what) };
        paper.item(&format!("{:>2}.", place + 1), &format!("{}{what} ({})", step.name, minutes(step.minutes)));
        for joint in loaded.build.joints.iter().filter(|joint| step.tightens.as_deref() == Some(joint.carries.as_str()))
        {
            let Some(window) = verdict.windows.get(&joint.name) else { continue };
            let words = if window.is_open() {
                format!("{}: {}, no tighter", joint.name, torque_window(window.low, window.high, desk.system))
            } else {
                format!(
                    "{}: no torque both clamps enough and spares the {}: change the joint first (`toothsayer screws`)",
                    joint.name, window.limited_by
                )
            };
            paper.item("    tighten", &words);
            if let Some(printed) = joint.printed_torque {
                paper.item("    the maker prints", &format!("{}: that value wins", torque(printed)));
            }
        }
        if let Some(figure) = step.figure.and_then(|figure| WorkFigure::of(figure, &loaded.build)) {
            paper.item("    figure", &figure_words(&figure, desk.system));
        }
        for caution in step.cautions.iter().filter(|caution| told.insert((*caution).clone())) {
            paper.item("    caution:", caution);
        }
    }
    if !one.parts.is_empty() {
        paper.heading("Parts");
        for part in &one.parts {
            let price = part.price.map_or("no price given".to_owned(), |price| price.to_string());
            let where_from = match (part.on_shelf, part.lead_days) {
                (Some(count), _) if count > 0 => format!(", {count} on the shelf"),
                (_, Some(days)) => format!(", {days} days to come"),
                _ => String::new(),
            };
            paper.item("·", &format!("{}: {price}{where_from}", part.name));
        }
    }
    Ok(())
}
