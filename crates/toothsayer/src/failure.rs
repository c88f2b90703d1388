//! What went wrong, told on standard error, with the exit code that it means.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::io::{IsTerminal, Write};
use std::process::ExitCode;
use toothsayer_job::{JobError, Problem};

/// Could not, or wrong usage.
#[derive(Debug)]
pub enum Failure {
    /// The job file has problems.
    File {
        /// Its name.
        name: String,
        /// Its text.
        text: String,
        /// All of them.
        problems: Vec<Problem>,
    },
    /// It could not be done.
    Could {
        /// Why not.
        message: String,
        /// The way out.
        hint: String,
    },
    /// An argument is wrong.
    Usage {
        /// What is wrong.
        message: String,
        /// The way out.
        hint: String,
    },
}

impl Failure {
    /// It could not be done.
    pub fn could(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Could { message: message.into(), hint: hint.into() }
    }

    /// An argument is wrong.
    pub fn usage(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Usage { message: message.into(), hint: hint.into() }
    }

    /// Of a job file.
    pub fn of_job(name: &str, text: &str, error: JobError) -> Self {
        match error {
            JobError::Problems(problems) => Self::File { name: name.into(), text: text.into(), problems },
            other => Self::could(other.to_string(), "give the value in the job file"),
        }
    }

    /// What went wrong, in a sentence.
    pub fn message(&self) -> String {
        match self {
            Self::File { name, problems, .. } => format!("{name} has {} problems", problems.len()),
            Self::Could { message, .. } | Self::Usage { message, .. } => message.clone(),
        }
    }

    /// Tells it and gives the exit code: 1 could not, 2 wrong usage.
    pub fn report(&self) -> ExitCode {
        let renderer = if std::io::stderr().is_terminal() { Renderer::styled() } else { Renderer::plain() };
        match self {
            Self::File { name, text, problems } => {
                for problem in problems {
                    tell(&format!("{}\n\n", renderer.render(&[snippet(name, text, problem)])));
                }
                let count =
                    if problems.len() == 1 { "one problem".into() } else { format!("{} problems", problems.len()) };
                tell(&format!("{count} in {name}; nothing was computed\n"));
                ExitCode::from(1)
            }
            Self::Could { message, hint } => {
                plain(message, hint);
                ExitCode::from(1)
            }
            Self::Usage { message, hint } => {
                plain(message, hint);
                ExitCode::from(2)
            }
        }
    }
}

/// Writes to standard error; where nobody listens any more there is nobody to tell.
pub fn tell(text: &str) {
    let _ = std::io::stderr().write_all(text.as_bytes());
}

fn plain(message: &str, hint: &str) {
    tell(&format!("error: {message}\n"));
    if !hint.is_empty() {
        tell(&format!("  help: {hint}\n"));
    }
}

/// The problem with its line underlined. Very long lines are not shown: the place is told in words.
fn snippet<'a>(name: &'a str, text: &'a str, problem: &'a Problem) -> Group<'a> {
    const LONGEST_LINE: usize = 400;
    let start = floor(text, problem.span.start);
    let end = floor(text, problem.span.end.min(start + LONGEST_LINE)).max(start);
    let line_start = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
    let line_end = text[start..].find('\n').map_or(text.len(), |newline| start + newline);
    let title = Level::ERROR.primary_title(problem.message.as_str());
    if text.is_empty() || line_end - line_start > LONGEST_LINE {
        let place = format!("{name}: line {}, column {}", problem.line, problem.column);
        return title.element(Level::NOTE.message(place)).element(Level::HELP.message(problem.hint.as_str()));
    }
    let annotation = AnnotationKind::Primary.span(start..end.min(line_end).max(start));
    let group = title.element(Snippet::source(text).path(name).annotation(annotation));
    if problem.hint.is_empty() { group } else { group.element(Level::HELP.message(problem.hint.as_str())) }
}

fn floor(text: &str, byte: usize) -> usize {
    let mut place = byte.min(text.len());
    while !text.is_char_boundary(place) {
        place -= 1;
    }
    place
}

impl From<toothsayer_verdict::Error> for Failure {
    fn from(error: toothsayer_verdict::Error) -> Self {
        let hint = match error {
            toothsayer_verdict::Error::Cancelled { .. } => "run it again, or with --points for point values at once",
            toothsayer_verdict::Error::TooManyUndecided { .. } => {
                "take rare causes out of the book, or make one of those with the same checks and steps; an answered \
                 check leaves its causes undecided"
            }
            toothsayer_verdict::Error::Evidence(ref error) => error.hint(),
            _ => "the build is outside what the formulas are valid for: check its values",
        };
        Self::could(error.to_string(), hint)
    }
}

impl From<toothsayer_mechanics::Error> for Failure {
    fn from(error: toothsayer_mechanics::Error) -> Self {
        toothsayer_verdict::Error::from(error).into()
    }
}

impl From<toothsayer_figures::Error> for Failure {
    fn from(error: toothsayer_figures::Error) -> Self {
        match error {
            toothsayer_figures::Error::Verdict(error) => error.into(),
            toothsayer_figures::Error::Mechanics(error) => error.into(),
            other => Self::could(other.to_string(), "draw another kind, or give what is missing in the job file"),
        }
    }
}

impl From<toothsayer_report::Error> for Failure {
    fn from(error: toothsayer_report::Error) -> Self {
        match error {
            toothsayer_report::Error::Verdict(error) => error.into(),
            toothsayer_report::Error::Figure(error) => error.into(),
            toothsayer_report::Error::Font { .. } => {
                Self::could(error.to_string(), "give a TrueType or OpenType font, or leave --font out")
            }
            other => Self::could(other.to_string(), "check what the paper is made from"),
        }
    }
}

impl From<toothsayer_invented_shop::Error> for Failure {
    fn from(error: toothsayer_invented_shop::Error) -> Self {
        match error {
            toothsayer_invented_shop::Error::Records(error) => error.into(),
            other => Self::could(other.to_string(), "name a new place with --database"),
        }
    }
}

impl From<toothsayer_records::Error> for Failure {
    fn from(error: toothsayer_records::Error) -> Self {
        let hint = match error {
            toothsayer_records::Error::Missing { .. } => "look for it: `toothsayer records find`",
            ref other => other.hint(),
        };
        Self::could(error.to_string(), hint)
    }
}
