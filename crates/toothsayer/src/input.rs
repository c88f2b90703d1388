//! Reading files and arguments.

use crate::args::{Global, StateName, Units};
use crate::failure::Failure;
use std::borrow::Cow;
use std::io::Read;
use std::path::Path;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, LARGEST_FILE, State};
use toothsayer_quantity::{Kind, System, parse};

/// What every command works with.
pub struct Desk<'a> {
    /// The global options.
    pub global: &'a Global,
    /// The fault book.
    pub book: Cow<'static, FaultBook>,
    /// Units that people see.
    pub system: System,
}

impl<'a> Desk<'a> {
    /// Reads the fault book where another one is asked for.
    pub fn new(global: &'a Global) -> Result<Self, Failure> {
        let book = match &global.fault_book {
            None => Cow::Borrowed(FaultBook::built_in()),
            Some(path) => Cow::Owned(read_book(path)?),
        };
        let system = if global.units == Units::Us { System::Us } else { System::Metric };
        Ok(Self { global, book, system })
    }

    /// Reads a job file.
    pub fn job(&self, path: &Path) -> Result<Job, Failure> {
        let text = text_file(path)?;
        self.job_of(&path.display().to_string(), &text)
    }

    /// Reads a job from its text.
    pub fn job_of(&self, name: &str, text: &str) -> Result<Job, Failure> {
        Job::parse(text, &self.book).map_err(|error| Failure::of_job(name, text, error))
    }
}

/// Reads and checks a fault book.
pub fn read_book(path: &Path) -> Result<FaultBook, Failure> {
    let text = text_file(path)?;
    FaultBook::parse(&text).map_err(|problems| {
        let lines: Vec<String> = problems.iter().map(|problem| format!("{}: {problem}", path.display())).collect();
        Failure::could(lines.join("\n"), "docs/fault-book.md says how a book is written")
    })
}

/// A text file of a size that a person writes; `-` is standard input.
pub fn text_file(path: &Path) -> Result<String, Failure> {
    let name = path.display();
    let unreadable =
        |error: std::io::Error| Failure::could(format!("{name} cannot be read: {error}"), "check the path");
    // One byte more than allowed tells that there is more, even where the size is not known before.
    let most = LARGEST_FILE as u64 + 1;
    let mut bytes = Vec::new();
    let read = if path == Path::new("-") {
        std::io::stdin().lock().take(most).read_to_end(&mut bytes)
    } else {
        std::fs::File::open(path).and_then(|file| file.take(most).read_to_end(&mut bytes))
    };
    if read.map_err(unreadable)? as u64 == most {
        let hint = "a job file is a few kilobytes: is this the right one?";
        return Err(Failure::could(format!("{name} has more than {LARGEST_FILE} bytes"), hint));
    }
    String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        let line = error.as_bytes()[..place].iter().filter(|byte| **byte == b'\n').count() + 1;
        Failure::could(format!("{name} is not UTF-8 at byte {place}, line {line}"), "save it as plain UTF-8 text")
    })
}

/// The job's state of a name.
pub fn state(name: StateName) -> State {
    match name {
        StateName::Stock => State::Stock,
        StateName::Built => State::Built,
        StateName::Found => State::Found,
        StateName::Proposed => State::Proposed,
        StateName::After => State::After,
    }
}

/// A quantity from an argument.
pub fn quantity(option: &str, kind: Kind, text: &str) -> Result<f64, Failure> {
    parse(kind, text)
        .map(|reading| reading.si)
        .map_err(|error| Failure::usage(format!("--{option}: {error}"), error.hint()))
}

/// A share from an argument: 0.6 or "60 %".
pub fn share(option: &str, text: &str) -> Result<f64, Failure> {
    let bare = text.trim().parse::<f64>().ok();
    let value = match bare {
        Some(value) => value,
        None => quantity(option, Kind::Fraction, text)?,
    };
    if (0.0..=1.0).contains(&value) {
        return Ok(value);
    }
    Err(Failure::usage(format!("--{option} is {text}, outside 0 to 1"), "write 0.6 or \"60 %\""))
}
