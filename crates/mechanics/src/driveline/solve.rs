//! The solver: events side by side in lanes, each from step to step at its own pace.
//!
//! Every lane takes the same operations on its own numbers: its own truck, branches, step width and formula. What is rare
//! (a branch that ends, a peak that rises) is looked at lane by lane. A lane whose event is over takes the next one.

use pulp::{Arch, NullaryFnOnce, Scalar, Simd, WithSimd};

use super::branches::{GUARD_COUNT, Guards, guards_at};
use super::equations::{Field, SUM_COUNT, Sums};
use super::lanes::{Lanes, PerLane};
use super::outcome::Outcome;
use super::real::Real;
use super::record::{Glance, WATCHED, highest, watched};
use super::run::{Fate, Look, NextStep, Run};
use super::state::{self, CURRENT, State};
use super::step::Step;
use super::tableau::{EXPLICIT, STIFF, Tableau};
use super::{DrivelineError, contact::Guard};

/// Part of the step that the error would allow.
const CAUTION: f64 = 0.9;

/// What all lanes need for a step.
struct Wide<S: Simd> {
    field: Field<Lanes<S>>,
    guards: Guards<Lanes<S>>,
    tableau: Tableau<Lanes<S>>,
    per_allowed: State<Lanes<S>>,
    last_error: Lanes<S>,
    peaks: [Lanes<S>; WATCHED],
    width_s: Lanes<S>,
    /// 1 where the tableau is the stiff one.
    is_stiff: Lanes<S>,
    step: Step<Lanes<S>>,
    sums: Sums<Lanes<S>>,
    seen: Seen<S>,
    /// 1 where the step is accepted.
    advances: Lanes<S>,
}

/// What a step shows, in lanes.
struct Seen<S: Simd> {
    error: Lanes<S>,
    factor: Lanes<S>,
    /// By how much a guard is passed.
    crosses: Lanes<S>,
    /// By how much a load may rise above its peak.
    rises: Lanes<S>,
    loads: [[Lanes<S>; WATCHED]; 3],
    currents_a: [Lanes<S>; 3],
}

impl<S: Simd> Wide<S> {
    fn new(simd: S) -> Self {
        let none = Lanes::all(simd, 0.0);
        Self {
            field: Field::filled(none),
            guards: [Guard::filled(none); GUARD_COUNT],
            tableau: Tableau::filled(none),
            per_allowed: [none; state::COUNT],
            last_error: none,
            peaks: [none; WATCHED],
            width_s: none,
            is_stiff: none,
            step: Step::filled(none),
            sums: [none; SUM_COUNT],
            seen: Seen {
                error: none,
                factor: none,
                crosses: none,
                rises: none,
                loads: [[none; WATCHED]; 3],
                currents_a: [none; 3],
            },
            advances: none,
        }
    }

    /// Puts a run into a lane.
    fn seat(&mut self, lane: usize, run: &mut Run) {
        self.field.plant.put(lane, &run.field.plant);
        self.per_allowed.put(lane, &run.per_allowed);
        self.sums.put(lane, &[0.0; SUM_COUNT]);
        self.peaks.put(lane, &[0.0; WATCHED]);
        self.last_error.put(lane, &run.last_error);
        self.tableau.put(lane, &EXPLICIT);
        self.is_stiff.put(lane, &0.0);
        let start = *run.start();
        self.restart(lane, run, &start);
    }

    /// Starts a lane anew from a state, on the run's branches.
    fn restart(&mut self, lane: usize, run: &mut Run, s: &State) {
        self.field.pieces.put(lane, &run.field.pieces);
        self.field.wheels.put(lane, &run.field.wheels);
        self.guards.put(lane, &run.guards);
        self.step.begin(lane, s, &run.rates(s));
    }

    fn prepare(&mut self, lane: usize, next: NextStep) {
        self.width_s.put(lane, &next.width_s);
        let is_stiff = f64::from(u8::from(next.is_stiff));
        if self.is_stiff.lane(lane) != is_stiff {
            self.is_stiff.put(lane, &is_stiff);
            self.tableau.put(lane, if next.is_stiff { &STIFF } else { &EXPLICIT });
        }
    }

    fn look(&self, lane: usize) -> Look {
        Look {
            error: self.seen.error.lane(lane),
            factor: self.seen.factor.lane(lane),
            crosses: self.seen.crosses.lane(lane) > 0.0,
            rises: self.seen.rises.lane(lane) > 0.0,
        }
    }

    /// The loads that a lane's step shows.
    fn glance(&self, lane: usize) -> Glance {
        Glance {
            loads: self.seen.loads.each_ref().map(|loads| loads.each_ref().map(|load| load.lane(lane))),
            currents_a: self.seen.currents_a.each_ref().map(|current| current.lane(lane)),
        }
    }

    /// State at the start of a lane's next step.
    fn state(&self, lane: usize) -> State {
        self.step.start.map(|value| value.lane(lane))
    }

    /// Takes a step in every lane and looks at it.
    #[inline(always)]
    fn take(&mut self) {
        self.step.take(&self.field, &self.tableau, self.width_s);
        let error = self.step.error(&self.tableau, &self.per_allowed);
        let middle = self.step.at(error.of(0.5));
        self.seen.error = error;
        self.seen.factor = next_width(error, self.last_error);
        let mut passed = error.of(f64::NEG_INFINITY);
        for s in [&middle, &self.step.end] {
            for value in guards_at(&self.guards, &self.field.plant, s) {
                passed = passed.larger(value);
            }
        }
        self.seen.crosses = passed;
        self.seen.loads[0] = watched(&self.field.loads(&self.step.start));
        self.seen.loads[1] = watched(&self.field.loads(&middle));
        self.seen.loads[2] = watched(&self.field.loads(&self.step.end));
        self.seen.currents_a = [self.step.start[CURRENT], middle[CURRENT], self.step.end[CURRENT]];
        let mut rise = error.of(f64::NEG_INFINITY);
        for quantity in 0..WATCHED {
            let [start, middle, end] = &self.seen.loads;
            let highest = highest(start[quantity], middle[quantity], end[quantity]);
            rise = rise.larger(highest - self.peaks[quantity]);
        }
        self.seen.rises = rise;
    }

    /// Goes on from the end of the step where it advances.
    #[inline(always)]
    fn advance(&mut self) {
        let nothing = self.advances.of(0.0);
        let advances = self.advances.above(nothing);
        for (sum, added) in self.sums.iter_mut().zip(self.step.added) {
            *sum = *sum + Lanes::pick(advances, added, nothing);
        }
        self.step.go_on(advances);
    }
}

/// Width of the next step over this one's: caution error^(-11/64) last^(1/32), a proportional-integral control whose
/// exponents are sums of square roots' so that lanes need no library.
#[inline(always)]
fn next_width<T: Real>(error: T, last_error: T) -> T {
    let eighth = error.sqrt().sqrt().sqrt();
    let thirty_second = eighth.sqrt().sqrt();
    let last = last_error.sqrt().sqrt().sqrt().sqrt().sqrt();
    error.of(CAUTION) * last / (eighth * thirty_second * thirty_second.sqrt())
}

/// [`Wide::take`] with the instructions that the processor has.
struct Take<'a, S: Simd>(&'a mut Wide<S>);

impl<S: Simd> NullaryFnOnce for Take<'_, S> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        self.0.take();
    }
}

/// [`Wide::advance`] with the instructions that the processor has.
struct Advance<'a, S: Simd>(&'a mut Wide<S>);

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
    let mut wide = Box::new(Wide::new(simd));
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
fn prepare<S: Simd>(wide: &mut Wide<S>, seat: &mut Seat, lane: usize, queue: &mut impl Queue) {
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

fn judge<S: Simd>(wide: &mut Wide<S>, run: &mut Run, lane: usize) -> Fate {
    let fate = run.judge(&wide.look(lane), wide.width_s.lane(lane), || wide.glance(lane), || wide.step.lane(lane));
    wide.last_error.put(lane, &run.last_error);
    wide.peaks.put(lane, &run.record.peaks.map(|peak| peak.force_n));
    fate
}

/// What is due where a step has come to its end, or was stopped by a change of branch.
fn arrive<S: Simd>(wide: &mut Wide<S>, run: &mut Run, lane: usize, fate: Fate) {
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
