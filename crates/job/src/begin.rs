//! A complete job file from five facts, every assumed value with its range and how to measure it.

use crate::job::Job;
use crate::sheet::{Entry, Fields, JointFields, Origin, Word};
use std::fmt::Write as _;
use toothsayer_inputs::{DRIVER_ROWS, Form, Input, JOINT_ROWS, build_inputs};
use toothsayer_quantity::{Kind, Unit, digits};

/// The five facts, as a person writes them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FiveFacts {
    /// The truck's name, if it has one.
    pub name: Option<String>,
    /// Its class, if it is to be named.
    pub start: Option<String>,
    /// Mass ready to run ("10.4 kg").
    pub mass: String,
    /// Lithium cells in series.
    pub cells: u32,
    /// Kv ("980 rpm/V"), if the label can be read.
    pub kv: Option<String>,
    /// Diameter and length of the can ("56 mm x 100 mm") otherwise.
    pub can: Option<[String; 2]>,
    /// Teeth of pinion and spur.
    pub teeth: [u32; 2],
    /// Module ("1 mm") or diametral pitch ("32 1/in").
    pub pitch: String,
    /// Diameter and mass of a wheel ("188 mm", "410 g").
    pub wheel: [String; 2],
}

impl FiveFacts {
    /// The facts as a job file.
    pub fn to_toml(&self) -> String {
        let mut text = String::from("[truck]\n");
        let mut line = |key: &str, value: &str| {
            let _ = writeln!(text, "{key} = {}", quoted(value));
        };
        line("name", self.name.as_deref().unwrap_or("truck"));
        if let Some(start) = &self.start {
            line("start", start);
        }
        line("mass", &self.mass);
        let _ = write!(text, "[battery]\ncells = {}\n[motor]\n", self.cells);
        if let Some(kv) = &self.kv {
            let _ = writeln!(text, "kv = {}", quoted(kv));
        }
        if let Some([diameter, length]) = &self.can {
            let _ = writeln!(text, "can_diameter = {}\ncan_length = {}", quoted(diameter), quoted(length));
        }
        let pitch_key =
            if self.pitch.contains("mm") && !self.pitch.contains("1/") { "module" } else { "diametral_pitch" };
        let [pinion, spur] = self.teeth;
        let _ = write!(
            text,
            "[gears]\n{pitch_key} = {}\npinion.teeth = {pinion}\nspur.teeth = {spur}\n[wheels]\ndiameter = {}\nmass = {}\n",
            quoted(&self.pitch),
            quoted(&self.wheel[0]),
            quoted(&self.wheel[1])
        );
        text
    }
}

/// The whole job as a file: what is given, and every assumed value with its range and how to measure it.
pub fn begin(job: &Job) -> String {
    let mut out = String::from(
        "# A job file: give what you know, measure what narrows the verdict, leave the rest.\n\
         # Values with `from` are assumed; put a measured value in their place, such as mass = \"10.4 kg\".\n\n",
    );
    let _ = writeln!(
        out,
        "[job]\ncomplaint = \"{}\"   # stripped, stripped-again, noise, check, change-wanted, season-end",
        job.complaint
    );
    let _ = writeln!(out, "runs_since_gears = {}", digits(job.runs_since_gears));
    let mut open = "";
    let driver: Vec<&str> = DRIVER_ROWS.iter().map(|input| input.key).collect();
    for input in build_inputs().filter(|input| !driver.contains(&input.key)) {
        table_row(&mut out, &mut open, input, &job.built.fields);
    }
    job.built.joints.iter().for_each(|joint| out.push_str(&joint_entry(joint)));
    for input in DRIVER_ROWS {
        table_row(&mut out, &mut open, input, &job.built.fields);
    }
    out.push_str("\n# [[findings]]            # what was seen: `toothsayer fault-book` lists the checks\n# check = \"motor-rocks\"\n# answer = \"yes\"\n# value = \"0.45 mm\"\n");
    out
}

/// A joint as an entry of the file.
pub(crate) fn joint_entry(joint: &JointFields) -> String {
    let mut out = format!("\n[[joints]]\nname = {}\n", quoted(&joint.name));
    for input in JOINT_ROWS.iter().filter(|input| input.key != "joints.name") {
        row(&mut out, input.field(), input, &joint.fields);
    }
    out
}

/// One value under its table's heading, which is opened when it changes.
fn table_row<'a>(out: &mut String, open: &mut &'a str, input: &'a Input, fields: &Fields) {
    if !fields.has(input.key) || (input.key == "gears.backlash" && fields.has("gears.centre_distance")) {
        return;
    }
    let (table, field) = input.key.rsplit_once('.').unwrap_or(("", input.key));
    if *open != table {
        let _ = write!(out, "\n[{table}]\n");
        *open = table;
    }
    row(out, field, input, fields);
}

fn row(out: &mut String, field: &str, input: &Input, fields: &Fields) {
    let (value, origin) = match (fields.numbers.get(input.key), fields.words.get(input.key)) {
        (Some(entry), _) => (number(input, entry), &entry.origin),
        (None, Some(Word { text, origin })) => (quoted(text), origin),
        (None, None) => return,
    };
    let _ = write!(out, "{field} = {value}");
    let hint = match (origin.is_assumed(), input.measure) {
        (true, "") => input.help,
        (true, how) => how,
        (false, _) => "",
    };
    let comment = if hint.is_empty() { String::new() } else { format!("   # {hint}") };
    let _ = writeln!(out, "{comment}");
}

/// A number as the file writes it; assumed ones always as a range.
fn number(input: &Input, entry: &Entry) -> String {
    if input.form == Form::Flag {
        return (entry.value > 0.0).to_string();
    }
    if !entry.origin.is_assumed() && !entry.has_spread() {
        return written(input, entry.value);
    }
    let from = match &entry.origin {
        origin if origin.is_assumed() => format!(", from = {}", quoted(&from_words(origin))),
        _ => String::new(),
    };
    let [value, low, high] = [entry.value, entry.low, entry.high].map(|si| written(input, si));
    format!("{{ value = {value}, low = {low}, high = {high}{from} }}")
}

fn from_words(origin: &Origin) -> String {
    origin.to_string()
}

/// Six digits in the usual unit: more than any bench can measure.
fn written(input: &Input, si: f64) -> String {
    match (input.form, usual_unit(input.kind(), si)) {
        (Form::Count, _) => format!("{}", si.round()),
        (_, None) => six_digits(si),
        (_, Some(unit)) => format!("\"{} {}\"", six_digits(unit.from_si(si)), unit.symbol),
    }
}

fn usual_unit(kind: Kind, si: f64) -> Option<&'static Unit> {
    let small = match kind {
        Kind::Mass if si.abs() < 1.0 => Some("g"),
        Kind::Time if si.abs() < 1.0 => Some("ms"),
        Kind::Time if si.abs() >= 120.0 => Some("min"),
        _ => None,
    };
    small.and_then(Unit::find).or_else(|| Unit::of_kind(kind).next())
}

fn six_digits(value: f64) -> String {
    let rounded: f64 = format!("{value:.5e}").parse().unwrap_or(value);
    format!("{rounded}")
}

fn quoted(text: &str) -> String {
    let escaped: String = text
        .chars()
        .flat_map(|letter| match letter {
            '"' | '\\' => vec!['\\', letter],
            control if control.is_control() => vec![' '],
            other => vec![other],
        })
        .collect();
    format!("\"{escaped}\"")
}
