//! `begin`: from five facts to a complete job file, or to the first verdict.

use crate::args::BeginArgs;
use crate::commands::margins::{self, Shown};
use crate::failure::Failure;
use crate::input::Desk;
use crate::paper::Paper;
use std::io::IsTerminal;
use std::path::Path;
use toothsayer_job::{FiveFacts, JobError, begin};
use toothsayer_verdict::{Memo, Verdict};

/// Writes the file, prints it, or gives the first verdict.
pub fn run(desk: &Desk<'_>, args: &BeginArgs) -> Result<String, Failure> {
    let facts = facts(args)?;
    let text = facts.to_toml();
    let parsed = toothsayer_job::Job::parse(&text, &desk.book);
    let job = parsed.map_err(told)?;
    let file = begin(&job);
    if let Some(path) = &args.output {
        write_new(path, &file)?;
    }
    let memo = Memo::default();
    if desk.global.json {
        return margins::json(desk, &Verdict::new(&job, &desk.book, &memo)?, &memo, &Shown::POINTS);
    }
    let Some(path) = &args.output else { return Ok(file) };
    let mut paper = Paper::new();
    let assumed = job.assumptions().len();
    let name = path.display().to_string();
    paper.paragraph(&format!(
        "{name} is written: five facts given, {assumed} values assumed, each with its range and how to measure it."
    ));
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    margins::write(desk, &verdict, &memo, &Shown::POINTS, &mut paper)?;
    paper.heading("Next");
    paper.item("1", &format!("Open {name} and put in what you know; add what was seen under [[findings]] (`toothsayer fault-book` lists the checks)."));
    paper.item("2", &format!("toothsayer margins {name}   the same with ranges"));
    paper.item("3", &format!("toothsayer why {name}       the causes, and what to look at next"));
    paper.item("4", &format!("toothsayer plan {name}      repairs with price and chance of a comeback"));
    Ok(paper.finish())
}

fn facts(args: &BeginArgs) -> Result<FiveFacts, Failure> {
    let pair = |option: &str, text: &str, between: &str, example: &str| {
        let parts = text.split_once(between).map(|(a, b)| [a.trim().to_owned(), b.trim().to_owned()]);
        parts.ok_or_else(|| {
            Failure::usage(format!("--{option} is \"{text}\""), format!("write for example --{option} {example}"))
        })
    };
    let teeth = pair("teeth", &args.teeth, "/", "19/53")?;
    let count = |text: &String| {
        let hint = "whole numbers, pinion first: --teeth 19/53";
        text.parse::<u32>().map_err(|_| Failure::usage(format!("--teeth has \"{text}\" for a number of teeth"), hint))
    };
    if args.pitch.trim().parse::<f64>().is_ok() {
        let hint = format!("write \"{0} mm\" for a module, or \"{0} 1/in\" for a diametral pitch", args.pitch.trim());
        return Err(Failure::usage(format!("--pitch is the bare number {}", args.pitch.trim()), hint));
    }
    let can = args.can.as_deref().map(|text| pair("can", text, "x", "\"56 mm x 80 mm\"")).transpose()?;
    Ok(FiveFacts {
        name: args.name.clone(),
        start: args.start.clone(),
        mass: args.mass.clone(),
        cells: args.cells,
        kv: args.kv.clone(),
        can,
        teeth: [count(&teeth[0])?, count(&teeth[1])?],
        pitch: args.pitch.clone(),
        wheel: pair("wheel", &args.wheel, ",", "\"188 mm, 410 g\"")?,
    })
}

/// The problems in the words of the options.
fn told(error: JobError) -> Failure {
    match error {
        JobError::Problems(problems) => {
            let lines: Vec<String> = problems.iter().map(|problem| problem.message.clone()).collect();
            let hints: Vec<String> = problems.iter().map(|problem| problem.hint.clone()).collect();
            Failure::usage(lines.join("\n       "), hints.join("\n        "))
        }
        other => Failure::could(other.to_string(), ""),
    }
}

/// Never over a file that is there: somebody's measured values may be in it.
pub fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    use std::io::Write;
    let name = path.display();
    let file = std::fs::OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = file.map_err(|error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => {
            Failure::could(format!("{name} is there already and was left as it is"), "give another name")
        }
        _ => Failure::could(format!("{name} cannot be written: {error}"), "check the path"),
    })?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    written.map_err(|error| Failure::could(format!("{name} cannot be written: {error}"), "check the disk"))?;
    if std::io::stdout().is_terminal() {
        eprintln!("saved {name}");
    }
    Ok(())
}
