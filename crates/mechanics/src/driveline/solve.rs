//! The solver: events side by side in lanes, each from step to step at its own pace.
//!
//! Every lane takes the same operations on its own numbers: its own truck, branches, step width and formula. What is rare
//! (a branch that ends, a peak that rises) is looked at lane by lane. A lane whose event is over takes the next one.

use pulp::{Arch, NullaryFnOnce, Scalar, Simd, WithSimd};

use super::DrivelineError;
use super::lanes::{Lanes, PerLane};
use super::outcome::Outcome;
use super::run::{Fate, Run};
use super::wide::Wide;

/// [`Wide::take`] with the instructions that the processor has.
struct Take<'a, S: Simd>(&'a mut Wide<Lanes<S>>);

impl<S: Simd> NullaryFnOnce for Take<'_, S> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        self.0.take();
    }
}

/// [`Wide::advance`] with the instructions that the processor has.
struct Advance<'a, S: Simd>(&'a mut Wide<Lanes<S>>);

impl<S: Simd> NullaryFnOnce for Advance<'_, S> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        self.0.advance();
    }
}

/// Where runs come from and their results go.
pub(super) trait Queue {
    /// The next run for a lane, with the number that its result is told by.
    fn next(&mut self) -> Option<(usize, Run)>;

    /// Takes a result; gives the run that follows it in the same lane.
    fn done(&mut self, number: usize, result: Result<Outcome, DrivelineError>) -> Option<Run>;
}

/// Runs a queue in as many lanes as the processor has.
pub(super) fn run_wide(queue: &mut impl Queue) {
    Arch::new().dispatch(Through(queue));
}

/// Runs a queue in a single lane.
pub(super) fn run_single(queue: &mut impl Queue) {
    run(Scalar, queue);
}

/// [`run`] on a processor's lanes.
struct Through<'a, Q>(&'a mut Q);

impl<Q: Queue> WithSimd for Through<'_, Q> {
    type Output = ();

    fn with_simd<S: Simd>(self, simd: S) {
        run(simd, self.0);
    }
}

/// A run under way with its number; none where the lane is idle.
type Seat = Option<(usize, Run)>;

/// Runs a queue to its end.
fn run<S: Simd>(simd: S, queue: &mut impl Queue) {
    let mut wide = Box::new(Wide::filled(Lanes::all(simd, 0.0)));
    let mut seats: Vec<Seat> = (0..Lanes::<S>::COUNT).map(|_| None).collect();
    let mut fates = vec![Fate::Retaken; seats.len()];
    loop {
        for (lane, seat) in seats.iter_mut().enumerate() {
            prepare(&mut wide, seat, lane, queue);
        }
        if seats.iter().all(Option::is_none) {
            return;
        }
        simd.vectorize(Take(&mut wide));
        for ((lane, seat), fate) in seats.iter_mut().enumerate().zip(&mut fates) {
            *fate = seat.as_mut().map_or(Fate::Retaken, |(_, run)| judge(&mut wide, run, lane));
            wide.advances.put(lane, &f64::from(u8::from(*fate == Fate::Advances)));
        }
        simd.vectorize(Advance(&mut wide));
        for ((lane, seat), fate) in seats.iter_mut().enumerate().zip(&fates) {
            if let Some((_, run)) = seat {
                arrive(&mut wide, run, lane, *fate);
            }
        }
    }
}

/// Sees to it that a lane has a step to take, with the next run where its own is over or given up.
fn prepare<S: Simd>(wide: &mut Wide<Lanes<S>>, seat: &mut Seat, lane: usize, queue: &mut impl Queue) {
    loop {
        let Some((_, run)) = seat else {
            let Some((number, mut run)) = queue.next() else { return };
            wide.seat(lane, &mut run);
            *seat = Some((number, run));
            continue;
        };
        let step = if run.is_over() { None } else { Some(run.next_step()) };
        if let Some(Ok(next)) = step {
            wide.prepare(lane, next);
            return;
        }
        let Some((number, run)) = seat.take() else { return };
        let result = match step {
            Some(Err(error)) => Err(error),
            _ => Ok(run.outcome(&wide.state(lane), &wide.sums.map(|sum| sum.lane(lane)))),
        };
        wide.width_s.put(lane, &0.0);
        if let Some(mut run) = queue.done(number, result) {
            wide.seat(lane, &mut run);
            *seat = Some((number, run));
        }
    }
}

fn judge<S: Simd>(wide: &mut Wide<Lanes<S>>, run: &mut Run, lane: usize) -> Fate {
    let look = wide.look(lane);
    let fate = run.judge(&look, wide.width_s.lane(lane), || wide.glance(lane), || wide.step.lane(lane));
    wide.last_error.put(lane, &run.last_error);
    if look.rises {
        wide.peaks.put(lane, &run.record.peaks.map(|peak| peak.force_n));
    }
    fate
}

/// What is due where a step has come to its end, or was stopped by a change of branch.
fn arrive<S: Simd>(wide: &mut Wide<Lanes<S>>, run: &mut Run, lane: usize, fate: Fate) {
    let is_due = match fate {
        Fate::Retaken => false,
        Fate::Restarted => true,
        Fate::Advances => run.is_due() && run.arrives(&wide.state(lane)),
    };
    if is_due {
        let s = wide.state(lane);
        wide.restart(lane, run, &s);
    }
}

#[cfg(test)]
mod tests;
