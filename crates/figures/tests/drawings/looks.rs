//! Text can be read in every look, and every figure says what it is.

use crate::builds::{bay_of, changed, examples, stages};
use crate::gallery::{state_drawers, verdict_drawers};
use crate::read::{number, texts};
use roxmltree::{Document, Node};
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{Figure, Frame, Look, Role, contrast};
use toothsayer_job::Job;
use toothsayer_quantity::System;

/// WCAG 2.2, success criterion 1.4.3: text against what lies behind it.
const TEXT_CONTRAST: f64 = 4.5;
/// Roles that text is written in.
const TEXTS: [Role; 6] = [Role::Ink, Role::Quiet, Role::Accent, Role::Bad, Role::Doubt, Role::Good];

#[test]
fn text_stands_out_from_its_paper_in_every_look() {
    for look in [Look::Light, Look::Dark, Look::Print] {
        for role in TEXTS {
            let got = contrast(role.colour(look), Role::Paper.colour(look)).unwrap();
            assert!(got >= TEXT_CONTRAST, "{role:?} in {look:?}: {got}");
        }
    }
}

/// What is filled and lies behind a text: its ends and its colour.
struct Patch<'a> {
    ends: [f64; 4],
    colour: &'a str,
}

fn patch<'a>(node: Node<'a, '_>) -> Option<Patch<'a>> {
    let colour = node.attribute("fill").filter(|fill| fill.starts_with('#'))?;
    let ends = match node.tag_name().name() {
        "rect" => {
            let (x, y) = (number(node, "x"), number(node, "y"));
            [x, y, x + number(node, "width"), y + number(node, "height")]
        }
        "circle" => {
            let (x, y, r) = (number(node, "cx"), number(node, "cy"), number(node, "r"));
            [x - r, y - r, x + r, y + r]
        }
        _ => return None,
    };
    Some(Patch { ends, colour })
}

/// Every text stands out from the last thing that was filled behind its middle.
#[track_caller]
fn check_contrast(figure: &Figure) {
    let document = Document::parse(&figure.svg).unwrap();
    let mut behind: Vec<Patch<'_>> = Vec::new();
    let mut boxes = texts(&document).into_iter();
    for node in document.descendants() {
        behind.extend(patch(node));
        if !node.has_tag_name("text") {
            continue;
        }
        let text = boxes.next().unwrap();
        let (x, y) = ((text.left + text.right) / 2.0, (text.top + text.bottom) / 2.0);
        let holds = |patch: &&Patch<'_>| {
            let [left, top, right, bottom] = patch.ends;
            (left..=right).contains(&x) && (top..=bottom).contains(&y)
        };
        let paper = behind.iter().rev().find(holds).unwrap().colour;
        let got = contrast(node.attribute("fill").unwrap(), paper).unwrap();
        assert!(got >= TEXT_CONTRAST, "{}: \"{}\" has {got} on {paper}", figure.title, text.text);
    }
}

#[test]
fn every_drawn_text_stands_out_from_what_lies_behind_it() {
    for look in [Look::Light, Look::Dark, Look::Print] {
        let frame = Frame::new(700.0, look, System::Metric).unwrap();
        let job = Job::parse(&changed(&[]), FaultBook::built_in()).unwrap();
        verdict_drawers(&job, |draw| check_contrast(&draw(&frame)));
        state_drawers(&stages(&changed(&[]))[0], |draw| check_contrast(&draw(&frame)));
    }
}

#[test]
fn contrast_is_that_of_the_guidelines() {
    // WCAG 2.2, definition of contrast ratio: black on white is 21:1; #767676 is the darkest grey that fails 4.5 by
    // no more than a step (widely published, from memory).
    assert!((contrast("#000000", "#ffffff").unwrap() - 21.0).abs() < 1e-9);
    assert!((contrast("#767676", "#ffffff").unwrap() - 4.54).abs() < 0.01);
    assert_eq!(contrast("red", "#ffffff"), None);
}

#[test]
fn a_figure_has_a_title_a_description_and_ids_that_are_its_own() {
    for (name, text) in examples() {
        let figure = bay_of(&stages(&text)[0], 700.0);
        let document = Document::parse(&figure.svg).unwrap();
        let root = document.root_element();
        assert_eq!(root.attribute("role"), Some("img"), "{name}");
        let mut ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
        for label in root.attribute("aria-labelledby").unwrap().split(' ') {
            assert!(ids.contains(&label), "{name}: {label}");
        }
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "{name}: an id is used twice");
        assert!(figure.description.contains("backlash"), "{name}");
    }
}

#[test]
fn a_sheet_of_no_sensible_width_is_refused() {
    for width in [0.0, 319.9, 2400.1, f64::NAN, f64::INFINITY] {
        assert!(Frame::new(width, Look::Page, System::Metric).is_err(), "{width}");
    }
}
