//! Every kind of drawing of every example, in every width and look: labels stand clear, ids are their own.

use crate::builds::{changed, examples};
use crate::read::check_texts;
use roxmltree::Document;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{self as figures, BayScene, Comebacks, Figure, Frame, Look, Sweep};
use toothsayer_job::{Job, Setting, State};
use toothsayer_quantity::System;
use toothsayer_verdict::{LifeAsk, Memo, Verdict, life};

/// A phone, a page of A4, a desk, with the units of either system.
const FRAMES: [(f64, Look, System); 3] =
    [(320.0, Look::Page, System::Us), (700.0, Look::Print, System::Metric), (1280.0, Look::Dark, System::Metric)];

/// Every drawing that a verdict gives.
fn every_kind(job: &Job, frames: &[Frame]) -> Vec<Figure> {
    let memo = Memo::default();
    let verdict = Verdict::new(job, FaultBook::built_in(), &memo).unwrap();
    let margins = verdict.margins(None, &memo).unwrap();
    let stage = verdict.stage(State::Found).unwrap();
    let own = margins.iter().find(|margins| margins.state == stage.state).unwrap();
    let proposed = verdict.stage(State::Proposed).unwrap();
    let loaded = verdict.loaded(stage.state, &memo).unwrap();
    let ask = LifeAsk { horizon_runs: job.shop.horizon_runs, seed: 1 };
    let life = life(stage, &ask).unwrap();
    let truck = job.built.fields.word("truck.name").unwrap();
    let scenes = [stage, proposed]
        .map(|stage| BayScene { stage, margins: margins.iter().find(|margins| margins.state == stage.state) });
    let comebacks = Comebacks::new(&verdict, &memo).unwrap();
    let ends = ["40 %", "100 %"]
        .map(|share| Setting::parse(&format!("controller.brake_strength={share}"), &stage.sheet).unwrap());
    let (windows, horizon_runs) = (&verdict.windows, job.shop.horizon_runs);
    let swept = Sweep { stage, ends: [&ends[0], &ends[1]], windows, horizon_runs }.run(&memo).unwrap();
    let draw = |frame: &Frame| {
        vec![
            figures::gear_bay(&scenes[..1], frame).unwrap(),
            figures::gear_bay(&scenes, frame).unwrap(),
            figures::margins(truck, &[own, &margins[0]], frame).unwrap(),
            figures::causes(&verdict.diagnosis, frame).unwrap(),
            figures::tooth_force(truck, &loaded, own, frame).unwrap(),
            figures::price_and_comeback(&verdict, frame).unwrap(),
            figures::comeback_over_runs(&verdict, &comebacks, frame).unwrap(),
            figures::margins_against(truck, &swept, frame).unwrap(),
            figures::clamp_over_runs(truck, stage.state, &loaded, &verdict.windows, frame).unwrap(),
            figures::life_curves(truck, stage.state, &life, frame).unwrap(),
            figures::mesh_cycle(truck, stage, frame).unwrap(),
            figures::axial_stack(truck, stage, frame).unwrap(),
            figures::screw_map(truck, stage.state, &loaded, &verdict.windows, frame).unwrap(),
            figures::removal_map(truck, FaultBook::built_in(), &[], frame).unwrap(),
        ]
    };
    frames.iter().flat_map(draw).collect()
}

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
    assert!(figure.description.contains("Tarnhorn"), "{name}, {}", figure.title);
    let numbers = figure.svg.replace("infinite", "");
    assert!(!numbers.contains("NaN") && !numbers.contains("inf"), "{name}, {}", figure.title);
}

#[test]
fn every_kind_of_every_example_is_clear_and_complete() {
    for (name, text) in examples() {
        let job = Job::parse(&text, FaultBook::built_in()).unwrap();
        for figure in every_kind(&job, &frames()) {
            check(&name, &figure);
        }
    }
}

#[test]
fn long_names_in_other_scripts_break_no_layout() {
    let long = "name = \"Tarnhorn Тарнхорн, очень длинное имя 作業台の大きな模型トラック Donaudampfschifffahrt<&>\"";
    let joint = "name = \"motor to mount, Schraubenverbindungsbezeichnungsungetüm 電動機 двигатель\"";
    let text = changed(&[("name = \"Tarnhorn 6\"", long), ("name = \"motor to mount\"", joint)]);
    let job = Job::parse(&text, FaultBook::built_in()).unwrap();
    for figure in every_kind(&job, &frames()) {
        check("long names", &figure);
    }
}
