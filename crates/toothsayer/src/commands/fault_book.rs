//! `fault-book`: what is known of causes, checks and work; one entry in plain words.

use crate::args::FaultBookArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{chance, list, minutes, sentence};
use serde_json::{Value, json};
use toothsayer_fault_book::{Cause, Change, FaultBook, Finding, Step, Wanted};
use toothsayer_quantity::nearest;

/// Lists the book, or explains one entry.
pub fn run(desk: &Desk<'_>, args: &FaultBookArgs) -> Result<String, Failure> {
    if desk.global.json {
        return json::text(&as_json(&desk.book));
    }
    let mut paper = Paper::new();
    match &args.entry {
        None => write_list(&desk.book, &mut paper),
        Some(id) => explain(&desk.book, id, &mut paper)?,
    }
    Ok(paper.finish())
}

fn as_json(book: &FaultBook) -> Value {
    let changes = |changes: &[Change]| changes.iter().map(change_json).collect::<Vec<Value>>();
    let causes: Vec<Value> = book
        .causes()
        .iter()
        .map(|cause| {
            json!({
                "id": cause.id, "name": cause.name, "plain": cause.plain, "prior": cause.prior.mean(),
                "prior_yes": cause.prior.yes, "prior_no": cause.prior.no,
                "outlives_gear_change": cause.outlives_gear_change, "computed": cause.is_computed(),
                "changes": changes(&cause.present), "modes": cause.modes, "findings": cause.findings,
                "cured_by": cause.cured_by,
            })
        })
        .collect();
    let modes: Vec<Value> = book
        .modes()
        .iter()
        .map(|mode| json!({ "id": mode.id, "name": mode.name, "plain": mode.plain, "leak": mode.leak }))
        .collect();
    let findings: Vec<Value> = book
        .findings()
        .iter()
        .map(|finding| {
            json!({
                "id": finding.id, "question": finding.question, "how": finding.how, "minutes": finding.minutes,
                "order": finding.order, "needs": finding.needs, "tools": finding.tools, "cautions": finding.cautions,
                "leak": finding.leak, "modes": finding.modes, "frees": finding.frees, "means": changes(&finding.means),
                "measures": finding.value.as_ref().map(|value| json!({ "input": value.input, "adds": value.adds })),
            })
        })
        .collect();
    let steps: Vec<Value> = book
        .steps()
        .iter()
        .map(|step| {
            json!({
                "id": step.id, "name": step.name, "what": step.what, "minutes": step.minutes, "order": step.order,
                "needs": step.needs, "parts": step.parts, "tools": step.tools, "cautions": step.cautions,
                "tightens": step.tightens, "wanted": step.wanted.map(Wanted::word),
            })
        })
        .collect();
    let removals: Vec<Value> = book
        .removals()
        .iter()
        .map(|part| {
            json!({
                "id": part.id, "name": part.name, "off_minutes": part.off_minutes, "on_minutes": part.on_minutes,
                "needs": part.needs, "tools": part.tools, "cautions": part.cautions, "cautions_back": part.cautions_back,
                "tightens": part.tightens,
            })
        })
        .collect();
    let cautions: Vec<Value> =
        book.cautions().iter().map(|caution| json!({ "id": caution.id, "text": caution.text })).collect();
    json!({
        "name": book.name(), "source": book.source(), "causes": causes, "modes": modes, "findings": findings,
        "removals": removals, "steps": steps, "cautions": cautions,
    })
}

fn change_json(change: &Change) -> Value {
    match change {
        Change::Set { input, to_si } => json!({ "set": input, "to_si": to_si }),
        Change::Add { input, amount_si, low, high } => {
            json!({ "add": input, "amount_si": amount_si, "low_si": low, "high_si": high })
        }
        Change::Scale { input, by } => json!({ "scale": input, "by": by }),
        Change::Usual { input } => json!({ "usual": input }),
        Change::Frees { carries } => json!({ "frees": carries }),
    }
}

fn write_list(book: &FaultBook, paper: &mut Paper) {
    paper.paragraph(&format!(
        "The book of {}: {} causes, {} checks, {} steps. `toothsayer fault-book ID` explains an entry.",
        book.name(),
        book.causes().len(),
        book.findings().len(),
        book.steps().len()
    ));
    paper.heading("Checks, in bench order");
    let mut table = Table::new(&["check", "question", "time>", "measures"]);
    for finding in book.findings() {
        let measures = finding.value.as_ref().map_or("", |value| value.kind.name());
        table.row(vec![
            Cell::plain(finding.id.clone()),
            Cell::plain(finding.question.clone()),
            Cell::plain(minutes(finding.minutes)),
            Cell::plain(measures),
        ]);
    }
    paper.table(&table);
    paper.heading("Causes");
    let mut table = Table::new(&["cause", "name", "beforehand>"]);
    for cause in book.causes() {
        table.row(vec![
            Cell::plain(cause.id.clone()),
            Cell::plain(cause.name.clone()),
            Cell::plain(chance(cause.prior.mean())),
        ]);
    }
    paper.table(&table);
    paper.heading("How teeth fail");
    for mode in book.modes() {
        paper.item("·", &format!("{}: {}", mode.name, mode.plain));
    }
    paper.blank();
    paper.paragraph("In a job file:  [[findings]]  check = \"motor-rocks\"  answer = \"yes\"  value = \"0.45 mm\"");
    paper.paragraph(&format!("Numbers of the book: {}.", book.source()));
}

fn explain(book: &FaultBook, id: &str, paper: &mut Paper) -> Result<(), Failure> {
    let named = || book.causes().iter().find(|cause| cause.name == id);
    if let Some(cause) = book.cause(id).or_else(named) {
        explain_cause(book, cause, paper);
    } else if let Some(finding) = book.finding(id) {
        explain_finding(book, finding, paper);
    } else if let Some(step) = book.step(id) {
        explain_step(book, step, paper);
    } else if let Some(mode) = book.mode(id) {
        paper.paragraph(&format!("{}: {}.", sentence(&mode.name), mode.plain));
    } else {
        let known: Vec<&str> = book
            .causes()
            .iter()
            .map(|cause| cause.id.as_str())
            .chain(book.finding_ids())
            .chain(book.steps().iter().map(|step| step.id.as_str()))
            .collect();
        let hint = nearest(id, known)
            .map_or("`toothsayer fault-book` lists the entries".into(), |near| format!("did you mean \"{near}\"?"));
        return Err(Failure::usage(format!("the book has no entry \"{id}\""), hint));
    }
    Ok(())
}

fn explain_cause(book: &FaultBook, cause: &Cause, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &sentence(&cause.name));
    paper.paragraph(&format!("{head} (cause \"{}\"): {}", cause.id, cause.plain));
    let computed = if cause.is_computed() {
        "What it does to the teeth is computed from the truck."
    } else {
        "What it does to the teeth is the book's estimate."
    };
    paper.paragraph(computed);
    paper.paragraph(&format!("Before anything is seen, {} of trucks have it.", chance(cause.prior.mean())));
    let seen: Vec<String> = cause.findings.iter().map(|(id, p)| format!("{id} ({})", chance(*p))).collect();
    paper.paragraph(&format!("Seen by: {}.", list(&seen)));
    if cause.outlives_gear_change {
        paper.paragraph("It outlives a change of gears: new gears alone do not cure it.");
    }
    for step in cause.cured_by.iter().filter_map(|id| book.step(id)) {
        paper.item("Cure:", &format!("{}: {}", step.name, step.what));
    }
}

fn explain_finding(book: &FaultBook, finding: &Finding, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &finding.question);
    paper.paragraph(&format!("{head} (check \"{}\")", finding.id));
    paper.paragraph(&finding.how);
    let off: Vec<String> =
        book.removals_for(finding.needs.iter().map(String::as_str)).iter().map(|part| part.name.clone()).collect();
    if !off.is_empty() {
        paper.paragraph(&format!("Off first: {}.", list(&off)));
    }
    if let Some(value) = &finding.value {
        let verb = if value.adds { "adds to" } else { "sets" };
        paper.paragraph(&format!("A measured value (value = \"...\") {verb} `{}`.", value.input));
    }
    if let Some(frees) = &finding.frees {
        let what = if frees == "pinion" {
            "the pinion holds no longer on its shaft".to_owned()
        } else {
            format!("the joint that carries the {frees} clamps nothing")
        };
        paper.paragraph(&format!("A yes means: {what}."));
    }
    let from: Vec<String> = book
        .causes()
        .iter()
        .filter(|cause| cause.findings.contains_key(&finding.id))
        .map(|cause| cause.name.clone())
        .collect();
    if !from.is_empty() {
        paper.paragraph(&format!("Points to: {}.", list(&from)));
    }
    for caution in finding.cautions.iter().filter_map(|id| book.caution(id)) {
        paper.item("caution:", caution);
    }
}

fn explain_step(book: &FaultBook, step: &Step, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &step.name);
    paper.paragraph(&format!("{head} (step \"{}\", {}): {}", step.id, minutes(step.minutes), step.what));
    if !step.parts.is_empty() {
        paper.paragraph(&format!("Parts: {}.", list(&step.parts)));
    }
    paper.paragraph(&format!("Tools: {}.", list(&step.tools)));
    if let Some(wanted) = step.wanted {
        paper.paragraph(match wanted {
            Wanted::Always => "Every plan has this step.",
            Wanted::AfterStrip => "Every plan for a truck whose teeth went has this step.",
            Wanted::NewTruck => "The plan for a truck that has not run yet has this step.",
        });
    }
    for caution in step.cautions.iter().filter_map(|id| book.caution(id)) {
        paper.item("caution:", caution);
    }
}
