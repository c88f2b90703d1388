//! One node whose table is a noisy-OR of its parents, beside a table of joint triggers; split where it grows too large.

use super::Names;
use std::fmt::Write;

/// Most parents of a node: its table has two columns and a row for each of their states, 4096 with twelve.
const MOST_PARENTS: usize = 12;
/// Parents of each node that a larger one is split into.
const PART: usize = 4;

/// A parent that alone turns the node on with this probability.
#[derive(Clone)]
pub(super) struct Parent {
    pub name: String,
    pub probability: f64,
}

impl Parent {
    /// One that turns it on for sure.
    pub fn sure(name: &str) -> Parent {
        Parent { name: name.to_owned(), probability: 1.0 }
    }
}

/// P(no | parents) = (1 - leak) (1 - q(S)) prod over present parents (1 - p), S the present ones of the table's parents.
pub(super) struct NoisyOr<'a> {
    pub name: &'a str,
    pub leak: f64,
    pub parents: Vec<Parent>,
    /// Parents whose joint effect is tabulated, by bit.
    pub table_parents: Vec<String>,
    /// q(S), or nothing.
    pub table: &'a [f64],
}

impl<'a> NoisyOr<'a> {
    /// A node without parents.
    pub fn leaf(name: &'a str, leak: f64) -> Self {
        Self { name, leak, parents: vec![], table_parents: vec![], table: &[] }
    }

    /// Writes the node, and before it those that it is split into.
    pub fn write(self, names: &mut Names, file: &mut String) {
        if self.all().len() <= MOST_PARENTS {
            return self.write_whole(file);
        }
        let (inside, outside): (Vec<Parent>, Vec<Parent>) =
            self.parents.into_iter().partition(|parent| self.table_parents.contains(&parent.name));
        let mut part = 0;
        let mut name = || {
            part += 1;
            names.give(&format!("{}__{part}", self.name))
        };
        let mut parts: Vec<String> = Vec::new();
        if !self.table_parents.is_empty() {
            let part = name();
            let table = NoisyOr { name: &part, leak: 0.0, parents: inside, table_parents: self.table_parents, ..self };
            table.write_whole(file);
            parts.push(part);
        }
        for parents in outside.chunks(PART) {
            let part = name();
            NoisyOr { parents: parents.to_vec(), ..NoisyOr::leaf(&part, 0.0) }.write_whole(file);
            parts.push(part);
        }
        NoisyOr {
            parents: parts.iter().map(|part| Parent::sure(part)).collect(),
            ..NoisyOr::leaf(self.name, self.leak)
        }
        .write(names, file);
    }

    /// Every parent once, those of the table first and in its order.
    fn all(&self) -> Vec<&str> {
        let mut all: Vec<&str> = self.table_parents.iter().map(String::as_str).collect();
        let others = self.parents.iter().map(|parent| parent.name.as_str());
        all.extend(others.filter(|name| !self.table_parents.iter().any(|other| other == name)));
        all
    }

    fn write_whole(&self, file: &mut String) {
        let all = self.all();
        let _ = writeln!(file, "variable {} {{\n  type discrete [ 2 ] {{ no, yes }};\n}}", self.name);
        if all.is_empty() {
            let _ = writeln!(file, "probability ( {} ) {{\n  table {};\n}}", self.name, columns(1.0 - self.leak));
            return;
        }
        let _ = writeln!(file, "probability ( {} | {} ) {{", self.name, all.join(", "));
        for row in 0..1_usize << all.len() {
            let states: Vec<&str> = (0..all.len()).map(|bit| if row >> bit & 1 == 1 { "yes" } else { "no" }).collect();
            let _ = writeln!(file, "  ({}) {};", states.join(", "), columns(self.no(row, &all)));
        }
        file.push_str("}\n");
    }

    /// P(no) where the parents of the row's bits are present.
    fn no(&self, row: usize, all: &[&str]) -> f64 {
        let table = self.table.get(row & ((1 << self.table_parents.len()) - 1)).copied().unwrap_or(0.0);
        let present =
            |parent: &&Parent| all.iter().position(|name| *name == parent.name).is_some_and(|b| row >> b & 1 == 1);
        let off = self.parents.iter().filter(present).map(|parent| 1.0 - parent.probability);
        off.fold((1.0 - self.leak) * (1.0 - table), |no, off| no * off)
    }
}

fn columns(no: f64) -> String {
    format!("{no}, {}", 1.0 - no)
}
