//! A drawing is there at once when the verdict is: nobody at a bench waits for a picture.

use crate::builds::{changed, stages};
use crate::gallery::{Draw, state_drawers, verdict_drawers};
use std::time::{Duration, Instant};
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{Frame, Look};
use toothsayer_job::Job;
use toothsayer_quantity::System;

/// What a drawing may take after the verdict.
const AT_ONCE: Duration = Duration::from_millis(50);
/// Tries of which one has to do: other work on the machine slows a try, nothing speeds one up.
const TRIES: usize = 100;

#[track_caller]
fn check(frame: &Frame, draw: Draw<'_>) {
    let timed = |_| {
        let start = Instant::now();
        let figure = draw(frame);
        (start.elapsed(), figure)
    };
    let done = (0..TRIES).map(timed).find(|(took, _)| *took < AT_ONCE);
    assert!(done.is_some(), "\"{}\" was never drawn within {AT_ONCE:?}", draw(frame).title);
}

#[test]
fn every_kind_is_drawn_at_once() {
    let job = Job::parse(&changed(&[]), FaultBook::built_in()).unwrap();
    let frame = Frame::new(1280.0, Look::Page, System::Metric).unwrap();
    verdict_drawers(&job, |draw| check(&frame, draw));
    state_drawers(&stages(&changed(&[]))[0], |draw| check(&frame, draw));
}
