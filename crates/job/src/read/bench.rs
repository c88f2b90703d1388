//! Findings and prices of a job file.

use super::Reader;
use super::value::short;
use crate::finding::Finding;
use crate::shop::{Part, Shop, USUAL_COMEBACK_MINOR, USUAL_HORIZON_RUNS, USUAL_RATE_MINOR};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::{Currency, Kind, Money, nearest, parse};

const FINDING_KEYS: [&str; 3] = ["check", "answer", "value"];
const SHOP_KEYS: [&str; 5] = ["currency", "labour_rate", "horizon_runs", "comeback_cost", "parts"];
const PART_KEYS: [&str; 4] = ["part", "price", "on_shelf", "lead_days"];

/// Largest value that a check can measure: play and backlash in a truck stay below 10 mm, parts below 0.5 m.
fn most_measured(kind: Kind, adds: bool) -> f64 {
    match (kind, adds) {
        (Kind::Length, true) => 0.01,
        (Kind::Length, false) => 0.5,
        _ => 1e9,
    }
}

impl Reader<'_> {
    pub(super) fn findings(&mut self, root: &DeTable<'_>, book: &FaultBook) -> Vec<Finding> {
        let mut findings: Vec<Finding> = Vec::new();
        for (span, table) in self.tables(root, "findings") {
            let Some(finding) = self.finding(span.clone(), table, book) else { continue };
            if findings.iter().any(|known| known.check == finding.check) {
                let message = format!("check \"{}\" is answered twice", finding.check);
                self.say(span, "findings.check", message, "keep one answer".into());
            } else {
                findings.push(finding);
            }
        }
        findings
    }

    fn finding(&mut self, span: Range<usize>, table: &DeTable<'_>, book: &FaultBook) -> Option<Finding> {
        self.only_keys("findings", table, &FINDING_KEYS);
        let check = self.words(span.clone(), table, "findings.check", &book.finding_ids())?;
        let answer = self.words(span, table, "findings.answer", &["yes", "no"])?;
        let value = match table.get("value") {
            Some(value) => Some(self.measured(&check, value, book)?),
            None => None,
        };
        Some(Finding { check, yes: answer == "yes", value })
    }

    /// A measured value, in the quantity of the input that the check's measurement sets.
    fn measured(&mut self, check: &str, value: &Spanned<DeValue<'_>>, book: &FaultBook) -> Option<f64> {
        let Some(kind) = book.measured_kind(check) else {
            let message = format!("check \"{check}\" takes no value: nothing is measured there");
            self.say(value.span(), "findings.value", message, "leave `value` out".into());
            return None;
        };
        let adds = book.finding(check).and_then(|entry| entry.value.as_ref()).is_some_and(|value| value.adds);
        let Some(text) = value.get_ref().as_str() else {
            let message = format!("`value` of check \"{check}\" is no text with a unit");
            self.say(
                value.span(),
                "findings.value",
                message,
                format!("write {}, such as value = \"0.45 mm\"", kind.with_article()),
            );
            return None;
        };
        match parse(kind, text) {
            Ok(reading) if (0.0..=most_measured(kind, adds)).contains(&reading.si) => Some(reading.si),
            Ok(_) => {
                let message = format!("`value` of check \"{check}\" is {}, outside what can be measured", short(text));
                self.say(value.span(), "findings.value", message, "check the number and its unit".into());
                None
            }
            Err(error) => {
                self.say(
                    value.span(),
                    "findings.value",
                    format!("`value` of check \"{check}\": {error}"),
                    error.hint(),
                );
                None
            }
        }
    }

    pub(super) fn shop(&mut self, root: &DeTable<'_>) -> Shop {
        let empty = DeTable::new();
        let table = self.table(root, "shop").unwrap_or(&empty);
        self.only_keys("shop", table, &SHOP_KEYS);
        let mut assumed = Vec::new();
        let currency = self.currency(table, &mut assumed);
        let usual = |minor| Money { minor, currency };
        let mut amount = |reader: &mut Self, key: &'static str, usual: Money, hourly: bool| match table.get(key) {
            Some(value) => reader.amount(&format!("shop.{key}"), value, currency, hourly).unwrap_or(usual),
            None => {
                assumed.push(key);
                usual
            }
        };
        let labour_rate = amount(self, "labour_rate", usual(USUAL_RATE_MINOR), true);
        let comeback_cost = amount(self, "comeback_cost", usual(USUAL_COMEBACK_MINOR), false);
        let horizon_runs = self.whole(table, "shop.horizon_runs", 1..=10_000).map_or_else(
            || {
                assumed.push("horizon_runs");
                USUAL_HORIZON_RUNS
            },
            f64::from,
        );
        let parts = self.parts(table, currency);
        Shop { currency, labour_rate, horizon_runs, comeback_cost, parts, assumed }
    }

    fn currency(&mut self, table: &DeTable<'_>, assumed: &mut Vec<&'static str>) -> Currency {
        let euro = Currency::EUR;
        let Some(value) = table.get("currency") else {
            assumed.push("currency");
            return euro;
        };
        value.get_ref().as_str().and_then(Currency::parse).unwrap_or_else(|| {
            let hint = "write three capital letters, such as \"EUR\"".to_owned();
            self.say(value.span(), "shop.currency", "`shop.currency` is no currency code".into(), hint);
            euro
        })
    }

    fn amount(&mut self, key: &str, value: &Spanned<DeValue<'_>>, currency: Currency, hourly: bool) -> Option<Money> {
        let example = format!("14.50 {currency}{}", if hourly { "/h" } else { "" });
        let read = if hourly { Money::parse_hourly } else { Money::parse };
        match value.get_ref().as_str().map(read) {
            Some(Ok(money)) if money.currency == currency => return Some(money),
            Some(Ok(money)) => {
                let message = format!("`{key}` is in {}, and the shop counts in {currency}", money.currency);
                self.say(value.span(), key, message, "use one currency throughout".into());
            }
            Some(Err(error)) => {
                let message = format!("`{key}`: `{}` is no amount", short(&error.text));
                self.say(value.span(), key, message, format!("write for example \"{example}\""));
            }
            None => {
                let message = format!("`{key}` is no text with an amount and a currency");
                self.say(value.span(), key, message, format!("write for example \"{example}\""));
            }
        }
        None
    }

    fn parts(&mut self, shop: &DeTable<'_>, currency: Currency) -> Vec<Part> {
        let entries = self.tables(shop, "parts");
        entries.into_iter().filter_map(|(span, table)| self.part(span, table, currency)).collect()
    }

    fn part(&mut self, span: Range<usize>, table: &DeTable<'_>, currency: Currency) -> Option<Part> {
        self.only_keys("shop.parts", table, &PART_KEYS);
        let name = table.get("part").and_then(|value| value.get_ref().as_str()).map(short);
        let (Some(name), Some(price)) = (name, table.get("price")) else {
            let hint = "write { part = \"spur 53\", price = \"16.90 EUR\" }".to_owned();
            self.say(span, "shop.parts", "an entry of `shop.parts` needs `part` and `price`".into(), hint);
            return None;
        };
        let price = self.amount("shop.parts.price", price, currency, false)?;
        let on_shelf = self.whole(table, "shop.parts.on_shelf", 0..=1_000_000);
        let lead_days = self.whole(table, "shop.parts.lead_days", 0..=1_000);
        Some(Part { name, price, on_shelf, lead_days })
    }

    /// A whole number at the last part of `key`, if it is there.
    fn whole(&mut self, table: &DeTable<'_>, key: &str, range: std::ops::RangeInclusive<u32>) -> Option<u32> {
        let value = table.get(key.rsplit('.').next().unwrap_or(key))?;
        let number = value.get_ref().as_integer().and_then(|int| u32::from_str_radix(int.as_str(), int.radix()).ok());
        let inside = number.filter(|number| range.contains(number));
        if inside.is_none() {
            let message = format!("`{key}` is no whole number from {} to {}", range.start(), range.end());
            self.say(value.span(), key, message, "write it without quotes and without a unit".into());
        }
        inside
    }

    /// The text at the last part of `key`, which must be one of `allowed`.
    fn words(&mut self, span: Range<usize>, table: &DeTable<'_>, key: &str, allowed: &[&str]) -> Option<String> {
        let field = key.rsplit('.').next().unwrap_or(key);
        match table.get(field).map(|value| (value.span(), value.get_ref().as_str())) {
            Some((_, Some(text))) if allowed.contains(&text) => return Some(text.to_owned()),
            Some((span, Some(text))) => {
                let near = nearest(text, allowed.iter().copied());
                let hint = match (near, allowed.len()) {
                    (Some(near), _) => format!("did you mean \"{near}\"?"),
                    (None, 0..=8) => format!("one of: {}", allowed.join(", ")),
                    (None, _) => "`toothsayer fault-book` lists them".into(),
                };
                self.say(span, key, format!("`{key}` is \"{}\", which is not known here", short(text)), hint);
            }
            Some((span, None)) => self.say(span, key, format!("`{key}` is no text"), "write it in quotes".into()),
            None => self.say(span, key, format!("a finding has no `{field}`"), "write check and answer".into()),
        }
        None
    }

    fn only_keys(&mut self, path: &str, table: &DeTable<'_>, known: &[&str]) {
        for key in table.keys().filter(|key| !known.contains(&key.get_ref().as_ref())) {
            self.unknown(&format!("{path}.{}", key.get_ref()), key.span(), known.iter().copied());
        }
    }

    /// The tables of the array `name`, with their places.
    fn tables<'t, 'i>(&mut self, root: &'t DeTable<'i>, name: &str) -> Vec<(Range<usize>, &'t DeTable<'i>)> {
        let Some(value) = root.get(name) else { return Vec::new() };
        let entries = match value.get_ref() {
            DeValue::Array(entries) => entries,
            _ => {
                let hint = format!("write [[{name}]] for each entry");
                self.say(value.span(), name, format!("`{name}` is no list of tables"), hint);
                return Vec::new();
            }
        };
        let mut tables = Vec::new();
        for entry in entries {
            match entry.get_ref().as_table() {
                Some(table) => tables.push((entry.span(), table)),
                None => {
                    self.say(entry.span(), name, format!("an entry of `{name}` is no table"), "write { ... }".into())
                }
            }
        }
        tables
    }
}
