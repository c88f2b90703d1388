//! `why`: the causes with their evidence, and the most useful next check.

use super::begin::write_new;
use super::explanation;
use crate::args::WhyArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{chance, derivations, minutes, value};
use std::path::Path;
use toothsayer_fault_book::Cause;
use toothsayer_inputs::Input;
use toothsayer_job::{Assumption, Job, State};
use toothsayer_quantity::Kind;
use toothsayer_report::{machine, network_file};
use toothsayer_verdict::{Bay, CauseVerdict, Explanation, Memo, OF_CAUSES, Verdict, influence, shown_by_mesh};

/// Checks that are told to people.
const SHOWN_CHECKS: usize = 6;
/// The same where enough is known.
const SHOWN_WHEN_ENOUGH: usize = 3;
/// From here on a cause is told as likely there, and as worth a look in a truck that did not strip.
const LIKELY: f64 = 0.5;
const SUSPECTED: f64 = 0.2;
/// Causes that are told to people; what is surely there is told whatever its rank.
const SHOWN_CAUSES: usize = 9;
/// Assumed values that are told to people.
const SHOWN_ASSUMPTIONS: usize = 8;

/// The causes of a job file, or one of them opened.
pub fn run(desk: &Desk<'_>, args: &WhyArgs) -> Result<String, Failure> {
    let (file, asked) = asked(desk, args)?;
    let job = desk.job(file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    if let Some(path) = &args.network {
        let truck = job.built.fields.word("truck.name").unwrap_or("the truck");
        write_new(path, &network_file(truck, &verdict.diagnosis.network, &verdict.diagnosis.evidence))?;
    }
    let opened = asked.map(|cause| verdict.diagnosis.explain(&cause.id)).transpose()?;
    if desk.global.json {
        return as_json(&verdict, opened.as_ref());
    }
    let mut paper = Paper::new();
    match &opened {
        Some(opened) => explanation::write(desk, &job, opened, &mut paper)?,
        None => write(desk, &job, &verdict, &mut paper),
    }
    if let Some(path) = &args.network {
        paper.item("saved:", &path.display().to_string());
    }
    Ok(paper.finish())
}

/// The file and the cause, in either order: `--explain` reads as if the cause belonged to it.
fn asked<'a>(desk: &'a Desk<'_>, args: &'a WhyArgs) -> Result<(&'a Path, Option<&'a Cause>), Failure> {
    let Some(cause) = args.cause.as_deref() else { return Ok((&args.file, None)) };
    let find = |id: &str| explanation::known_cause(&desk.book, id).ok();
    let swapped = args.file.to_str().and_then(find).filter(|_| find(cause).is_none());
    match swapped {
        Some(swapped) => Ok((Path::new(cause), Some(swapped))),
        None => Ok((&args.file, Some(explanation::known_cause(&desk.book, cause)?))),
    }
}

fn as_json(verdict: &Verdict<'_>, opened: Option<&Explanation>) -> Result<String, Failure> {
    let mut told = machine::causes(verdict);
    if let Some(opened) = opened {
        told["explanation"] = explanation::as_json(opened);
    }
    json::text(&told)
}

/// For people: one sentence first.
pub fn write(desk: &Desk<'_>, job: &Job, verdict: &Verdict<'_>, paper: &mut Paper) {
    let ranked = verdict.diagnosis.ranked();
    paper.paragraph(&first_sentence(desk, job, &ranked));
    paper.heading("Causes");
    let stripped = job.strip_happened();
    let heads: &[&'static str] = if stripped {
        &["cause", "present>", "mattered>", "takes the next set>", "known from"]
    } else {
        &["cause", "present>", "takes the next set>", "known from"]
    };
    let mut table = Table::new(heads);
    let shown = |(place, cause): &(usize, &&CauseVerdict)| {
        cause.present > 0.5 || (*place < SHOWN_CAUSES && cause.present > 0.01)
    };
    for (_, cause) in ranked.iter().enumerate().filter(shown) {
        let name = desk.book.cause(&cause.id).map_or(cause.id.clone(), |entry| entry.name.clone());
        let bad = cause.mattered.max(cause.next_set) > 0.5;
        let mut cells = vec![
            if bad { Cell::tinted(Tint::Bad, name) } else { Cell::plain(name) },
            Cell::plain(chance(cause.present)),
        ];
        if stripped {
            cells.push(Cell::plain(chance(cause.mattered)));
        }
        cells.push(Cell::plain(chance(cause.next_set)));
        cells.push(Cell::plain(source(cause)));
        table.row(cells);
    }
    paper.table(&table);
    paper.blank();
    let mattered = if stripped { "mattered: was there and without it the teeth would have held; " } else { "" };
    paper.paragraph(&format!(
        "present: is there; {mattered}takes the next set: is there, and alone strips new gears within the horizon if it \
         stays. Causes are probabilities, not accusations."
    ));
    if let Some(first) = ranked.first() {
        let id = &first.id;
        paper.paragraph(&format!("`toothsayer why FILE {id}` opens the first; `toothsayer fault-book` lists all."));
    }
    unanswered(desk, job, verdict, paper);
    checks(desk, verdict, paper);
    assumptions(desk, job, paper);
    if desk.global.explain {
        derivations(OF_CAUSES, paper);
        evidence(desk, job, &ranked, paper);
    }
}

/// What the measured state shows of the mesh and no answered check has told the causes.
fn unanswered(desk: &Desk<'_>, job: &Job, verdict: &Verdict<'_>, paper: &mut Paper) {
    let Ok(stage) = verdict.stage(State::Found) else { return };
    let Ok(build) = stage.sheet.build() else { return };
    let Ok(bay) = Bay::new(&build, stage.run_in) else { return };
    let answered = |check: &str| job.findings.iter().any(|finding| finding.check == check);
    for shown in shown_by_mesh(&build, &bay) {
        if desk.book.finding(shown.check).is_some() && !answered(shown.check) {
            let told = format!(
                "as found {}; causes count answered checks alone: look, and answer \"{}\".",
                shown.words, shown.check
            );
            paper.item("note:", &told);
        }
    }
}

/// What each cause that is told was weighed by.
fn evidence(desk: &Desk<'_>, job: &Job, ranked: &[&CauseVerdict], paper: &mut Paper) {
    paper.heading("What each cause is weighed by");
    for cause in ranked.iter().filter_map(|cause| desk.book.cause(&cause.id)).take(SHOWN_CAUSES) {
        let prior = format!("{} of {}", cause.prior.yes, cause.prior.yes + cause.prior.no);
        let decided = ranked.iter().any(|verdict| verdict.id == cause.id && verdict.decided);
        let mut inputs = vec![if decided {
            "the build itself".to_owned()
        } else {
            format!("beforehand {prior} trucks ({})", desk.book.source())
        }];
        inputs.extend(job.findings.iter().filter_map(|finding| {
            let link = cause.findings.get(&finding.check)?;
            let answer = if finding.yes { "yes" } else { "no" };
            Some(format!("{}: {answer}, which it brings about in {} of cases", finding.check, chance(*link)))
        }));
        paper.item("·", &format!("{}: {}.", cause.name, inputs.join("; ")));
    }
}

fn first_sentence(desk: &Desk<'_>, job: &Job, ranked: &[&CauseVerdict]) -> String {
    let told = |cause: &CauseVerdict| {
        desk.book.cause(&cause.id).map_or(cause.id.clone(), |entry| entry.plain.trim_end_matches('.').to_owned())
    };
    match ranked.first() {
        Some(cause) if job.strip_happened() && cause.mattered > 0.3 => {
            format!(
                "Most likely why the teeth went: {} ({} present, {} it mattered)",
                told(cause),
                chance(cause.present),
                chance(cause.mattered)
            )
        }
        Some(cause) if job.strip_happened() && cause.present > LIKELY => {
            format!(
                "{}: {} there, though the teeth may have gone by something else ({} it mattered).",
                told(cause),
                chance(cause.present),
                chance(cause.mattered)
            )
        }
        Some(cause) if job.strip_happened() => {
            format!(
                "Nothing stands out yet; first suspect: {} ({} that it is there).",
                told(cause),
                chance(cause.present)
            )
        }
        Some(cause) if cause.next_set > 0.3 => {
            format!("What would take the gears: {} ({} that it is there).", told(cause), chance(cause.present))
        }
        _ => match ranked.iter().filter(|cause| !cause.decided).max_by(|a, b| a.present.total_cmp(&b.present)) {
            Some(cause) if cause.present > SUSPECTED => {
                format!("Look into this: {} ({} that it is there).", told(cause), chance(cause.present))
            }
            _ => "Nothing points to trouble; each cause is unlikely on what is known.".to_owned(),
        },
    }
}

fn source(cause: &CauseVerdict) -> &'static str {
    match (cause.decided, cause.computed) {
        (true, _) => "the build itself",
        (false, true) => "findings, and computed",
        (false, false) => "findings, and the book",
    }
}

fn checks(desk: &Desk<'_>, verdict: &Verdict<'_>, paper: &mut Paper) {
    let mut open = verdict.next_checks();
    let enough = verdict.enough_is_known();
    open.truncate(if enough { SHOWN_WHEN_ENOUGH } else { SHOWN_CHECKS });
    if open.is_empty() {
        return;
    }
    paper.heading("Look next");
    if enough {
        paper.paragraph(
            "Enough is known: no check is worth its minute, for none is expected to change the repair by more than \
             looking costs. What would still tell most, where it lies open anyway:",
        );
    } else if verdict.plan.no_check_pays() {
        paper.paragraph(
            "No cause stands out yet. No single answer would change the cheapest repair by more than looking costs, but \
             several together may: what tells most a minute comes first.",
        );
    }
    for (place, (check, worth)) in open.into_iter().enumerate() {
        let Some(entry) = desk.book.finding(&check.id) else { continue };
        paper.item(&format!("{}.", place + 1), &format!("{} {}", entry.question, entry.how));
        let worth = if worth.minor > 0 { format!(", worth {worth}") } else { String::new() };
        paper.item(
            "  ",
            &format!("check = \"{}\" · {} · tells {:.2} bits{worth}", check.id, minutes(check.minutes), check.bits),
        );
        for caution in entry.cautions.iter().filter_map(|id| desk.book.caution(id)) {
            paper.item("   caution:", caution);
        }
    }
    paper.blank();
    paper.paragraph("Minutes count what has to come off first and lies closed yet.");
}

fn assumptions(desk: &Desk<'_>, job: &Job, paper: &mut Paper) {
    let assumed = job.assumptions();
    if assumed.is_empty() {
        return;
    }
    paper.heading("Assumed");
    let moves =
        |assumption: &Assumption| assumption.entry.as_ref().map_or(0.0, |entry| influence(assumption.input, entry));
    let mut strongest: Vec<&Assumption> = assumed
        .iter()
        .filter(|assumption| assumption.entry.as_ref().is_some_and(toothsayer_job::Entry::has_spread))
        .collect();
    strongest.sort_by(|a, b| moves(b).total_cmp(&moves(a)));
    let told = match strongest.len() {
        0 => "usual ones stand in, and none has a range that would move the verdict (--json lists them).",
        _ => "usual ones stand in. Those with a range, the ones that move the blows most first:",
    };
    paper.paragraph(&format!("{} values were not given: {told}", assumed.len()));
    for assumption in strongest.into_iter().take(SHOWN_ASSUMPTIONS) {
        let input = toothsayer_inputs::find(assumption.input);
        let kind = input.map_or(Kind::Number, Input::kind);
        let Some(entry) = &assumption.entry else { continue };
        let shown = |si: f64| value(kind, si, desk.system);
        let how = input.map_or("", |input| input.measure);
        let measure = if how.is_empty() { String::new() } else { format!(" To measure: {how}.") };
        let text = format!(
            "{} = {} [{} to {}], {}.{measure}",
            assumption.key,
            shown(entry.value),
            shown(entry.low),
            shown(entry.high),
            assumption.origin
        );
        paper.item("·", &text);
    }
}
