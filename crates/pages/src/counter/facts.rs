//! The five facts as a form: what a truck must be known by before anything can be computed.

use crate::page::html::{Html, tag};
use crate::page::shell::{choice, field, hidden, input};
use crate::page::typed::{decimal_comma, refusal};
use serde::Deserialize;
use toothsayer_inputs::find;
use toothsayer_job::{Draft, FiveFacts, Layer, Place, classes};
use toothsayer_quantity::{Kind, parse};

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

/// The pitch of the gears has a key for either way to tell it.
const PITCH: [&str; 2] = ["gears.module", "gears.diametral_pitch"];

fn place(key: &str) -> Option<Place<'static>> {
    find(key).map(|input| Place { layer: Layer::Built, joint: None, input })
}

/// A fact that is a quantity: what it is called, what it measures, and how it is written.
type Row<'a> = (&'static str, &'a String, &'static [Kind], &'static str);

impl Facts {
    /// The facts of a truck of this name, or everything that is wrong with them. Ranges are checked where job files are read.
    pub(crate) fn told(&self, name: &str) -> Result<FiveFacts, Vec<String>> {
        let facts = self.tidied();
        let mut wrong: Vec<String> = facts.quantities().into_iter().filter_map(unread).collect();
        let mut count = |what: &str, text: &str| {
            let number = text.parse::<u32>();
            number.unwrap_or_else(|_| {
                wrong.push(match text {
                    "" => format!("{what} is missing."),
                    _ => format!("{what}: “{text}” is no whole number."),
                });
                0
            })
        };
        let (cells, teeth) = (
            count("Cells in series", &facts.cells),
            [count("Teeth of the pinion", &facts.pinion), count("Teeth of the spur", &facts.spur)],
        );
        if !wrong.is_empty() {
            return Err(wrong);
        }
        Ok(FiveFacts {
            name: Some(name.to_owned()),
            start: Some(facts.start).filter(|start| !start.is_empty()),
            mass: facts.mass,
            cells,
            kv: Some(facts.kv),
            can: None,
            teeth,
            pitch: facts.pitch,
            wheel: [facts.wheel, facts.wheel_mass],
        })
    }

    /// As the bench writes them: a comma that is surely a decimal point, "7S" for seven cells, a bare Kv, which has one unit
    /// alone.
    fn tidied(&self) -> Self {
        let text = |text: &str| decimal_comma(text.trim()).into_owned();
        let kv = text(&self.kv);
        let cells = self.cells.trim();
        Self {
            start: self.start.clone(),
            mass: text(&self.mass),
            cells: cells.strip_suffix(['S', 's']).unwrap_or(cells).trim().to_owned(),
            kv: if kv.parse::<f64>().is_ok() { format!("{kv} rpm/V") } else { kv },
            pinion: text(&self.pinion),
            spur: text(&self.spur),
            pitch: text(&self.pitch),
            wheel: text(&self.wheel),
            wheel_mass: text(&self.wheel_mass),
        }
    }

    fn quantities(&self) -> [Row<'_>; 5] {
        [
            ("Mass ready to run", &self.mass, &[Kind::Mass], "10.4 kg or 23 lb"),
            ("Motor Kv", &self.kv, &[Kind::MotorConstant], "980 rpm/V"),
            (
                "Module or pitch",
                &self.pitch,
                &[Kind::Length, Kind::PerLength],
                "1 mm (a module) or 32 1/in (teeth an inch)",
            ),
            ("Wheel's diameter", &self.wheel, &[Kind::Length], "188 mm or 7.4 in"),
            ("Wheel's mass", &self.wheel_mass, &[Kind::Mass], "410 g or 14.5 oz"),
        ]
    }

    /// What of it stands in a truck's tables already.
    pub(crate) fn of_truck(draft: &Draft) -> Self {
        let told = |key: &str| place(key).and_then(|place| draft.typed(place)).unwrap_or_default();
        let mut facts = Self::default();
        facts.keyed().into_iter().for_each(|(key, text)| *text = told(key));
        let [module, pitch] = PITCH.map(told);
        Self { pitch: if module.is_empty() { pitch } else { module }, ..facts }
    }

    /// Lays what was typed over a truck's tables; what was left empty stays as it is there.
    pub(crate) fn laid_over(&self, draft: &mut Draft) {
        let mut facts = self.tidied();
        let pitch = std::mem::take(&mut facts.pitch);
        let typed = facts.keyed().into_iter().filter(|(_, text)| !text.is_empty());
        let mut set: Vec<(&str, String)> = typed.map(|(key, text)| (key, std::mem::take(text))).collect();
        if !pitch.is_empty() {
            // One stands in the place of the other.
            let per_inch = pitch.contains("1/");
            let [module, teeth] = if per_inch { [String::new(), pitch] } else { [pitch, String::new()] };
            set.extend(PITCH.into_iter().zip([module, teeth]));
        }
        for (key, text) in &set {
            if let Some(place) = place(key) {
                draft.set(place, text);
            }
        }
    }

    /// Every fact but the pitch with the key that it has in a job file.
    fn keyed(&mut self) -> [(&'static str, &mut String); 8] {
        let Self { start, mass, cells, kv, pinion, spur, pitch: _, wheel, wheel_mass } = self;
        [
            ("truck.start", start),
            ("truck.mass", mass),
            ("battery.cells", cells),
            ("motor.kv", kv),
            ("gears.pinion.teeth", pinion),
            ("gears.spur.teeth", spur),
            ("wheels.diameter", wheel),
            ("wheels.mass", wheel_mass),
        ]
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
                field("Mass ready to run", text("mass", &self.mass, "10.4 kg"), "With battery; kg or lb."),
                field("Cells in series", count("cells", &self.cells), ""),
                field("Motor Kv", text("kv", &self.kv, "980 rpm/V"), "On its label."),
                field("Teeth of the pinion", count("pinion", &self.pinion), ""),
                field("Teeth of the spur", count("spur", &self.spur), ""),
                field("Module or pitch", text("pitch", &self.pitch, "1 mm"), "1 mm, or 32 1/in."),
                field("Wheel's diameter", text("wheel", &self.wheel, "188 mm"), "With tyre; mm or in."),
                field("Wheel's mass", text("wheel_mass", &self.wheel_mass, "410 g"), "One wheel with tyre; g or oz."),
                field("Class", choice("start", &starts, &self.start), "What nobody measured is taken from it."),
            ])
            .into()
    }
}

/// What is wrong with a quantity; none where it is one.
fn unread((what, text, kinds, example): Row<'_>) -> Option<String> {
    if text.is_empty() {
        return Some(format!("{what} is missing: such as {example}."));
    }
    if text.parse::<f64>().is_ok() {
        return Some(format!("{what}: “{text}” has no unit. Write it such as {example}."));
    }
    let mut refusals = Vec::new();
    for kind in kinds {
        match parse(*kind, text) {
            Ok(_) => return None,
            Err(error) => refusals.push(refusal(&error.to_string(), &error.hint())),
        }
    }
    let told = refusals.first().map_or("", String::as_str);
    Some(format!("{what}: {told} Write it such as {example}."))
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
        check(|facts| facts.mass = "WWWW".into(), "10.4 kg");
        check(|facts| facts.pitch = "32".into(), "32 1/in");
        check(|facts| facts.spur.clear(), "Teeth of the spur is missing");
    }

    #[test]
    fn facts_are_read_as_the_bench_writes_them() {
        let typed = Facts { mass: "10,4 kg".into(), cells: "7S".into(), kv: "980".into(), ..facts() };
        assert_eq!(typed.told("Tarnhorn 6"), facts().told("Tarnhorn 6"));
    }

    #[test]
    fn what_was_typed_is_laid_over_a_truck_and_the_rest_stays() {
        let text =
            format!("{}[driveline]\nstiffness = \"36 N*m/rad\"\n", facts().told("Tarnhorn 6").unwrap().to_toml());
        let mut draft = Draft::parse(&text).unwrap();
        assert_eq!(Facts::of_truck(&draft).told("Tarnhorn 6"), facts().told("Tarnhorn 6"));
        Facts { wheel: "220 mm".into(), pitch: "24 1/in".into(), ..Facts::default() }.laid_over(&mut draft);
        let now = Facts::of_truck(&draft);
        assert_eq!(
            (now.wheel.as_str(), now.pitch.as_str(), now.mass.as_str()),
            ("220 mm", "24 1/in", "10.4 kg"),
            "{draft}"
        );
        assert!(
            draft.to_string().contains("stiffness = \"36 N*m/rad\"") && !draft.to_string().contains("module"),
            "{draft}"
        );
    }
}
