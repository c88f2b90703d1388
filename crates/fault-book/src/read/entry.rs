//! Reading one table of a book key by key: what it must hold, what it may, and what nobody knows.

use super::places::Places;
use crate::model::Links;
use std::cell::RefCell;
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toothsayer_quantity::nearest;

/// A table being read; every key that is asked for counts as known.
pub(crate) struct Entry<'e, 'p, 't> {
    pub(crate) table: &'e DeTable<'t>,
    pub(crate) places: &'e RefCell<Places<'p>>,
    pub(crate) part: usize,
    /// First byte of the entry.
    pub(crate) byte: usize,
    pub(crate) id: String,
    /// What stands before this table's keys in the entry.
    pub(crate) prefix: String,
    asked: RefCell<BTreeSet<&'static str>>,
}

impl<'e, 'p, 't> Entry<'e, 'p, 't> {
    pub(crate) fn new(table: &'e DeTable<'t>, places: &'e RefCell<Places<'p>>, at: (usize, usize), id: &str) -> Self {
        let (part, byte) = at;
        places.borrow_mut().keep(id, "", part, byte);
        Self { table, places, part, byte, id: id.to_owned(), prefix: String::new(), asked: RefCell::default() }
    }

    /// A table inside this one.
    pub(crate) fn inner(&self, key: &str, value: &'e Spanned<DeValue<'t>>) -> Option<Self> {
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(key, value, "a table in braces");
            return None;
        };
        let prefix = format!("{}{key}.", self.prefix);
        let (places, part, byte, id) = (self.places, self.part, value.span().start, self.id.clone());
        Some(Self { table, places, part, byte, id, prefix, asked: RefCell::default() })
    }

    pub(crate) fn say(&self, byte: usize, message: String, hint: String) {
        self.places.borrow_mut().say_at((self.part, byte), &self.id, message, hint);
    }

    fn wrong(&self, key: &str, value: &Spanned<DeValue<'_>>, wanted: &str) {
        self.say(value.span().start, format!("`{}{key}` is not {wanted}", self.prefix), format!("write {wanted}"));
    }

    /// The value under `key`, whose place is kept.
    pub(crate) fn get(&self, key: &'static str) -> Option<&'e Spanned<DeValue<'t>>> {
        self.asked.borrow_mut().insert(key);
        let (spanned, value) = self.table.iter().find(|(known, _)| known.get_ref().as_ref() == key)?;
        let whole = format!("{}{key}", self.prefix);
        self.places.borrow_mut().keep(&self.id, &whole, self.part, spanned.span().start);
        Some(value)
    }

    fn needed(&self, key: &'static str) -> Option<&'e Spanned<DeValue<'t>>> {
        let value = self.get(key);
        if value.is_none() {
            self.say(self.byte, format!("has no `{}{key}`", self.prefix), format!("add `{key}`"));
        }
        value
    }

    fn as_text(&self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<String> {
        let text = value.get_ref().as_str().map(str::to_owned);
        if text.is_none() {
            self.wrong(key, value, "a text in quotes");
        }
        text
    }

    fn as_number(&self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let digits = |text: &str| text.replace('_', "").parse::<f64>().ok().filter(|number| number.is_finite());
        let number = match value.get_ref() {
            DeValue::Integer(integer) if integer.radix() == 10 => digits(integer.as_str()),
            DeValue::Float(float) => digits(float.as_str()),
            _ => None,
        };
        if number.is_none() {
            self.wrong(key, value, "a plain number");
        }
        number
    }

    /// A text that must be there; empty where it is not, which is told.
    pub(crate) fn text(&self, key: &'static str) -> String {
        self.needed(key).and_then(|value| self.as_text(key, value)).unwrap_or_default()
    }

    pub(crate) fn text_if(&self, key: &'static str) -> Option<String> {
        self.get(key).and_then(|value| self.as_text(key, value))
    }

    /// A number that must be there.
    pub(crate) fn number(&self, key: &'static str) -> f64 {
        self.needed(key).and_then(|value| self.as_number(key, value)).unwrap_or_default()
    }

    pub(crate) fn number_if(&self, key: &'static str) -> Option<f64> {
        self.get(key).and_then(|value| self.as_number(key, value))
    }

    pub(crate) fn flag(&self, key: &'static str) -> bool {
        let Some(value) = self.get(key) else { return false };
        let flag = value.get_ref().as_bool();
        if flag.is_none() {
            self.wrong(key, value, "true or false");
        }
        flag.unwrap_or_default()
    }

    /// Texts; each keeps its own place under `key.TEXT`.
    pub(crate) fn list(&self, key: &'static str) -> Vec<String> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let Some(array) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of texts in brackets");
            return Vec::new();
        };
        let texts = array.iter().filter_map(|item| {
            let text = self.as_text(key, item)?;
            self.places.borrow_mut().keep(&self.id, &format!("{key}.{text}"), self.part, item.span().start);
            Some(text)
        });
        texts.collect()
    }

    /// Chances by id; each keeps its own place under `key.ID`.
    pub(crate) fn links(&self, key: &'static str) -> Links {
        let Some(value) = self.get(key) else { return Links::new() };
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(key, value, "a table of chances in braces");
            return Links::new();
        };
        let chances = table.iter().filter_map(|(id, chance)| {
            let name = id.get_ref().to_string();
            self.places.borrow_mut().keep(&self.id, &format!("{key}.{name}"), self.part, id.span().start);
            Some((name, self.as_number(key, chance)?))
        });
        chances.collect()
    }

    /// A word of a fixed choice.
    pub(crate) fn word<T: Copy>(&self, key: &'static str, choice: &[(&str, T)]) -> Option<T> {
        let value = self.get(key)?;
        let text = self.as_text(key, value)?;
        let found = choice.iter().find(|(word, _)| *word == text).map(|(_, meant)| *meant);
        if found.is_none() {
            let words: Vec<&str> = choice.iter().map(|(word, _)| *word).collect();
            let hint = near_or_all(&text, &words);
            self.say(value.span().start, format!("`{}{key}` cannot be \"{text}\"", self.prefix), hint);
        }
        found
    }

    /// Tables: one in braces, or a list of them.
    pub(crate) fn tables(&self, key: &'static str) -> Vec<Self> {
        let Some(value) = self.get(key) else { return Vec::new() };
        match value.get_ref().as_array() {
            Some(array) => array.iter().filter_map(|item| self.inner(key, item)).collect(),
            None => self.inner(key, value).into_iter().collect(),
        }
    }

    /// Tells every key that nobody asked for.
    pub(crate) fn finish(&self) {
        let asked = self.asked.borrow();
        let known: Vec<&str> = asked.iter().copied().collect();
        for key in self.table.keys().filter(|key| !asked.contains(key.get_ref().as_ref())) {
            let name = key.get_ref().as_ref();
            let hint = near_or_all(name, &known);
            self.say(key.span().start, format!("has no key `{}{name}`", self.prefix), hint);
        }
    }
}

/// "did you mean", or all that is known.
pub(crate) fn near_or_all(word: &str, known: &[&str]) -> String {
    match nearest(word, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("known: {}", known.join(", ")),
    }
}
