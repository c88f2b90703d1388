//! `life`: how many runs the teeth last, and which of the driver's events spends them.

use crate::args::StateArgs;
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::plot::{Band, plot};
use crate::words::{chance, mesh_words, sentence, share, state_words, value};
use serde_json::{Value, json};
use toothsayer_quantity::Kind;
use toothsayer_verdict::{Bay, LAST_RUNS, Life, LifeAsk, Memo, MeshState, RunsToStrip, Spent, Survival, Verdict, life};

/// Columns beside a plot: a percentage and the axis.
const PLOT_MARGIN: usize = 8;
/// The curve goes on past the horizon, and where sets strip later, further until most have, but not without an end.
const LEAST_HORIZONS: f64 = 1.2;
const MOST_HORIZONS: f64 = 20.0;
/// Share of the sets that has to strip for the curve to be worth drawing.
const WORTH_DRAWING: f64 = 0.01;
/// Points of the curve in machine-readable results, the first at no run.
const CURVE_POINTS: u32 = 101;
/// Chances of surviving the horizon from which the teeth are said to last, and below which not.
const SURE: f64 = 0.95;
const DOUBTFUL: f64 = 0.5;

/// The life of a job file's teeth.
pub fn run(desk: &Desk<'_>, args: &StateArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.state))?;
    let ask = LifeAsk { horizon_runs: job.shop.horizon_runs, seed: desk.global.seed };
    let life = life(stage, &ask)?;
    if desk.global.json {
        return json::text(&as_json(stage.state.name(), &life));
    }
    let mut paper = Paper::new();
    write(desk, state_words(stage.state), &life, &mut paper);
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let mesh = MeshState::of(&Bay::new(&build, stage.run_in)?);
    if let Some(words) = mesh_words(mesh, desk.system) {
        paper.item("note:", &words);
    }
    Ok(paper.finish())
}

/// Where the curve ends.
fn last_shown(life: &Life) -> f64 {
    let [least, most] = [LEAST_HORIZONS, MOST_HORIZONS].map(|times| times * life.horizon_runs);
    let strips = life.both.after(most) < 1.0 - WORTH_DRAWING;
    let end = life.both.runs_to_strip().high.unwrap_or(f64::INFINITY);
    (if strips { end.clamp(least, most) } else { least }).ceil()
}

fn as_json(state: &str, life: &Life) -> Value {
    let runs = |survival: &Survival| {
        let RunsToStrip { low, median, high } = survival.runs_to_strip();
        let whole = life.horizon_runs;
        json!({ "low": low, "median": median, "high": high, "probability_whole_after_horizon": survival.after(whole) })
    };
    let gear = |gear: &toothsayer_verdict::GearLife| {
        json!({
            "gear": gear.name,
            "runs_to_strip": runs(&gear.survival),
            "runs_by_fatigue": gear.runs_by_fatigue.is_finite().then_some(gear.runs_by_fatigue),
        })
    };
    let case = |part: &Spent| {
        json!({
            "case": part.case.name(),
            "per_run": part.per_run,
            "usual_force_n": part.usual_n,
            "hardest_force_n": part.hardest_n,
            "damage_share_pinion": part.damage_share[0],
            "damage_share_spur": part.damage_share[1],
            "probability_breaks_per_run": part.breaks_per_run,
        })
    };
    let step = last_shown(life) / f64::from(CURVE_POINTS - 1);
    let point = |place: u32| {
        let runs = step * f64::from(place);
        let [pinion, spur] = &life.gears;
        json!({
            "runs": runs,
            "probability_whole": life.both.after(runs),
            "probability_whole_pinion": pinion.survival.after(runs),
            "probability_whole_spur": spur.survival.after(runs),
        })
    };
    json!({
        "state": state,
        "horizon_runs": life.horizon_runs,
        "runs_to_strip": runs(&life.both),
        "gears": life.gears.iter().map(gear).collect::<Vec<_>>(),
        "cases": life.cases.iter().map(case).collect::<Vec<_>>(),
        "survival": (0..CURVE_POINTS).map(point).collect::<Vec<_>>(),
    })
}

/// Runs, none where they are more than are told.
fn runs_words(runs: Option<f64>) -> String {
    match runs {
        None => format!("over {LAST_RUNS:.0} runs"),
        Some(runs) if runs < 1.0 => "the first run".into(),
        Some(runs) if runs < 1.5 => "1 run".into(),
        Some(runs) => format!("{runs:.0} runs"),
    }
}

fn write(desk: &Desk<'_>, words: &str, life: &Life, paper: &mut Paper) {
    let whole = life.both.after(life.horizon_runs);
    let told = match whole {
        whole if whole >= SURE => "the teeth last",
        whole if whole >= DOUBTFUL => "the teeth may last",
        _ => "the teeth do not last",
    };
    paper.paragraph(&format!(
        "{} {told}: chance that both gears are whole after {:.0} runs {}.",
        sentence(words),
        life.horizon_runs,
        chance(whole)
    ));
    paper.paragraph(
        "That is by this driver's blows and by fatigue alone. Fragments, a screw that lets go, wear and whatever else may \
         still be there count in `toothsayer plan`: its chance of a comeback is larger.",
    );
    paper.blank();
    paper.table(&gears_table(life));
    draw(life, paper);
    paper.heading("What spends the life");
    paper.table(&cases_table(desk, life));
    notes(desk, life, paper);
}

fn gears_table(life: &Life) -> Table {
    let mut table = Table::new(&[
        "strips after",
        "1 set in 20>",
        "half of them>",
        "19 in 20>",
        "whole at horizon>",
        "tires after>",
    ]);
    let [pinion, spur] = &life.gears;
    let fatigue = |gear: &toothsayer_verdict::GearLife| Some(gear.runs_by_fatigue).filter(|runs| *runs < LAST_RUNS);
    let rows = [
        ("pinion", &pinion.survival, fatigue(pinion)),
        ("spur", &spur.survival, fatigue(spur)),
        ("the first of both", &life.both, [fatigue(pinion), fatigue(spur)].into_iter().flatten().reduce(f64::min)),
    ];
    for (name, survival, tires) in rows {
        let RunsToStrip { low, median, high } = survival.runs_to_strip();
        let whole = survival.after(life.horizon_runs);
        let tint = match whole {
            whole if whole >= SURE => Tint::Good,
            whole if whole >= DOUBTFUL => Tint::Doubt,
            _ => Tint::Bad,
        };
        let mut cells = vec![Cell::plain(name)];
        cells.extend([low, median, high].map(|runs| Cell::plain(runs_words(runs))));
        cells.extend([Cell::tinted(tint, chance(whole)), Cell::plain(runs_words(tires))]);
        table.row(cells);
    }
    table
}

/// The share of sets that are whole, over the runs.
fn draw(life: &Life, paper: &mut Paper) {
    let columns = paper.columns(PLOT_MARGIN);
    let last = last_shown(life);
    if life.both.after(last) > 1.0 - WORTH_DRAWING {
        let runs = MOST_HORIZONS * life.horizon_runs;
        paper.blank();
        paper.paragraph(&format!("Not one set in a hundred strips within {runs:.0} runs: there is no curve to draw."));
        return;
    }
    let at = |column: usize| last * column as f64 / columns.saturating_sub(1).max(1) as f64;
    let bands: Vec<[f64; 2]> = (0..columns).map(|column| [0.0, life.both.after(at(column))]).collect();
    paper.blank();
    paper.paragraph(&format!(
        "Sets of gears that are still whole, over runs (the horizon is {:.0}).",
        life.horizon_runs
    ));
    let ends = ["0".to_owned(), format!("{last:.0} runs")];
    paper.lines(&plot(&Band { columns: &bands, value: &share, ends }));
}

fn cases_table(desk: &Desk<'_>, life: &Life) -> Table {
    let mut table = Table::new(&[
        "case",
        "a run>",
        "usual blow>",
        "hardest>",
        "pinion's damage>",
        "spur's>",
        "breaks at once, a run>",
    ]);
    let force = |si: f64| value(Kind::Force, si, desk.system);
    for part in &life.cases {
        table.row(vec![
            Cell::plain(part.case.name()),
            Cell::plain(format!("{:.1}", part.per_run)),
            Cell::plain(force(part.usual_n)),
            Cell::plain(force(part.hardest_n)),
            Cell::plain(chance(part.damage_share[0])),
            Cell::plain(chance(part.damage_share[1])),
            Cell::plain(chance(part.breaks_per_run)),
        ]);
    }
    table
}

fn notes(desk: &Desk<'_>, life: &Life, paper: &mut Paper) {
    paper.blank();
    if let Some(first) = life.cases.first() {
        let how = if first.breaks_per_run > 0.0 { "breaks teeth most often" } else { "tires them most" };
        paper.item("note:", &format!("{} {how}.", sentence(first.case.name())));
    }
    paper.item(
        "note:",
        "Drawn are the strength of each gear and, landing by landing, height and lash; the build stands at its usual \
         values, and a mesh that opens or a screw that moves on the way is not counted: `toothsayer walk` does.",
    );
    paper.item(
        "note:",
        "New gears run in during their first run, in which the load lies less evenly. `toothsayer plan` draws the same \
         landings, and beside them how far this model may be off and every cause that may still be there.",
    );
    paper.item(
        "note:",
        "An estimate for hobby-size teeth, not a design approval. Look at the teeth with the battery out; a cracked or \
         missing tooth ends the run. Fragments fly: eye protection.",
    );
    if desk.global.explain {
        paper.heading("How the figures come about");
        paper.item("  cycles:", "rainflow counting of the tooth force on each flank, all on one tooth, unloaded once a turn (ASTM E1049-85)");
        paper.item(
            "  damage:",
            "sum of n/N, N = Nend (σ/σend)^-p, σ over the mean stress factor (ISO 6336-3 annex B, ISO 6336-6)",
        );
        paper.item("  at once:", "a blow above the static strength 5 σFlim of the root (ISO 6336-3)");
        paper.item(
            "  survival:",
            "mean over drawn sets of (1 - share of breaking blows)^(events), none once the damage is 1",
        );
    }
}
