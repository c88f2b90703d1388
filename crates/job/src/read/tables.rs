//! Walking the tables of a job file by the registry's keys.

use super::{Document, Reader};
use crate::sheet::{Fields, JointFields, Sheet};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toothsayer_fault_book::FaultBook;
use toothsayer_inputs as inputs;

/// Tables that lie over the built truck.
const LAYERS: [&str; 3] = ["stock", "found", "after"];

/// Tables that describe no state of the truck.
const OTHERS: [&str; 3] = ["job", "findings", "shop"];

impl Reader<'_> {
    pub(super) fn root(&mut self, root: &DeTable<'_>, complete: bool, book: &FaultBook) -> Document {
        let mut job = Fields::default();
        if let Some(table) = self.table(root, "job") {
            self.fields("job", table, &mut job);
        }
        let built = self.sheet(root, None);
        if complete {
            self.check_required(root, &built);
            self.check_pitch(&built, root);
        }
        let mut layer = |name: &str| {
            self.table(root, name).map(|table| {
                let sheet = self.sheet(table, Some(name));
                self.check_overlay(name, &sheet, &built, root);
                if name == "stock" {
                    let mut sold = built.clone();
                    sold.fields.lay(&sheet.fields);
                    self.check_pitch(&sold, table);
                }
                sheet
            })
        };
        let (stock, found, after) = (layer("stock"), layer("found"), layer("after"));
        let findings = self.findings(root, book);
        let shop = self.shop(root);
        let complaint = job.word("job.complaint").unwrap_or("check").to_owned();
        let runs_since_gears = job.number("job.runs_since_gears").unwrap_or(0.0);
        Document { built, stock, found, after, findings, shop, complaint, runs_since_gears }
    }

    /// The table `name` of `root`, if it is there and a table.
    pub(super) fn table<'t, 'i>(&mut self, root: &'t DeTable<'i>, name: &str) -> Option<&'t DeTable<'i>> {
        let value = root.get(name)?;
        let table = value.get_ref().as_table();
        if table.is_none() {
            self.say(
                value.span(),
                name,
                format!("`{name}` is no table"),
                format!("write [{name}] on a line of its own"),
            );
        }
        table
    }

    /// The tables of a state under `root`, which is the file itself or one of its layers.
    pub(super) fn sheet(&mut self, root: &DeTable<'_>, layer: Option<&str>) -> Sheet {
        let mut sheet = Sheet::default();
        for (key, value) in root {
            let name = key.get_ref().as_ref();
            let known_elsewhere = layer.is_none() && (LAYERS.contains(&name) || OTHERS.contains(&name));
            match value.get_ref() {
                _ if known_elsewhere => {}
                DeValue::Array(entries) if name == "joints" => {
                    for entry in entries {
                        self.joint(entry, layer, &mut sheet);
                    }
                }
                DeValue::Table(table) if is_section(name) && name != "joints" => {
                    self.fields(name, table, &mut sheet.fields);
                }
                _ if is_section(name) => self.not_a_section(name, value.span()),
                _ => {
                    let extra = if layer.is_none() { [&LAYERS[..], &OTHERS[..]].concat() } else { Vec::new() };
                    self.unknown(name, key.span(), sections().into_iter().chain(extra));
                }
            }
        }
        self.check_alternatives(&sheet, root, layer);
        self.check_mesh(&sheet, root);
        sheet
    }

    fn not_a_section(&mut self, name: &str, span: Range<usize>) {
        let header = if name == "joints" { "[[joints]]".to_owned() } else { format!("[{name}]") };
        self.say(
            span,
            name,
            format!("`{name}` is not written as a table"),
            format!("write {header} on a line of its own"),
        );
    }

    /// Every key of `table`, whose path is `path`.
    pub(super) fn fields(&mut self, path: &str, table: &DeTable<'_>, out: &mut Fields) {
        for (key, value) in table {
            let full = format!("{path}.{}", key.get_ref());
            if let Some(input) = inputs::find(&full) {
                self.value(input, value, out);
            } else if has_children(&full) {
                match value.get_ref().as_table() {
                    Some(inner) => self.fields(&full, inner, out),
                    None => self.say(
                        value.span(),
                        &full,
                        format!("`{full}` is no table"),
                        format!("write {} = {{ ... }}", key.get_ref()),
                    ),
                }
            } else {
                self.unknown(&full, key.span(), children(path));
            }
        }
    }

    fn joint(&mut self, entry: &Spanned<DeValue<'_>>, layer: Option<&str>, sheet: &mut Sheet) {
        let Some(table) = entry.get_ref().as_table() else {
            self.not_a_section("joints", entry.span());
            return;
        };
        let mut fields = Fields::default();
        self.fields("joints", table, &mut fields);
        let Some(name) = fields.word("joints.name").map(str::to_owned) else {
            if table.get("name").is_none() {
                let hint = "write name = \"motor to mount\"".to_owned();
                self.say(entry.span(), "joints.name", "a joint has no `name`".into(), hint);
            }
            return;
        };
        if layer.is_none() {
            self.check_joint(entry.span(), &name, table, &fields);
        }
        if sheet.joints.iter().any(|joint| joint.name == name) {
            let message = format!("two joints are named \"{name}\"");
            self.say(entry.span(), "joints.name", message, "give each joint a name of its own".into());
            return;
        }
        sheet.joints.push(JointFields { name, fields, free: false });
    }
}

/// The first parts of the registry's keys: the tables of a truck's state.
fn sections() -> Vec<&'static str> {
    let mut names: Vec<&str> = inputs::build_inputs().filter_map(|input| input.key.split('.').next()).collect();
    names.push("joints");
    names.dedup();
    names
}

fn is_section(name: &str) -> bool {
    sections().contains(&name)
}

fn has_children(path: &str) -> bool {
    inputs::all().any(|input| input.key.strip_prefix(path).is_some_and(|rest| rest.starts_with('.')))
}

/// The keys directly under `path`.
fn children(path: &str) -> Vec<&'static str> {
    let mut names: Vec<&str> =
        inputs::all().filter_map(|input| input.key.strip_prefix(path)?.strip_prefix('.')?.split('.').next()).collect();
    names.dedup();
    names
}
