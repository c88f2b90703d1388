//! From the text of a book, in one part or several, to its entries, with every problem at once.

mod change;
mod entry;
mod places;
mod tables;

pub(crate) use change::FREED;
pub(crate) use entry::near_or_all;
pub use places::Part;
pub(crate) use places::Places;

use crate::book::FaultBook;
use crate::problem::Problem;
use entry::Entry;
use std::cell::RefCell;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

const SECTIONS: [&str; 11] = [
    "name",
    "source",
    "extends",
    "plans",
    "cautions",
    "removals",
    "modes",
    "complaints",
    "causes",
    "findings",
    "steps",
];

/// Reads the parts of a book; what they add to is laid under them where they say so.
pub(crate) fn read(parts: &[Part<'_>], built_in: impl FnOnce() -> FaultBook) -> Result<FaultBook, Vec<Problem>> {
    let places = RefCell::new(Places::new(parts));
    let mut own = FaultBook::default();
    let mut extends = false;
    for (place, part) in parts.iter().enumerate() {
        let (root, errors) = DeTable::parse_recoverable(part.text);
        for error in errors {
            let byte = error.span().map_or(0, |span| span.start);
            let hint = "a book is TOML: `key = value` under [[sections]]".to_owned();
            places.borrow_mut().say_at((place, byte), "", error.message().replace('\n', ", "), hint);
        }
        extends |= section_by_section(root.get_ref(), &places, place, &mut own);
    }
    let mut places = places.into_inner();
    if !places.problems.is_empty() {
        return Err(places.into_problems());
    }
    crate::check::once(&own, &mut places);
    let book = if extends { built_in().with(own) } else { own };
    crate::check::check(&book, &mut places);
    if places.problems.is_empty() { Ok(book.sorted()) } else { Err(places.into_problems()) }
}

/// Reads one part into `book`; whether it adds to the built-in book.
fn section_by_section<'t>(root: &DeTable<'t>, places: &RefCell<Places<'_>>, part: usize, book: &mut FaultBook) -> bool {
    let mut extends = false;
    for (key, value) in root.iter() {
        let name = key.get_ref().as_ref();
        let at = (part, key.span().start);
        let entries = || entries(name, value, places, part);
        match name {
            "name" | "source" | "extends" => {
                let Some(text) = value.get_ref().as_str() else {
                    let message = format!("`{name}` is no text");
                    places.borrow_mut().say_at(at, "", message, "write it in quotes".into());
                    continue;
                };
                match name {
                    "name" => book.name = text.to_owned(),
                    "source" => book.source = text.to_owned(),
                    _ if text == "built-in" => extends = true,
                    _ => {
                        let message = format!("`extends` cannot be \"{text}\"");
                        places.borrow_mut().say_at(at, "", message, "write extends = \"built-in\"".into());
                    }
                }
            }
            "plans" => match value.get_ref().as_table() {
                Some(table) => book.plans = Entry::new(table, places, at, "plans").plans(),
                None => places.borrow_mut().say_at(at, "", "`plans` is no table".into(), "write [plans]".into()),
            },
            "cautions" => book.cautions.extend(entries().iter().map(Entry::caution)),
            "removals" => book.removals.extend(entries().iter().map(Entry::removal)),
            "modes" => book.modes.extend(entries().iter().map(Entry::mode)),
            "complaints" => book.complaints.extend(entries().iter().map(Entry::complaint)),
            "causes" => book.causes.extend(entries().iter().map(Entry::cause)),
            "findings" => book.findings.extend(entries().iter().map(Entry::finding)),
            "steps" => book.steps.extend(entries().iter().map(Entry::step)),
            _ => {
                let message = format!("a book has no section `{name}`");
                places.borrow_mut().say_at(at, "", message, near_or_all(name, &SECTIONS));
            }
        }
    }
    extends
}

/// The tables of a `[[section]]`.
fn entries<'e, 'p, 't>(
    name: &str,
    value: &'e Spanned<DeValue<'t>>,
    places: &'e RefCell<Places<'p>>,
    part: usize,
) -> Vec<Entry<'e, 'p, 't>> {
    let Some(array) = value.get_ref().as_array() else {
        let at = (part, value.span().start);
        places.borrow_mut().say_at(at, "", format!("`{name}` is no list"), format!("write [[{name}]]"));
        return Vec::new();
    };
    let entry = |item: &'e Spanned<DeValue<'t>>| {
        let table = item.get_ref().as_table()?;
        let known = table.iter().find(|(key, _)| key.get_ref().as_ref() == "id");
        let id = known.and_then(|(_, id)| id.get_ref().as_str()).unwrap_or_default();
        let byte = known.map_or(item.span().start, |(key, _)| key.span().start);
        Some(Entry::new(table, places, (part, byte), id))
    };
    array.iter().filter_map(entry).collect()
}
