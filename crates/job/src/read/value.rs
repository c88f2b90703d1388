//! Reading one value of a job file by the registry's word on it.

use super::Reader;
use super::catalogue;
use crate::sheet::{Entry, Fields, Origin, Word};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toothsayer_inputs::{Form, Input};
use toothsayer_quantity::{Kind, nearest, parse, show_in};

/// Longest text that a file may give.
const LONGEST_TEXT: usize = 400;

/// Keys of a quantity written as a table.
const RANGE_KEYS: [&str; 5] = ["value", "plus_minus", "low", "high", "from"];

impl Reader<'_> {
    /// Reads `value` as `input` into `out`; what is wrong goes to the problems.
    pub(super) fn value(&mut self, input: &'static Input, value: &Spanned<DeValue<'_>>, out: &mut Fields) {
        match input.form {
            Form::Quantity(_) | Form::Count => {
                if let Some(entry) = self.entry(input, value) {
                    out.numbers.insert(input.key, entry);
                }
            }
            Form::Flag => match value.get_ref().as_bool() {
                Some(flag) => {
                    out.numbers.insert(input.key, Entry::exact(f64::from(u8::from(flag)), Origin::Given));
                }
                None => self.wrong_type(input, value, "true or false", ""),
            },
            Form::Text | Form::Word(_) | Form::Name(_) => {
                if let Some(text) = self.text(input, value) {
                    out.words.insert(input.key, Word { text, origin: Origin::Given });
                }
            }
        }
    }

    fn entry(&mut self, input: &'static Input, value: &Spanned<DeValue<'_>>) -> Option<Entry> {
        match value.get_ref() {
            DeValue::Table(table) => self.range(input, value.span(), table),
            _ => self.number(input, value).map(|si| Entry::exact(si, Origin::Given)),
        }
    }

    /// `{ value, plus_minus }` or `{ value, low, high }`, with `from` where the file says that it is assumed.
    fn range(&mut self, input: &'static Input, span: Range<usize>, table: &DeTable<'_>) -> Option<Entry> {
        for key in table.keys().filter(|key| !RANGE_KEYS.contains(&key.get_ref().as_ref())) {
            self.unknown(&format!("{}.{}", input.key, key.get_ref()), key.span(), RANGE_KEYS);
        }
        let get = |key: &str| table.get(key);
        let Some(middle) = get("value") else {
            self.say(span, input.key, format!("`{}` has no `value`", input.key), range_hint(input));
            return None;
        };
        let value = self.number(input, middle)?;
        let (low, high) = match (get("plus_minus"), get("low"), get("high")) {
            (Some(tolerance), None, None) => {
                let tolerance = self.tolerance(input, tolerance)?;
                (value - tolerance, value + tolerance)
            }
            (None, Some(low), Some(high)) => (self.number(input, low)?, self.number(input, high)?),
            _ => {
                let message = format!("`{}` needs `plus_minus`, or `low` and `high`", input.key);
                self.say(span, input.key, message, range_hint(input));
                return None;
            }
        };
        if !(low <= value && value <= high) {
            let message = format!("`{}` has its value outside its own `low` to `high`", input.key);
            self.say(span, input.key, message, "order them: low, value, high".into());
            return None;
        }
        let origin = match get("from").map(|from| (from.span(), from.get_ref().as_str())) {
            Some((_, Some(from))) => Origin::Assumed(from.chars().take(LONGEST_TEXT).collect()),
            Some((span, None)) => {
                self.say(
                    span,
                    input.key,
                    format!("`{}.from` is no text", input.key),
                    "say where the value comes from".into(),
                );
                return None;
            }
            None => Origin::Given,
        };
        Some(Entry { value, low: low.max(input.least), high: high.min(input.most), origin })
    }

    fn tolerance(&mut self, input: &'static Input, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let si = match (input.kind(), value.get_ref().as_str()) {
            (Kind::Number, _) => self.plain(input, value)?,
            (kind, Some(text)) => match parse(kind, text) {
                Ok(reading) => {
                    let number = reading.unit.map_or(reading.si, |unit| unit.from_si(reading.si));
                    reading.unit.map_or(number, |unit| unit.difference_to_si(number))
                }
                Err(error) => {
                    self.say(value.span(), input.key, format!("`{}`: {error}", input.key), error.hint());
                    return None;
                }
            },
            _ => {
                self.bare(input, value);
                return None;
            }
        };
        if si < 0.0 {
            let message = format!("`{}` has a negative `plus_minus`", input.key);
            self.say(value.span(), input.key, message, "write how far the value may be off, either way".into());
            return None;
        }
        Some(si)
    }

    /// A number in SI within the registry's range.
    fn number(&mut self, input: &'static Input, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let si = match (input.form, value.get_ref()) {
            (Form::Count, DeValue::Integer(_)) => self.plain(input, value)?,
            (Form::Count, _) => {
                self.wrong_type(input, value, "a whole number", "");
                return None;
            }
            (_, DeValue::Integer(_) | DeValue::Float(_)) if input.kind() == Kind::Number => self.plain(input, value)?,
            (_, DeValue::Integer(_) | DeValue::Float(_)) => {
                self.bare(input, value);
                return None;
            }
            (_, DeValue::String(text)) if input.kind() != Kind::Number => match parse(input.kind(), text) {
                Ok(reading) => reading.si,
                Err(error) => {
                    self.say(value.span(), input.key, format!("`{}`: {error}", input.key), error.hint());
                    return None;
                }
            },
            _ => {
                self.wrong_type(input, value, &expected(input), "");
                return None;
            }
        };
        self.in_range(input, si, value.span())
    }

    /// The bare number that stands in the file.
    fn plain(&mut self, input: &'static Input, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let text = match value.get_ref() {
            DeValue::Integer(integer) => match i64::from_str_radix(integer.as_str(), integer.radix()) {
                Ok(number) => return Some(number as f64),
                Err(_) => integer.as_str().to_owned(),
            },
            DeValue::Float(float) => float.as_str().to_owned(),
            _ => {
                self.wrong_type(input, value, &expected(input), "");
                return None;
            }
        };
        match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Some(number),
            _ => {
                let message = format!("`{}` is {text}, which is no finite number", input.key);
                self.say(value.span(), input.key, message, "write an ordinary number".into());
                None
            }
        }
    }

    fn in_range(&mut self, input: &'static Input, si: f64, span: Range<usize>) -> Option<f64> {
        if (input.least..=input.most).contains(&si) {
            return Some(si);
        }
        let message = format!(
            "`{}` is {}, outside {} to {}",
            input.key,
            say(input, si),
            say(input, input.least),
            say(input, input.most)
        );
        self.say(span, input.key, message, format!("{}: check the number and its unit", input.help));
        None
    }

    /// A text, checked against the words or the catalogue of its input.
    pub(super) fn text(&mut self, input: &Input, value: &Spanned<DeValue<'_>>) -> Option<String> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_type(input, value, "a text in quotes", "");
            return None;
        };
        if text.len() > LONGEST_TEXT {
            let message = format!("`{}` is {} bytes long, more than {LONGEST_TEXT}", input.key, text.len());
            self.say(value.span(), input.key, message, "shorten it".into());
            return None;
        }
        let allowed: Vec<&str> = match input.form {
            Form::Word(words) => words.to_vec(),
            Form::Name(name) => catalogue::names(name),
            _ => return Some(text.to_owned()),
        };
        if allowed.contains(&text) {
            return Some(text.to_owned());
        }
        self.not_among(input.key, value.span(), text, &allowed);
        None
    }

    /// `text` is none of the words allowed at `key`.
    pub(super) fn not_among(&mut self, key: &str, span: Range<usize>, text: &str, allowed: &[&str]) {
        let near = nearest(text, allowed.iter().copied());
        let ask = near.map_or(String::new(), |word| format!("did you mean \"{word}\"? "));
        let hint = format!("{ask}one of: {}", allowed.join(", "));
        self.say(span, key, format!("`{key}` is \"{}\", which is not known here", short(text)), hint);
    }

    fn bare(&mut self, input: &Input, value: &Spanned<DeValue<'_>>) {
        let raw = self.raw(value.span()).to_owned();
        let usual = usual_unit(input.kind());
        let message = format!("`{}` is the bare number {}, and a unit is needed", input.key, short(&raw));
        self.say(value.span(), input.key, message, format!("write for example \"{} {usual}\"", short(&raw)));
    }

    pub(super) fn wrong_type(&mut self, input: &Input, value: &Spanned<DeValue<'_>>, wanted: &str, hint: &str) {
        let is = match value.get_ref().type_str() {
            kind @ ("array" | "integer") => format!("an {kind}"),
            "string" => "a text".into(),
            kind => format!("a {kind}"),
        };
        let message = format!("`{}` is {is}, and {wanted} is expected", input.key);
        self.say(
            value.span(),
            input.key,
            message,
            if hint.is_empty() { input.help.to_owned() } else { hint.to_owned() },
        );
    }
}

fn expected(input: &Input) -> String {
    match input.kind() {
        Kind::Number => "a number without quotes".into(),
        kind => format!("{} in quotes, such as \"1 {}\",", kind.with_article(), usual_unit(kind)),
    }
}

fn usual_unit(kind: Kind) -> &'static str {
    toothsayer_quantity::Unit::of_kind(kind).next().map_or("", |unit| unit.symbol)
}

fn range_hint(input: &Input) -> String {
    let unit = usual_unit(input.kind());
    match input.kind() {
        Kind::Number => "write { value = 5, low = 4, high = 6 }".into(),
        _ => format!("write {{ value = \"5 {unit}\", low = \"4 {unit}\", high = \"6 {unit}\" }}"),
    }
}

/// A value in the usual unit of its kind.
fn say(input: &Input, si: f64) -> String {
    match toothsayer_quantity::Unit::of_kind(input.kind()).next() {
        Some(unit) => show_in(unit, si),
        None => toothsayer_quantity::digits(si),
    }
}

/// The start of a text that may be very long.
pub(super) fn short(text: &str) -> String {
    let head: String = text.chars().take(40).collect();
    if head.len() < text.len() { format!("{head}…") } else { head }
}
