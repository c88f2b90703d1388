//! Reading what concerns a build: changes, decisions, measurements, with their quantities.

use super::entry::{Entry, near_or_all};
use crate::model::{Above, Change, Decision, Measured};
use toothsayer_quantity::{Kind, parse};

/// What a finding or a cause may set free.
pub(crate) const FREED: [&str; 4] = ["motor", "mount", "input shaft", "pinion"];

impl Entry<'_, '_, '_> {
    fn kind(&self, key: &'static str, input: &str) -> Option<Kind> {
        let kind = toothsayer_inputs::find(input).map(toothsayer_inputs::Input::kind);
        if kind.is_none() {
            let byte = self.get(key).map_or(self.byte, |value| value.span().start);
            let all: Vec<&str> = toothsayer_inputs::all().map(|input| input.key).collect();
            let near = toothsayer_quantity::nearest(input, all).map(|near| format!("did you mean `{near}`?"));
            let hint = near.unwrap_or_else(|| "inputs are named as in a job file".into());
            self.say(byte, format!("`{input}` is no input of a build"), hint);
        }
        kind
    }

    fn quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        let text = self.text_if(key)?;
        let byte = self.get(key).map_or(self.byte, |value| value.span().start);
        match parse(kind, &text) {
            Ok(reading) => Some(reading.si),
            Err(error) => {
                self.say(byte, format!("`{}{key}`: {error}", self.prefix), error.hint());
                None
            }
        }
    }

    fn quantity_needed(&self, key: &'static str, kind: Kind) -> Option<f64> {
        if self.get(key).is_none() {
            self.say(self.byte, format!("a change has no `{key}`"), format!("add `{key}`"));
        }
        self.quantity(key, kind)
    }

    /// What a `frees` names.
    pub(crate) fn freed(&self) -> Option<String> {
        let named: Vec<(&str, &str)> = FREED.iter().map(|word| (*word, *word)).collect();
        self.word("frees", &named).map(str::to_owned)
    }

    /// Changes of a build under `key`.
    pub(crate) fn changes(&self, key: &'static str) -> Vec<Change> {
        self.tables(key).iter().filter_map(Self::change).collect()
    }

    fn change(&self) -> Option<Change> {
        let change = if let Some(input) = self.text_if("set") {
            let kind = self.kind("set", &input)?;
            self.quantity_needed("to", kind).map(|to_si| Change::Set { input, to_si })
        } else if let Some(input) = self.text_if("add") {
            let kind = self.kind("add", &input)?;
            let read = ["amount", "low", "high"].map(|key| self.quantity_needed(key, kind));
            let [Some(amount_si), Some(low), Some(high)] = read else { return None };
            if !(low <= amount_si && amount_si <= high) {
                self.say(self.byte, format!("`{input}` grows outside its own `low` to `high`"), "order them".into());
            }
            Some(Change::Add { input, amount_si, low, high })
        } else if let Some(input) = self.text_if("scale") {
            self.kind("scale", &input)?;
            Some(Change::Scale { input, by: self.number("by") })
        } else if let Some(input) = self.text_if("usual") {
            self.kind("usual", &input).map(|_| Change::Usual { input })
        } else if self.get("frees").is_some() {
            self.freed().map(|carries| Change::Frees { carries })
        } else {
            let hint = "write `set`, `add`, `scale`, `usual` or `frees`".to_owned();
            self.say(self.byte, format!("`{}` says no change", self.prefix.trim_end_matches('.')), hint);
            return None;
        };
        self.finish();
        change
    }

    /// The conditions of `decided_by`, any of which decides.
    pub(crate) fn decisions(&self) -> Vec<Decision> {
        self.tables("decided_by").iter().filter_map(Self::decision).collect()
    }

    fn decision(&self) -> Option<Decision> {
        let input = self.text("input");
        let kind = self.kind("input", &input)?;
        let limits = [
            self.quantity("above", kind).map(Above::Value),
            self.number_if("above_usual").map(Above::Usual),
            self.text_if("above_input").and_then(|other| {
                self.kind("above_input", &other)?;
                Some(Above::Other { input: other, factor: self.number_if("times").unwrap_or(1.0) })
            }),
        ];
        self.finish();
        let mut given = limits.into_iter().flatten();
        match (given.next(), given.next()) {
            (Some(above), None) => Some(Decision { input, above }),
            _ => {
                let hint = "write one of `above`, `above_usual`, `above_input`".to_owned();
                self.say(self.byte, format!("`decided_by` of `{input}` needs one limit"), hint);
                None
            }
        }
    }

    /// What a measurement sets.
    pub(crate) fn measured(&self) -> Option<Measured> {
        let value = self.inner("value", self.get("value")?)?;
        let input = value.text("input");
        let adds = value.word("op", &[("set", false), ("add", true)]);
        let kind = value.kind("input", &input)?;
        let yes_above = value.quantity("yes_above", kind);
        value.finish();
        if adds.is_none() && value.get("op").is_none() {
            self.say(value.byte, "`value` has no `op`".into(), "write op = \"set\" or op = \"add\"".into());
        }
        Some(Measured { input, kind, adds: adds?, yes_above })
    }

    /// A joint by what it carries.
    pub(crate) fn tightened(&self) -> Option<String> {
        let carries = self.text_if("tightens")?;
        if !toothsayer_inputs::CARRIED.contains(&carries.as_str()) {
            let hint = near_or_all(&carries, toothsayer_inputs::CARRIED);
            let byte = self.get("tightens").map_or(self.byte, |value| value.span().start);
            self.say(byte, format!("no joint carries the \"{carries}\""), hint);
        }
        Some(carries)
    }
}
