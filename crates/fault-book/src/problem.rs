//! What is wrong in a fault book: where, what, and the way out.

use std::fmt;

/// One thing wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The part of the book that it stands in; empty where the book is one file.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
    /// Id of the entry concerned; empty for the file's syntax.
    pub id: String,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { file, line, column, id, message, hint } = self;
        let part = if file.is_empty() { String::new() } else { format!("{file}, ") };
        let whose = if id.is_empty() { String::new() } else { format!("\"{id}\": ") };
        write!(f, "{part}line {line}, column {column}: {whose}{message}")?;
        if hint.is_empty() { Ok(()) } else { write!(f, " ({hint})") }
    }
}

/// Line and column of a byte.
pub(crate) fn place(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}
