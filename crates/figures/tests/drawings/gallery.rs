//! Every kind of drawing that a verdict gives.

use std::sync::LazyLock;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{self as figures, BayScene, Comebacks, Figure, Frame, Sweep};
use toothsayer_job::{Job, Setting, State};
use toothsayer_verdict::{LifeAsk, Loaded, Memo, Staged, Verdict, life, windows};

/// Simulations, shared by every test of this binary.
static MEMO: LazyLock<Memo> = LazyLock::new(Memo::default);

/// One kind of drawing, ready to be drawn.
pub type Draw<'a> = &'a dyn Fn(&Frame) -> Figure;

/// Every drawing that a state gives by itself.
pub fn every_kind_of_a_state(stage: &Staged, frames: &[Frame]) -> Vec<Figure> {
    let mut gallery = Vec::new();
    state_drawers(stage, |draw| gallery.extend(frames.iter().map(draw)));
    gallery
}

/// Every drawing that a verdict gives.
pub fn every_kind_of_a_verdict(job: &Job, frames: &[Frame]) -> Vec<Figure> {
    let mut gallery = Vec::new();
    verdict_drawers(job, |draw| gallery.extend(frames.iter().map(draw)));
    gallery
}

/// Shows every kind of drawing of a state.
pub fn state_drawers(stage: &Staged, mut see: impl FnMut(Draw<'_>)) {
    let memo = &*MEMO;
    let loaded = Loaded::new(&stage.sheet, stage.run_in, memo).unwrap();
    let windows = windows(&loaded).unwrap();
    let truck = stage.sheet.fields.word("truck.name").unwrap();
    see(&|frame| figures::gear_bay(&[BayScene { stage, margins: None }], frame).unwrap());
    see(&|frame| figures::mesh_cycle(truck, stage, frame).unwrap());
    see(&|frame| figures::axial_stack(truck, stage, frame).unwrap());
    see(&|frame| figures::screw_map(truck, stage.state, &loaded, &windows, frame).unwrap());
    see(&|frame| figures::removal_map(truck, FaultBook::built_in(), &[], frame).unwrap());
}

/// Shows every kind of drawing of a verdict.
pub fn verdict_drawers(job: &Job, mut see: impl FnMut(Draw<'_>)) {
    let memo = &*MEMO;
    let verdict = Verdict::new(job, FaultBook::built_in(), memo).unwrap();
    let margins = verdict.margins(None, memo).unwrap();
    let stage = verdict.stage(State::Found).unwrap();
    let own = margins.iter().find(|margins| margins.state == stage.state).unwrap();
    let proposed = verdict.stage(State::Proposed).unwrap();
    let loaded = verdict.loaded(stage.state, memo).unwrap();
    let ask = LifeAsk { horizon_runs: job.shop.horizon_runs, seed: 1 };
    let life = life(stage, &ask).unwrap();
    let truck = job.built.fields.word("truck.name").unwrap();
    let scenes = [stage, proposed]
        .map(|stage| BayScene { stage, margins: margins.iter().find(|margins| margins.state == stage.state) });
    let first = verdict.diagnosis.ranked()[0].id.clone();
    let explanation = verdict.diagnosis.explain(&first).unwrap();
    let ends = ["40 %", "100 %"]
        .map(|share| Setting::parse(&format!("controller.brake_strength={share}"), &stage.sheet).unwrap());
    let (windows, horizon_runs) = (&verdict.windows, job.shop.horizon_runs);
    let swept = Sweep { stage, ends: [&ends[0], &ends[1]], windows, horizon_runs }.run(memo).unwrap();
    see(&|frame| figures::gear_bay(&scenes, frame).unwrap());
    see(&|frame| figures::margins(truck, &[own, &margins[0]], frame).unwrap());
    see(&|frame| figures::causes(&verdict.diagnosis, frame).unwrap());
    see(&|frame| figures::cause_evidence(&explanation, &verdict.diagnosis, frame).unwrap());
    see(&|frame| figures::tooth_force(truck, &loaded, own, frame).unwrap());
    see(&|frame| figures::price_and_comeback(&verdict, frame).unwrap());
    see(&|frame| figures::margins_against(truck, &swept, frame).unwrap());
    see(&|frame| figures::clamp_over_runs(truck, stage.state, &loaded, &verdict.windows, frame).unwrap());
    see(&|frame| figures::life_curves(truck, stage.state, &life, frame).unwrap());
}

/// Shows the comeback over runs, which weighs the causes once more for every number of runs.
pub fn comeback_drawer(job: &Job, mut see: impl FnMut(Draw<'_>)) {
    let verdict = Verdict::new(job, FaultBook::built_in(), &MEMO).unwrap();
    let comebacks = Comebacks::new(&verdict, &MEMO).unwrap();
    see(&|frame| figures::comeback_over_runs(&verdict, &comebacks, frame).unwrap());
}
