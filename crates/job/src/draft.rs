//! A job file as a draft: one value after another read and changed as people type them, all else left as it stands.

use crate::begin::joint_entry;
use crate::sheet::JointFields;
use std::fmt;
use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value, value};
use toothsayer_inputs::{Form, Input};
use toothsayer_quantity::Kind;

/// Which state of the truck a value tells of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// The truck as built: the file's own tables.
    Built,
    /// As sold, where the owner changed it.
    Stock,
    /// As measured when it came.
    Found,
    /// As measured when the work was done.
    After,
}

impl Layer {
    /// The table that holds the state's tables; none for the file itself.
    pub fn table(self) -> Option<&'static str> {
        match self {
            Self::Built => None,
            Self::Stock => Some("stock"),
            Self::Found => Some("found"),
            Self::After => Some("after"),
        }
    }
}

/// Where a value stands in a job file.
#[derive(Clone, Copy, Debug)]
pub struct Place<'a> {
    /// The state that it tells of.
    pub layer: Layer,
    /// The joint's name, for a value of a joint.
    pub joint: Option<&'a str>,
    /// What it is.
    pub input: &'static Input,
}

/// A job file under change. What it says is checked where job files are read, not here.
#[derive(Clone, Debug)]
pub struct Draft(DocumentMut);

impl Draft {
    /// Reads a file's text.
    ///
    /// # Errors
    /// The text is no TOML: what is wrong, with its place.
    pub fn parse(text: &str) -> Result<Self, String> {
        text.parse().map(Self).map_err(|error: toml_edit::TomlError| error.to_string())
    }

    /// The value as a person would type it: "36.05 mm", "22.3 mm ± 0.15 mm", "0.8 m (0.2 m to 2 m)", "yes"; none where
    /// the file says nothing, or only what is assumed.
    pub fn typed(&self, place: Place<'_>) -> Option<String> {
        let root: &dyn TableLike = match place.layer.table() {
            Some(name) => self.0.get(name)?.as_table_like()?,
            None => self.0.as_table(),
        };
        let (mut table, path) = match place.joint {
            Some(name) => (joint(root.get("joints")?, name)?, place.input.field()),
            None => (root, place.input.key),
        };
        let (inner, field) = path.rsplit_once('.').unwrap_or(("", path));
        for step in inner.split('.').filter(|step| !step.is_empty()) {
            table = table.get(step)?.as_table_like()?;
        }
        spelled(table.get(field)?)
    }

    /// Puts a value where it belongs, as it was typed; nothing typed takes it away.
    pub fn set(&mut self, place: Place<'_>, typed: &str) {
        let root = self.0.as_table_mut();
        let root = match place.layer.table() {
            Some(name) => match table_in(root, name) {
                Some(table) => table,
                None => return,
            },
            None => root,
        };
        match place.joint {
            Some(name) => {
                if let Some(joint) = joint_in(root, name) {
                    put(joint, place.input.field(), place.input, typed);
                }
            }
            None => put(root, place.input.key, place.input, typed),
        }
        if let Some(name) = place.layer.table()
            && self.0.get(name).and_then(Item::as_table_like).is_some_and(|table| table.is_empty())
        {
            self.0.remove(name);
        }
    }

    /// Whether the file itself tells of a joint.
    pub fn tells_of_joint(&self, name: &str) -> bool {
        self.0.get("joints").is_some_and(|joints| joint(joints, name).is_some())
    }

    /// Writes down a joint that was assumed whole, so that one of its values can be told.
    pub fn take_on(&mut self, assumed: &JointFields) {
        let entry = joint_entry(assumed).parse::<DocumentMut>().ok();
        let entry = entry.and_then(|mut file| file.remove("joints")).and_then(|item| item.into_array_of_tables().ok());
        let Some(entry) = entry.and_then(|entries| entries.get(0).cloned()) else { return };
        if let Some(tables) = joints_of(self.0.as_table_mut()) {
            tables.push(entry);
        }
    }
}

impl fmt::Display for Draft {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// The entry of this name among `[[joints]]`, or among a list of `{ ... }`.
fn joint<'a>(joints: &'a Item, name: &str) -> Option<&'a dyn TableLike> {
    let is = |table: &dyn TableLike| table.get("name").and_then(Item::as_str) == Some(name);
    if let Some(tables) = joints.as_array_of_tables() {
        return tables.iter().map(|table| table as &dyn TableLike).find(|table| is(*table));
    }
    let tables = joints.as_array()?.iter().filter_map(Value::as_inline_table);
    tables.map(|table| table as &dyn TableLike).find(|table| is(*table))
}

/// The list of joints, as `[[joints]]` however it was written; none where the file has something else there.
fn joints_of(root: &mut dyn TableLike) -> Option<&mut ArrayOfTables> {
    let item = root.entry("joints").or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    if !item.is_array_of_tables() {
        *item = Item::ArrayOfTables(std::mem::take(item).into_array_of_tables().ok()?);
    }
    item.as_array_of_tables_mut()
}

/// The joint of this name, made where it is not there.
fn joint_in<'a>(root: &'a mut dyn TableLike, name: &str) -> Option<&'a mut dyn TableLike> {
    let tables = joints_of(root)?;
    let there = tables.iter().position(|table| table.get("name").and_then(Item::as_str) == Some(name));
    let place = there.unwrap_or_else(|| {
        let mut new = Table::new();
        new.insert("name", value(name));
        tables.push(new);
        tables.len() - 1
    });
    tables.get_mut(place).map(|table| table as &mut dyn TableLike)
}

/// The table of this name, made where it is not there; none where something else stands there.
fn table_in<'a>(table: &'a mut dyn TableLike, name: &str) -> Option<&'a mut dyn TableLike> {
    let made = || {
        let mut made = Table::new();
        made.set_implicit(true);
        Item::Table(made)
    };
    table.entry(name).or_insert_with(made).as_table_like_mut()
}

/// Puts or takes away the value at a dotted path; a table that is left empty goes with it.
fn put(table: &mut dyn TableLike, path: &str, input: &Input, typed: &str) {
    let Some((first, rest)) = path.split_once('.') else {
        match typed.trim() {
            "" => {
                table.remove(path);
            }
            typed => {
                table.insert(path, Item::Value(read(input, typed)));
            }
        }
        return;
    };
    if let Some(inner) = table_in(table, first) {
        put(inner, rest, input, typed);
    }
    if table.get(first).and_then(Item::as_table_like).is_some_and(|inner| inner.is_empty()) {
        table.remove(first);
    }
}

/// A value of the file as it is typed.
fn spelled(item: &Item) -> Option<String> {
    let Some(table) = item.as_table_like() else { return word(item) };
    if table.contains_key("from") {
        return None;
    }
    let part = |key: &str| table.get(key).and_then(word);
    let middle = part("value")?;
    match (part("plus_minus"), part("low"), part("high")) {
        (Some(off), ..) => Some(format!("{middle} ± {off}")),
        (_, Some(low), Some(high)) => Some(format!("{middle} ({low} to {high})")),
        _ => Some(middle),
    }
}

fn word(item: &Item) -> Option<String> {
    match item.as_value()? {
        Value::String(text) => Some(text.value().clone()),
        Value::Integer(number) => Some(number.value().to_string()),
        Value::Float(number) => Some(number.value().to_string()),
        Value::Boolean(flag) => Some(if *flag.value() { "yes" } else { "no" }.to_owned()),
        _ => None,
    }
}

/// What was typed as a value of the file.
fn read(input: &Input, typed: &str) -> Value {
    let range = |pairs: &[(&str, &str)]| {
        Value::InlineTable(pairs.iter().map(|(key, text)| (*key, plain(input, text))).collect::<InlineTable>())
    };
    if !input.is_number() {
        return plain(input, typed);
    }
    if let Some((middle, off)) = typed.split_once('±').or_else(|| typed.split_once("+-")) {
        return range(&[("value", middle), ("plus_minus", off)]);
    }
    let ends = typed.strip_suffix(')').and_then(|text| text.split_once('('));
    match ends.and_then(|(middle, ends)| Some((middle, ends.split_once(" to ")?))) {
        Some((middle, (low, high))) => range(&[("value", middle), ("low", low), ("high", high)]),
        None => plain(input, typed),
    }
}

/// One number or word; what is none stays text, and is refused with its reason where the file is read.
fn plain(input: &Input, typed: &str) -> Value {
    let typed = typed.trim();
    let number = match input.form {
        Form::Flag => {
            [("yes", true), ("no", false)].into_iter().find(|(word, _)| *word == typed).map(|(_, is)| is.into())
        }
        Form::Count => typed.parse::<i64>().ok().map(Value::from),
        Form::Quantity(Kind::Number) => {
            typed.replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite()).map(Value::from)
        }
        _ => None,
    };
    number.unwrap_or_else(|| typed.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use toothsayer_inputs::find;

    const FILE: &str = "\
# the bench's own words stay
[truck]
mass = \"10.4 kg\"
[gears]
module = \"1 mm\"
pinion = { teeth = 19, shift = 0.0 }
[stack]
cover_bearing = { value = \"22.3 mm\", plus_minus = \"0.15 mm\" }
[motor]
resistance = { value = \"14 mohm\", low = \"7 mohm\", high = \"30 mohm\", from = \"estimate\" }
[[joints]]
name = \"motor to mount\"
torque = \"3.4 N*m\"
washer = true
";

    fn at(layer: Layer, joint: Option<&'static str>, key: &str) -> Place<'static> {
        Place { layer, joint, input: find(key).unwrap() }
    }

    #[track_caller]
    fn reads(key: &str, joint: Option<&'static str>, typed: Option<&str>) {
        assert_eq!(Draft::parse(FILE).unwrap().typed(at(Layer::Built, joint, key)).as_deref(), typed, "{key}");
    }

    #[test]
    fn values_are_told_as_people_type_them() {
        reads("truck.mass", None, Some("10.4 kg"));
        reads("gears.pinion.teeth", None, Some("19"));
        reads("stack.cover_bearing", None, Some("22.3 mm ± 0.15 mm"));
        reads("motor.resistance", None, None);
        reads("gears.spur.teeth", None, None);
        reads("joints.torque", Some("motor to mount"), Some("3.4 N*m"));
        reads("joints.washer", Some("motor to mount"), Some("yes"));
        reads("joints.torque", Some("another"), None);
    }

    #[track_caller]
    fn sets(place: Place<'static>, typed: &str, line: &str) {
        let mut draft = Draft::parse(FILE).unwrap();
        draft.set(place, typed);
        let text = draft.to_string();
        assert!(text.contains(line) && text.contains("# the bench's own words stay"), "{typed}: {text}");
        assert_eq!(draft.typed(place).as_deref(), Some(typed), "{text}");
        draft.set(place, "");
        assert_eq!(draft.typed(place), None, "{draft}");
    }

    #[test]
    fn values_are_put_where_they_belong() {
        sets(at(Layer::Built, None, "gears.spur.teeth"), "53", "teeth = 53");
        sets(at(Layer::Built, None, "gears.pinion.shift"), "0.25", "shift = 0.25");
        sets(at(Layer::Built, None, "driveline.stiffness"), "36 N*m/rad", "[driveline]\nstiffness = \"36 N*m/rad\"");
        sets(at(Layer::After, None, "gears.backlash"), "0.1 mm", "[after.gears]\nbacklash = \"0.1 mm\"");
        sets(at(Layer::Built, None, "driver.drop_height"), "0.8 m (0.2 m to 2 m)", "low = \"0.2 m\", high = \"2 m\"");
        sets(at(Layer::Built, None, "stack.spacer"), "4 mm ± 0.1 mm", "plus_minus = \"0.1 mm\"");
        sets(at(Layer::Built, Some("motor to mount"), "joints.washer"), "no", "washer = false");
        sets(at(Layer::Stock, Some("motor to mount"), "joints.torque"), "3 N*m", "[[stock.joints]]");
        sets(at(Layer::Built, None, "gears.spur.teeth"), "many", "teeth = \"many\"");
    }

    #[test]
    fn a_table_that_is_left_empty_goes() {
        let mut draft = Draft::parse(FILE).unwrap();
        let place = at(Layer::After, None, "gears.backlash");
        draft.set(place, "0.1 mm");
        draft.set(place, "");
        assert_eq!(draft.to_string(), FILE);
    }

    #[test]
    fn joints_in_one_line_are_found_and_changed() {
        let mut draft = Draft::parse("joints = [{ name = \"a\", torque = \"1 N*m\" }]\n").unwrap();
        let place = at(Layer::Built, Some("a"), "joints.torque");
        draft.set(place, "2 N*m");
        assert_eq!(draft.typed(place).as_deref(), Some("2 N*m"), "{draft}");
    }

    #[test]
    fn an_assumed_joint_is_written_down_whole() {
        let mass = "[truck]\nmass = \"10.4 kg\"\n[battery]\ncells = 7\n[motor]\nkv = \"980 rpm/V\"\n";
        let rest = "[gears]\nmodule = \"1 mm\"\npinion.teeth = 19\nspur.teeth = 53\n[wheels]\ndiameter = \"188 mm\"\nmass = \"410 g\"\n";
        let text = format!("{mass}{rest}");
        let book = toothsayer_fault_book::FaultBook::built_in();
        let job = crate::Job::parse(&text, book).unwrap();
        let mut draft = Draft::parse(&text).unwrap();
        let assumed = &job.built.joints[0];
        assert!(!draft.tells_of_joint(&assumed.name));
        draft.take_on(assumed);
        assert!(draft.tells_of_joint(&assumed.name));
        let again = crate::Job::parse(&draft.to_string(), book).unwrap();
        assert_eq!(again.built.joints.len(), job.built.joints.len());
        let screws = |job: &crate::Job| {
            job.built.joints.iter().find(|one| one.name == assumed.name).unwrap().fields.number("joints.screws")
        };
        assert_eq!(screws(&again), screws(&job));
    }
}
