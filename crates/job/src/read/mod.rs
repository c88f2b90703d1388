//! From the text of a job file to sheets, findings and prices, with every problem at once.

mod bench;
mod catalogue;
mod checks;
mod tables;
mod value;

pub use catalogue::names;

use crate::finding::Finding;
use crate::problem::{Problem, Problems};
use crate::sheet::Sheet;
use crate::shop::Shop;
use std::ops::Range;
use toml::de::DeTable;
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::nearest;

/// Largest file that is read, bytes.
pub const LARGEST_FILE: usize = 1 << 20;

/// What a job file says, before anything is assumed.
#[derive(Clone, Debug)]
pub(crate) struct Document {
    pub(crate) built: Sheet,
    pub(crate) stock: Option<Sheet>,
    pub(crate) found: Option<Sheet>,
    pub(crate) after: Option<Sheet>,
    pub(crate) findings: Vec<Finding>,
    pub(crate) shop: Shop,
    pub(crate) complaint: String,
    pub(crate) runs_since_gears: f64,
}

/// Reads the file's text.
pub(crate) fn document(text: &str, book: &FaultBook) -> Result<Document, Vec<Problem>> {
    let mut reader = Reader::of(text);
    if text.len() > LARGEST_FILE {
        let message = format!("the file has {} bytes, more than {LARGEST_FILE}", text.len());
        reader.say(0..0, "", message, "a job file is a few kilobytes: is this the right one?".into());
        return Err(reader.problems.into_sorted());
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let hint = "the file is TOML: `key = \"value\"` under [table] headings".to_owned();
        reader.say(error.span().unwrap_or(0..0), "", error.message().replace('\n', ", "), hint);
    }
    let syntax_is_sound = reader.problems.is_empty();
    let document = reader.root(root.get_ref(), syntax_is_sound, book);
    if reader.problems.is_empty() { Ok(document) } else { Err(reader.problems.into_sorted()) }
}

pub(crate) struct Reader<'a> {
    text: &'a str,
    problems: Problems<'a>,
}

impl<'a> Reader<'a> {
    fn of(text: &'a str) -> Self {
        Self { text, problems: Problems::of(text) }
    }

    fn say(&mut self, span: Range<usize>, key: &str, message: String, hint: String) {
        self.problems.add(span, key, message, hint);
    }

    fn raw(&self, span: Range<usize>) -> &str {
        self.text.get(span).unwrap_or("")
    }

    fn unknown<'k>(&mut self, key: &str, span: Range<usize>, known: impl IntoIterator<Item = &'k str>) {
        let known: Vec<&str> = known.into_iter().collect();
        let field = key.rsplit('.').next().unwrap_or(key);
        let hint = match nearest(field, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here: {}", known.join(", ")),
        };
        self.say(span, key, format!("`{}` is no key of a job file", value::short(key)), hint);
    }
}

/// Reads the tables of a state from a table of a data file, such as a class of the starting builds.
pub(crate) fn sheet_of(text: &str, table: &DeTable<'_>) -> Result<Sheet, Vec<Problem>> {
    let mut reader = Reader::of(text);
    let sheet = reader.sheet(table, None);
    if reader.problems.is_empty() { Ok(sheet) } else { Err(reader.problems.into_sorted()) }
}

/// Reads tables that are laid over a truck, outside of any job file.
pub(crate) fn overlay(text: &str, truck: &Sheet) -> Result<Sheet, Vec<Problem>> {
    let mut reader = Reader::of(text);
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        reader.say(error.span().unwrap_or(0..0), "", error.message().replace('\n', ", "), "write key=value".into());
    }
    let sheet = reader.sheet(root.get_ref(), Some("change"));
    reader.check_overlay("change", &sheet, truck, root.get_ref());
    if reader.problems.is_empty() { Ok(sheet) } else { Err(reader.problems.into_sorted()) }
}
