//! `paper`: what leaves the shop on paper, as PDF, and the verdict as one page.

use super::figure;
use super::margins::{Shown, judge};
use crate::args::{PaperArgs, PaperName, SheetName};
use crate::failure::Failure;
use crate::input::{Desk, text_file};
use crate::json;
use clap::ValueEnum;
use serde_json::json;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use toothsayer_figures::Figure;
use toothsayer_report::{Cover, Date, Matter, PaperSize, Photo, Written, verdict_page, write_paper};
use toothsayer_verdict::{Memo, Narrow, Statement, Verdict};

/// A paper of a job file.
pub fn run(desk: &Desk<'_>, args: &PaperArgs) -> Result<String, Failure> {
    let cover = cover(args)?;
    let more = args.font.as_deref().map(font).transpose()?;
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let shown = Shown { points: args.points, all: false, narrow: Narrow::Never };
    let margins = judge(desk, &verdict, &memo, &shown)?;
    let matter = Matter {
        verdict: &verdict,
        memo: &memo,
        margins: &margins,
        care: &verdict.care(desk.global.seed, &memo)?,
        statement: &Statement::new(&verdict, &margins, &memo)?,
        cover: &cover,
        system: desk.system,
        size: if args.size == SheetName::Letter { PaperSize::Letter } else { PaperSize::A4 },
    };
    if args.all {
        return every(desk, args, &matter, more.as_deref());
    }
    let written = written(args.kind, &matter, more.as_deref())?;
    let files = Files { written: vec![(written, args.output.clone())], left_out: Vec::new() };
    files.save()?;
    files.told(desk)
}

/// Every paper, the page and every drawing, in a folder that is made where it is missing.
fn every(desk: &Desk<'_>, args: &PaperArgs, matter: &Matter<'_>, more: Option<&[u8]>) -> Result<String, Failure> {
    let folder = &args.output;
    std::fs::create_dir_all(folder).map_err(|error| unwritten(folder, &error))?;
    let mut files = Files::default();
    for name in PaperName::value_variants() {
        files.written.push((written(*name, matter, more)?, folder.join(name.file())));
    }
    for (name, figure) in figure::every(desk, &args.file, matter.verdict, matter.memo)? {
        let path = folder.join(format!("figure-{name}.svg"));
        match figure {
            Ok(Figure { svg, title, .. }) => {
                files.written.push((Written { bytes: svg.into_bytes(), title, missing: Vec::new() }, path));
            }
            Err(failure) => files.left_out.push((path, failure.message())),
        }
    }
    files.save()?;
    files.told(desk)
}

/// What one call writes, and what it leaves out with the reason.
#[derive(Default)]
struct Files {
    written: Vec<(Written, PathBuf)>,
    left_out: Vec<(PathBuf, String)>,
}

fn written(name: PaperName, matter: &Matter<'_>, more: Option<&[u8]>) -> Result<Written, Failure> {
    Ok(match name {
        PaperName::Paper(kind) => write_paper(kind, matter, more)?,
        PaperName::Page => verdict_page(matter)?,
    })
}

fn unwritten(path: &Path, error: &std::io::Error) -> Failure {
    Failure::could(format!("{} cannot be written: {error}", path.display()), "check the path of --output")
}

/// Letters that are named at most.
const TOLD_LETTERS: usize = 12;

impl Files {
    fn save(&self) -> Result<(), Failure> {
        let save = |(written, path): &(Written, PathBuf)| {
            std::fs::write(path, &written.bytes).map_err(|error| unwritten(path, &error))
        };
        self.written.iter().try_for_each(save)
    }

    fn told(&self, desk: &Desk<'_>) -> Result<String, Failure> {
        if desk.global.json {
            return self.as_json();
        }
        let mut text: String =
            self.written.iter().map(|(written, path)| format!("{}: {}\n", path.display(), written.title)).collect();
        for (path, why) in &self.left_out {
            text.push_str(&format!("note: {} is left out: {why}\n", path.display()));
        }
        let missing: BTreeSet<char> = self.written.iter().flat_map(|(one, _)| one.missing.iter().copied()).collect();
        if !missing.is_empty() {
            let letters: String = missing.iter().take(TOLD_LETTERS).collect();
            text.push_str(&format!(
                "note: the paper's font lacks {} letters ({letters}); a box stands for each. --font FILE adds a font that \
                 has them.\n",
                missing.len()
            ));
        }
        Ok(text)
    }

    fn as_json(&self) -> Result<String, Failure> {
        let file = |(written, path): &(Written, PathBuf)| {
            json!({
                "title": written.title,
                "file": path.display().to_string(),
                "bytes": written.bytes.len(),
                "missing_letters": written.missing.iter().collect::<String>(),
            })
        };
        let left = |(path, why): &(PathBuf, String)| json!({ "file": path.display().to_string(), "why": why });
        json::text(&json!({
            "files": self.written.iter().map(file).collect::<Vec<_>>(),
            "left_out": self.left_out.iter().map(left).collect::<Vec<_>>(),
        }))
    }
}

/// What the shop writes on it.
fn cover(args: &PaperArgs) -> Result<Cover, Failure> {
    let day = |text: &String| {
        let hint = "write year, month and day: 2026-12-01";
        text.parse::<Date>().map_err(|_| Failure::usage(format!("--date: \"{text}\" is no day"), hint))
    };
    Ok(Cover {
        shop: args.shop.clone(),
        customer: args.customer.clone(),
        number: args.job_number.clone(),
        date: args.date.as_ref().map(day).transpose()?,
        notes: args.notes.as_deref().map(text_file).transpose()?,
        photos: args.photo.iter().map(|path| photo(path)).collect::<Result<_, _>>()?,
        ..Cover::default()
    })
}

fn font(path: &Path) -> Result<Vec<u8>, Failure> {
    bytes("font", path)
}

/// A photo, told by its file's name.
fn photo(path: &Path) -> Result<Photo, Failure> {
    let told = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    Ok(Photo { told, bytes: bytes("photo", path)? })
}

fn bytes(option: &str, path: &Path) -> Result<Vec<u8>, Failure> {
    let unread = |error: std::io::Error| {
        Failure::could(format!("{} cannot be read: {error}", path.display()), format!("check the path of --{option}"))
    };
    std::fs::read(path).map_err(unread)
}
