//! What is wrong in a job file: where, what, and the way out.

use std::fmt;
use std::ops::Range;

/// One thing wrong in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The bytes concerned.
    pub span: Range<usize>,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The key concerned ("truck.mass"); empty where the file itself is.
    pub key: String,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { line, column, message, hint, .. } = self;
        write!(f, "line {line}, column {column}: {message}")?;
        if hint.is_empty() { Ok(()) } else { write!(f, " ({hint})") }
    }
}

/// Collects problems of one text and turns bytes into lines.
#[derive(Debug)]
pub(crate) struct Problems<'a> {
    text: &'a str,
    list: Vec<Problem>,
}

impl<'a> Problems<'a> {
    pub(crate) fn of(text: &'a str) -> Self {
        Self { text, list: Vec::new() }
    }

    pub(crate) fn add(&mut self, span: Range<usize>, key: &str, message: String, hint: String) {
        let (line, column) = line_and_column(self.text, span.start);
        self.list.push(Problem { span, line, column, key: key.to_owned(), message, hint });
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// In the order of the file.
    pub(crate) fn into_sorted(mut self) -> Vec<Problem> {
        self.list.sort_by_key(|problem| problem.span.start);
        self.list
    }
}

fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let mut end = byte.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let before = &text[..end];
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_and_in_characters() {
        assert_eq!(line_and_column("µµx\ny", 4), (1, 3));
        assert_eq!(line_and_column("a\nbc", 3), (2, 2));
        assert_eq!(line_and_column("", 9), (1, 1));
    }
}
