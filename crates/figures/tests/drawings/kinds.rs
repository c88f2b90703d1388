//! Every kind of drawing of every example, in every width and look: labels stand clear, ids are their own.

use crate::builds::{changed, examples, extremes, stages};
use crate::gallery::{comeback_drawer, every_kind_of_a_state, every_kind_of_a_verdict};
use crate::read::check_texts;
use roxmltree::Document;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{Figure, Frame, Look};
use toothsayer_job::Job;
use toothsayer_quantity::System;

/// A phone, a page of A4, a desk, with the units of either system.
const FRAMES: [(f64, Look, System); 3] =
    [(320.0, Look::Page, System::Us), (700.0, Look::Print, System::Metric), (1280.0, Look::Dark, System::Metric)];

fn frames() -> Vec<Frame> {
    FRAMES.iter().map(|(width, look, system)| Frame::new(*width, *look, *system).unwrap()).collect()
}

/// Labels stand clear, every id is there once, and the figure says what it is.
#[track_caller]
fn check(name: &str, figure: &Figure) {
    check_texts(&figure.svg);
    let document = Document::parse(&figure.svg).unwrap();
    let root = document.root_element();
    let mut ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
    for label in root.attribute("aria-labelledby").unwrap().split(' ') {
        assert!(ids.contains(&label), "{name}, {}: {label}", figure.title);
    }
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "{name}, {}: an id is used twice", figure.title);
    assert!(figure.description.len() > figure.title.len(), "{name}, {}", figure.title);
    let numbers = figure.svg.replace("infinite", "");
    assert!(!numbers.contains("NaN") && !numbers.contains("inf"), "{name}, {}", figure.title);
}

/// Both galleries of a job.
fn everything(text: &str) -> Vec<Figure> {
    let job = Job::parse(text, FaultBook::built_in()).unwrap();
    let of_states = stages(text).into_iter().flat_map(|stage| every_kind_of_a_state(&stage, &frames()));
    every_kind_of_a_verdict(&job, &frames()).into_iter().chain(of_states).collect()
}

#[test]
fn every_kind_of_every_example_is_clear_and_complete() {
    for (name, text) in examples() {
        for figure in everything(&text) {
            check(&name, &figure);
        }
    }
}

#[test]
fn long_names_in_other_scripts_break_no_layout() {
    let long = "name = \"Tarnhorn Тарнхорн, очень длинное имя 作業台の大きな模型トラック Donaudampfschifffahrt<&>\"";
    let joint = "name = \"motor to mount, Schraubenverbindungsbezeichnungsungetüm 電動機 двигатель\"";
    for figure in everything(&changed(&[("name = \"Tarnhorn 6\"", long), ("name = \"motor to mount\"", joint)])) {
        check("long names", &figure);
    }
}

#[test]
fn every_kind_of_extreme_builds_is_clear_and_complete() {
    for (name, text) in extremes() {
        for figure in stages(&text).iter().flat_map(|stage| every_kind_of_a_state(stage, &frames())) {
            check(name, &figure);
        }
    }
    // The whole verdict of a truck whose gears do not meet: the furthest from what a chart expects.
    let (name, text) = extremes().into_iter().find(|(name, _)| *name == "opened by 4 mm").unwrap();
    for figure in everything(&text) {
        check(name, &figure);
    }
}

#[test]
fn comebacks_of_stripped_and_of_whole_trucks_are_clear() {
    for (name, text) in
        examples().into_iter().filter(|(name, _)| name.ends_with("tarnhorn.toml") || name.ends_with("-check.toml"))
    {
        let job = Job::parse(&text, FaultBook::built_in()).unwrap();
        comeback_drawer(&job, |draw| frames().iter().for_each(|frame| check(&name, &draw(frame))));
    }
}
