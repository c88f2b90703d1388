//! `care`: what is looked at or tightened again, after which run, as text and as a calendar file.

use super::begin::write_new;
use crate::args::CareArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Paper, Tint};
use crate::words::{derivations, sentence};
use serde_json::{Value, json};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_report::machine;
use toothsayer_report::{Calendar, CareDates, Date, Event, RUNS_PER_WEEK, RunsPerWeek, care_calendar, care_words};
use toothsayer_verdict::{CareItem, Memo, OF_CARE, Verdict};

/// The care plan of a job file.
pub fn run(desk: &Desk<'_>, args: &CareArgs) -> Result<String, Failure> {
    let rhythm = rhythm(args)?;
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let items = verdict.care(desk.global.seed, &memo)?;
    let calendar = rhythm.map(|(from, runs)| calendar(desk, &job, &items, from, runs)).transpose()?;
    if let (true, Some(calendar)) = (args.calendar, &calendar) {
        match &args.output {
            Some(path) => write_new(path, &calendar.to_file())?,
            None => return Ok(calendar.to_file()),
        }
    }
    if desk.global.json {
        return json::text(&json!({
            "care": machine::care(&verdict, &items),
            "horizon_runs": job.shop.horizon_runs,
            "days": calendar.as_ref().map(|calendar| calendar.events().iter().map(day_json).collect::<Vec<_>>()),
        }));
    }
    let mut paper = Paper::new();
    paper.paragraph(&first_sentence(&job, &items));
    paper.blank();
    write(desk, &items, &mut paper);
    days(calendar.as_ref(), args, &mut paper);
    if desk.global.explain {
        derivations(OF_CARE, &mut paper);
    }
    Ok(paper.finish())
}

/// From which day on and how often the driver runs; none where neither is told. A calendar needs both.
fn rhythm(args: &CareArgs) -> Result<Option<(Date, RunsPerWeek)>, Failure> {
    let need = "a calendar needs the day of the hand-over and how often the driver runs: --from 2026-12-01 \
                --runs-per-week 2";
    match (&args.from, args.runs_per_week) {
        (None, None) if !args.calendar => Ok(None),
        (Some(from), Some(runs)) => {
            let from = from.parse::<Date>().map_err(|_| {
                Failure::usage(format!("--from: \"{from}\" is no day"), "write year, month and day: 2026-12-01")
            })?;
            let [least, most] = RUNS_PER_WEEK;
            let hint = format!("give from {least} to {most} runs a week; 0.5 is one in two weeks");
            let runs = RunsPerWeek::new(runs).map_err(|error| Failure::usage(error.to_string(), hint))?;
            Ok(Some((from, runs)))
        }
        (None, _) => Err(Failure::usage("--from is missing", need)),
        (_, None) => Err(Failure::usage("--runs-per-week is missing", need)),
    }
}

fn calendar(
    desk: &Desk<'_>,
    job: &Job,
    items: &[CareItem],
    from: Date,
    runs_per_week: RunsPerWeek,
) -> Result<Calendar, Failure> {
    let dates = CareDates {
        items,
        truck: truck(job),
        from,
        runs_per_week,
        last_run: job.shop.horizon_runs as u32,
        system: desk.system,
        caution: &|id| caution(desk, id),
    };
    care_calendar(&dates).map_err(|error| Failure::usage(error.to_string(), "check --from, and the truck's name"))
}

fn truck(job: &Job) -> &str {
    job.built.fields.word("truck.name").unwrap_or("the truck")
}

/// The words of a caution; a shop's book without it does not lose it.
fn caution(desk: &Desk<'_>, id: &str) -> Option<String> {
    desk.book.caution(id).or_else(|| FaultBook::built_in().caution(id)).map(str::to_owned)
}

fn first_sentence(job: &Job, items: &[CareItem]) -> String {
    let truck = truck(job);
    let every: Vec<&CareItem> = items.iter().filter(|item| item.due.is_every_run()).collect();
    let once = items.iter().filter(|item| item.due.first == 1).count() - every.len();
    format!(
        "Care of {truck} after the recommended repair, in runs counted from the day it is handed over: {once} things \
         after the first run, {} after every run, the rest less often.",
        every.len()
    )
}

/// The lines, those of one time together, and the cautions that go with them, each once.
pub fn write(desk: &Desk<'_>, items: &[CareItem], paper: &mut Paper) {
    let mut told: Vec<&str> = Vec::new();
    let mut last = String::new();
    for item in items {
        let words = care_words(item, desk.system);
        if words.when != last {
            let when = paper.tint(Tint::Strong, &format!("{}:", sentence(&words.when)));
            paper.paragraph(&when);
            last.clone_from(&words.when);
        }
        paper.item("·", &format!("{}.", sentence(&words.what)));
        paper.item("  why:", &format!("{}.", words.why));
        let new: Vec<&str> = words.cautions.iter().copied().filter(|id| !told.contains(id)).collect();
        told.extend(new);
    }
    for text in told.iter().filter_map(|id| caution(desk, id)) {
        paper.item("caution:", &text);
    }
    paper.item("note:", "The makers' own instructions and values win, and so do local rules; figures are estimates.");
}

fn days(calendar: Option<&Calendar>, args: &CareArgs, paper: &mut Paper) {
    let Some(calendar) = calendar else {
        paper.item(
            "note:",
            "With --from 2026-12-01 --runs-per-week 2 the runs become days; --calendar -o care.ics writes them.",
        );
        return;
    };
    paper.heading("Days");
    for event in calendar.events() {
        let weeks = if event.weeks > 1 { format!(", for {} weeks", event.weeks) } else { String::new() };
        paper.item(&event.day.to_string(), &format!("{}{weeks}", event.summary));
    }
    if let (true, Some(path)) = (args.calendar, &args.output) {
        paper.item("saved:", &path.display().to_string());
    }
}

fn day_json(event: &Event) -> Value {
    json!({ "day": event.day.to_string(), "summary": event.summary, "weeks": event.weeks, "uid": event.uid })
}
