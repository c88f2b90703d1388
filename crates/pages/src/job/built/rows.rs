//! The fields of the build's form: every value by its table, what was told in it, and below it what is assumed and how to measure.

use crate::job::built::typed::{Typed, inputs, joint_inputs, joints, name_of};
use crate::page::html::{Html, Tag, tag};
use crate::page::shell::{choice, field, input as box_of};
use crate::page::words::sentence;
use toothsayer_inputs::{Absent, Form, Input};
use toothsayer_job::{Draft, Fields, Job as JobFile, JointFields, Layer, Place, names};
use toothsayer_quantity::System;
use toothsayer_report::words::value;

/// The tables in the order of the load's way, with their names.
const TABLES: [(&str, &str); 12] = [
    ("gears", "Gears"),
    ("stack", "Along the motor's shaft"),
    ("set_screw", "Set screw"),
    ("support", "Outer bearing of the motor's shaft"),
    ("motor", "Motor"),
    ("controller", "Speed controller"),
    ("battery", "Battery"),
    ("driveline", "Driveline"),
    ("wheels", "Wheels"),
    ("suspension", "Suspension"),
    ("truck", "The truck as a whole"),
    ("driver", "How it is driven, in a run"),
];

/// The fields of one state.
pub(super) struct Rows<'a> {
    /// The file, as told.
    pub draft: &'a Draft,
    /// The same with what is assumed.
    pub file: &'a JobFile,
    /// Which state.
    pub layer: Layer,
    /// The units that the shop sees.
    pub system: System,
    /// What was typed and could not be kept.
    pub typed: Option<&'a Typed>,
}

impl Rows<'_> {
    /// A fold for each table, then one for each joint.
    pub(super) fn html(&self) -> Html {
        let tables = TABLES.iter().map(|(table, name)| {
            let own = inputs(self.layer).filter(|input| input.key.split('.').next() == Some(table));
            let places: Vec<Place<'_>> = own.map(|input| Place { layer: self.layer, joint: None, input }).collect();
            self.fold(table, name, &places, self.fields(), "")
        });
        let joints = joints(self.file, self.draft, self.layer).enumerate().map(|(at, joint)| self.joint(at, joint));
        Html::of(tables.chain(joints))
    }

    /// What stands where nothing is told.
    fn fields(&self) -> &Fields {
        match self.layer {
            Layer::Built | Layer::After => &self.file.built.fields,
            Layer::Stock => &self.file.stock.fields,
            Layer::Found => &self.file.as_it_came().fields,
        }
    }

    fn joint(&self, at: usize, joint: &JointFields) -> Html {
        let places: Vec<Place<'_>> =
            joint_inputs().map(|input| Place { layer: self.layer, joint: Some(&joint.name), input }).collect();
        let about = match self.draft.tells_of_joint(&joint.name) {
            true => "",
            false => {
                "This joint is the class's. With anything that you tell here its size and materials count as told too: look at them."
            }
        };
        self.fold(&format!("joint-{at}"), &format!("Joint: {}", joint.name), &places, &joint.fields, about)
    }

    fn fold(&self, id: &str, name: &str, places: &[Place<'_>], stands: &Fields, about: &str) -> Html {
        let told = places.iter().filter(|place| self.draft.typed(**place).is_some()).count();
        let count = format!("{told} of {} told", places.len());
        let is_open = self.typed.is_some_and(|typed| places.iter().any(|place| self.differs(typed, place)));
        let summary = tag("summary").hold(tag("h3").say(name)).hold(tag("span").class("small").say(&count));
        let about = if about.is_empty() { Html::default() } else { tag("p").class("small").say(about).into() };
        // What a plain truck leaves empty comes last.
        let is_rare = |place: &&Place<'_>| place.input.absent == Absent::Nothing && self.draft.typed(**place).is_none();
        let (rare, usual): (Vec<&Place<'_>>, Vec<&Place<'_>>) = places.iter().partition(is_rare);
        let fields = usual.into_iter().chain(rare).map(|place| self.row(place, stands));
        let grid = tag("div").class("grid").all(fields);
        let keep = tag("p").class("actions").hold(tag("button").say("Keep what is told"));
        let inside = [about, grid.into(), keep.into()];
        tag("details").class("check").with("id", id).flag("open", is_open).hold(summary).all(inside).into()
    }

    fn differs(&self, typed: &Typed, place: &Place<'_>) -> bool {
        typed.get(&name_of(place)).is_some_and(|new| new != self.draft.typed(*place).unwrap_or_default())
    }

    fn row(&self, place: &Place<'_>, stands: &Fields) -> Html {
        let name = name_of(place);
        let told = self.draft.typed(*place);
        let now = match self.typed.and_then(|typed| typed.get(&name)) {
            Some(typed) => typed.to_owned(),
            None => told.clone().unwrap_or_default(),
        };
        let assumed = if told.is_some() { None } else { assumed(place.input, stands, self.system) };
        let hint = [assumed, Some(how(place.input))].into_iter().flatten().filter(|part| !part.is_empty());
        let hint = hint.collect::<Vec<_>>().join(" ");
        field(&sentence(place.input.help), entry(place.input, &name, &now), &hint)
    }
}

/// The field to type or choose in.
fn entry(input: &Input, name: &str, now: &str) -> Tag {
    let choose = |words: &[&str]| {
        let mut options = vec![(String::new(), "not told".to_owned())];
        options.extend(words.iter().map(|word| ((*word).to_owned(), (*word).to_owned())));
        // A word that the catalogue lost stays to be seen.
        if !now.is_empty() && !words.contains(&now) {
            options.push((now.to_owned(), now.to_owned()));
        }
        options
    };
    match input.form {
        Form::Flag => choice(name, &choose(&["yes", "no"]), now),
        Form::Word(words) => choice(name, &choose(words), now),
        Form::Name(catalogue) => choice(name, &choose(&names(catalogue)), now),
        Form::Quantity(_) | Form::Count | Form::Text => {
            let mode = if input.form == Form::Count { "numeric" } else { "text" };
            box_of("text", name).with("value", now).with("inputmode", mode).with("autocomplete", "off")
        }
    }
}

/// "Assumed 36 N·m/rad (15 to 100 N·m/rad): class 1/6 electric 4WD, no source."
fn assumed(input: &Input, stands: &Fields, system: System) -> Option<String> {
    let needed = (input.absent == Absent::Required).then(|| "Needed.".to_owned());
    if let Some(entry) = stands.numbers.get(input.key) {
        let shown = |si: f64| match input.form {
            Form::Flag => if si > 0.0 { "yes" } else { "no" }.to_owned(),
            _ => value(input.kind(), si, system),
        };
        let range = match entry.has_spread() {
            true => format!(" ({} to {})", shown(entry.low), shown(entry.high)),
            false => String::new(),
        };
        let word = if entry.origin.is_assumed() { "Assumed" } else { "Now" };
        return Some(format!("{word} {}{range}: {}.", shown(entry.value), entry.origin));
    }
    stands.words.get(input.key).map(|word| format!("Assumed {}: {}.", word.text, word.origin)).or(needed)
}

fn how(input: &Input) -> String {
    if input.measure.is_empty() { String::new() } else { format!("{}.", sentence(input.measure)) }
}
