//! Where every entry and key of a book stands, so that each problem points at it.

use crate::problem::{Problem, place};
use std::collections::BTreeMap;

/// A part of a book: its name for messages, and its text.
#[derive(Clone, Copy, Debug)]
pub struct Part<'a> {
    /// Name, told in messages; empty where the book is one file.
    pub name: &'a str,
    /// TOML.
    pub text: &'a str,
}

/// Places of what was read, and what is wrong so far.
pub(crate) struct Places<'a> {
    parts: &'a [Part<'a>],
    known: BTreeMap<(String, String), (usize, usize)>,
    pub(crate) problems: Vec<Problem>,
}

impl<'a> Places<'a> {
    pub(crate) fn new(parts: &'a [Part<'a>]) -> Self {
        Self { parts, known: BTreeMap::new(), problems: Vec::new() }
    }

    /// Keeps where the entry `id` has `key`; the key is empty for the entry itself.
    pub(crate) fn keep(&mut self, id: &str, key: &str, part: usize, byte: usize) {
        self.known.entry((id.to_owned(), key.to_owned())).or_insert((part, byte));
    }

    /// Something wrong at a byte of a part.
    pub(crate) fn say_at(&mut self, (part, byte): (usize, usize), id: &str, message: String, hint: String) {
        let Some(Part { name, text }) = self.parts.get(part) else { return };
        let (line, column) = place(text, byte);
        let (file, id) = ((*name).to_owned(), id.to_owned());
        self.problems.push(Problem { file, line, column, id, message, hint });
    }

    /// Something wrong with the entry `id` at `key`, or else at the entry, or else at the book's beginning.
    pub(crate) fn say(&mut self, id: &str, key: &str, message: String, hint: String) {
        let at = |key: &str| self.known.get(&(id.to_owned(), key.to_owned())).copied();
        let outer = key.rsplit_once('.').map(|(outer, _)| outer.to_owned());
        let found = at(key).or_else(|| at(&outer?)).or_else(|| at("")).unwrap_or((0, 0));
        self.say_at(found, id, message, hint);
    }

    /// The problems, in the order of the text, each once.
    pub(crate) fn into_problems(mut self) -> Vec<Problem> {
        let order = |file: &str| self.parts.iter().position(|part| part.name == file);
        self.problems.sort_by_key(|problem| (order(&problem.file), problem.line, problem.column));
        self.problems.dedup();
        self.problems
    }
}
