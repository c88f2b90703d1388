//! The book, or one entry with its neighbours, as a graph in the DOT language of Graphviz.

use crate::failure::Failure;
use std::collections::BTreeSet;
use std::fmt::Write;
use toothsayer_fault_book::FaultBook;

/// An arrow: from, to, what is written at it.
type Arrow<'a> = (&'a str, &'a str, String);

/// Causes as boxes, modes as hexagons, findings as ellipses, steps as notes; arrows with their chances.
pub(super) fn graph(book: &FaultBook, entry: Option<&str>) -> Result<String, Failure> {
    let all = arrows(book);
    let kept: Vec<&Arrow<'_>> =
        all.iter().filter(|(from, to, _)| entry.is_none_or(|id| *from == id || *to == id)).collect();
    if kept.is_empty() {
        let hint = "`toothsayer fault-book` lists the entries".to_owned();
        return Err(Failure::usage(format!("the book has no arrow at \"{}\"", entry.unwrap_or_default()), hint));
    }
    let named: BTreeSet<&str> = kept.iter().flat_map(|(from, to, _)| [*from, *to]).collect();
    let mut dot = String::from("digraph fault_book {\n  rankdir = LR;\n");
    let mut node = |id: &str, label: &str, shape: &str| {
        if named.contains(id) {
            let _ = writeln!(dot, "  \"{}\" [label = \"{}\", shape = {shape}];", quoted(id), quoted(label));
        }
    };
    book.causes().iter().for_each(|cause| node(&cause.id, &cause.name, "box"));
    book.modes().iter().for_each(|mode| node(&mode.id, &mode.name, "hexagon"));
    book.findings().iter().for_each(|check| node(&check.id, &check.question, "ellipse"));
    book.steps().iter().for_each(|step| node(&step.id, &step.name, "note"));
    for (from, to, label) in kept {
        let _ = writeln!(dot, "  \"{}\" -> \"{}\" [label = \"{}\"];", quoted(from), quoted(to), quoted(label));
    }
    dot.push_str("}\n");
    Ok(dot)
}

fn arrows(book: &FaultBook) -> Vec<Arrow<'_>> {
    let mut arrows = Vec::new();
    for cause in book.causes() {
        let links = cause.modes.iter().chain(&cause.findings);
        arrows.extend(links.map(|(to, p)| (cause.id.as_str(), to.as_str(), p.to_string())));
        arrows.extend(cause.cured_by.iter().map(|step| (cause.id.as_str(), step.as_str(), "cured by".to_owned())));
    }
    for check in book.findings() {
        arrows.extend(check.modes.iter().map(|(mode, p)| (mode.as_str(), check.id.as_str(), p.to_string())));
    }
    arrows
}

fn quoted(text: &str) -> String {
    text.replace('\\', "\\\\").replace('"', "\\\"")
}
