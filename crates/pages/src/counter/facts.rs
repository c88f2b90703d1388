//! The five facts as a form: what a truck must be known by before anything can be computed.

use crate::page::html::{Html, tag};
use crate::page::shell::{choice, field, hidden, input};
use serde::Deserialize;
use toothsayer_job::{FiveFacts, classes};

/// The form's fields, as they were typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Facts {
    /// The class; empty where the mass decides.
    pub start: String,
    /// "10.4 kg"
    pub mass: String,
    /// "7"
    pub cells: String,
    /// "980 rpm/V"
    pub kv: String,
    /// "19"
    pub pinion: String,
    /// "53"
    pub spur: String,
    /// "1 mm" or "32 1/in"
    pub pitch: String,
    /// "188 mm"
    pub wheel: String,
    /// "410 g"
    pub wheel_mass: String,
}

impl Facts {
    /// The facts of a truck of this name, or what is missing. Everything else is checked where job files are read.
    pub(crate) fn told(&self, name: &str) -> Result<FiveFacts, Vec<String>> {
        let mut wrong = Vec::new();
        let mut count = |what: &str, text: &str| {
            let number = text.trim().parse::<u32>();
            number.unwrap_or_else(|_| {
                wrong.push(format!("{what}: “{text}” is no whole number."));
                0
            })
        };
        let (cells, teeth) = (
            count("Cells in series", &self.cells),
            [count("Teeth of the pinion", &self.pinion), count("Teeth of the spur", &self.spur)],
        );
        let texts = [
            ("Mass ready to run", &self.mass),
            ("Kv", &self.kv),
            ("Module or pitch", &self.pitch),
            ("Wheel's diameter", &self.wheel),
            ("Wheel's mass", &self.wheel_mass),
        ];
        for (what, text) in texts {
            if text.trim().is_empty() {
                wrong.push(format!("{what} is missing."));
            } else if text.trim().parse::<f64>().is_ok() {
                wrong.push(format!("{what}: “{text}” has no unit."));
            }
        }
        let facts = FiveFacts {
            name: Some(name.to_owned()),
            start: Some(self.start.clone()).filter(|start| !start.is_empty()),
            mass: self.mass.clone(),
            cells,
            kv: Some(self.kv.clone()),
            can: None,
            teeth,
            pitch: self.pitch.clone(),
            wheel: [self.wheel.clone(), self.wheel_mass.clone()],
        };
        if wrong.is_empty() { Ok(facts) } else { Err(wrong) }
    }

    /// Every field with its name.
    fn named(&self) -> [(&'static str, &String); 9] {
        [
            ("start", &self.start),
            ("mass", &self.mass),
            ("cells", &self.cells),
            ("kv", &self.kv),
            ("pinion", &self.pinion),
            ("spur", &self.spur),
            ("pitch", &self.pitch),
            ("wheel", &self.wheel),
            ("wheel_mass", &self.wheel_mass),
        ]
    }

    /// Whether nothing was typed.
    pub(crate) fn is_empty(&self) -> bool {
        self.named().iter().all(|(_, text)| text.trim().is_empty())
    }

    /// What was typed, as hidden fields of another form.
    pub(crate) fn hidden(&self) -> Vec<Html> {
        self.named().into_iter().filter(|(_, text)| !text.is_empty()).map(|(name, text)| hidden(name, text)).collect()
    }

    /// The fields.
    pub(crate) fn fields(&self) -> Html {
        let mut starts = vec![(String::new(), "by its mass".to_owned())];
        starts.extend(classes().iter().map(|class| (class.name.clone(), class.name.clone())));
        let text = |name: &'static str, value: &str, example: &'static str| {
            input("text", name).with("value", value).with("placeholder", example).with("autocomplete", "off")
        };
        let count = |name: &'static str, value: &str| text(name, value, "").with("inputmode", "numeric");
        tag("div")
            .class("grid")
            .all([
                field("Class", choice("start", &starts, &self.start), "What nobody measured is taken from it."),
                field("Mass ready to run", text("mass", &self.mass, "10.4 kg"), "With battery. kg or lb."),
                field("Cells in series", count("cells", &self.cells), ""),
                field("Motor Kv", text("kv", &self.kv, "980 rpm/V"), "On its label."),
                field("Teeth of the pinion", count("pinion", &self.pinion), ""),
                field("Teeth of the spur", count("spur", &self.spur), ""),
                field("Module or pitch", text("pitch", &self.pitch, "1 mm"), "1 mm, or 32 1/in."),
                field("Wheel's diameter", text("wheel", &self.wheel, "188 mm"), "With tyre."),
                field("Wheel's mass", text("wheel_mass", &self.wheel_mass, "410 g"), "One wheel with tyre."),
            ])
            .into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts() -> Facts {
        let text = str::to_owned;
        Facts {
            start: String::new(),
            mass: text("10.4 kg"),
            cells: text("7"),
            kv: text("980 rpm/V"),
            pinion: text("19"),
            spur: text("53"),
            pitch: text("1 mm"),
            wheel: text("188 mm"),
            wheel_mass: text("410 g"),
        }
    }

    #[track_caller]
    fn check(change: impl Fn(&mut Facts), told: &str) {
        let mut facts = facts();
        change(&mut facts);
        let wrong = facts.told("Tarnhorn 6").unwrap_err();
        assert!(wrong.len() == 1 && wrong[0].contains(told), "{wrong:?}");
    }

    #[test]
    fn five_facts_make_a_job_file() {
        let text = facts().told("Tarnhorn 6").unwrap().to_toml();
        assert!(toothsayer_job::Job::parse(&text, toothsayer_fault_book::FaultBook::built_in()).is_ok(), "{text}");
    }

    #[test]
    fn what_is_missing_is_named() {
        check(|facts| facts.cells = "many".into(), "Cells in series");
        check(|facts| facts.mass = "10.4".into(), "no unit");
        check(|facts| facts.wheel_mass.clear(), "Wheel's mass is missing");
    }
}
