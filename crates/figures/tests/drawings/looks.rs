//! Text can be read in every look, and every figure says what it is.

use crate::builds::{bay_of, examples, stages};
use roxmltree::Document;
use toothsayer_figures::{Frame, Look, Role, contrast};
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
