//! What the lanes need for a step, the step that they take together, and what it shows.

use pulp::Simd;

use super::branches::{GUARD_COUNT, Guards, guards_at};
use super::contact::Guard;
use super::equations::{Field, SUM_COUNT, Sums};
use super::lanes::{Lanes, PerLane};
use super::real::Real;
use super::record::{Glance, WATCHED, highest, watched};
use super::run::{Look, NextStep, Run};
use super::state::{self, CURRENT, State};
use super::step::Step;
use super::tableau::{EXPLICIT, STIFF, Tableau};

/// Part of the step that the error would allow.
const CAUTION: f64 = 0.9;

/// What all lanes need for a step.
pub(super) struct Wide<T> {
    field: Field<T>,
    guards: Guards<T>,
    tableau: Tableau<T>,
    per_allowed: State<T>,
    pub last_error: T,
    pub peaks: [T; WATCHED],
    pub width_s: T,
    /// 1 where the tableau is the stiff one.
    is_stiff: T,
    /// Whether it is the stiff one in any lane.
    pub has_implicit: bool,
    pub step: Step<T>,
    pub sums: Sums<T>,
    seen: Seen<T>,
    /// 1 where the step is accepted.
    pub advances: T,
}

/// What a step shows, in lanes.
struct Seen<T> {
    error: T,
    factor: T,
    /// By how much a guard is passed.
    crosses: T,
    /// By how much a load may rise above its peak.
    rises: T,
    loads: [[T; WATCHED]; 3],
    currents_a: [T; 3],
}

impl<T: Real> Wide<T> {
    /// Nothing to do in any lane.
    pub fn filled(none: T) -> Self {
        Self {
            field: Field::filled(none),
            guards: [Guard::filled(none); GUARD_COUNT],
            tableau: Tableau::filled(none),
            per_allowed: [none; state::COUNT],
            last_error: none,
            peaks: [none; WATCHED],
            width_s: none,
            is_stiff: none,
            has_implicit: false,
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

    /// Takes a step in every lane and looks at it.
    #[inline(always)]
    pub fn take(&mut self) {
        if self.has_implicit {
            self.step.take::<true>(&self.field, &self.tableau, self.width_s);
        } else {
            self.step.take::<false>(&self.field, &self.tableau, self.width_s);
        }
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
    pub fn advance(&mut self) {
        let nothing = self.advances.of(0.0);
        let advances = self.advances.above(nothing);
        for (sum, added) in self.sums.iter_mut().zip(self.step.added) {
            *sum = *sum + T::pick(advances, added, nothing);
        }
        self.step.go_on(advances);
    }
}

impl<S: Simd> Wide<Lanes<S>> {
    /// Puts a run into a lane.
    pub fn seat(&mut self, lane: usize, run: &mut Run) {
        self.field.plant.put(lane, &run.field.plant);
        self.per_allowed.put(lane, &run.per_allowed);
        self.sums.put(lane, &[0.0; SUM_COUNT]);
        self.peaks.put(lane, &[0.0; WATCHED]);
        self.last_error.put(lane, &run.last_error);
        self.tableau.put(lane, &EXPLICIT);
        self.is_stiff.put(lane, &0.0);
        self.has_implicit = self.is_stiff.each().iter().any(|is_stiff| *is_stiff > 0.0);
        let start = *run.start();
        self.restart(lane, run, &start);
    }

    /// Starts a lane anew from a state, on the run's branches.
    pub fn restart(&mut self, lane: usize, run: &mut Run, s: &State) {
        self.field.pieces.put(lane, &run.field.pieces);
        self.field.wheels.put(lane, &run.field.wheels);
        self.guards.put(lane, &run.guards);
        self.step.begin(lane, s, &run.rates(s));
    }

    pub fn prepare(&mut self, lane: usize, next: NextStep) {
        self.width_s.put(lane, &next.width_s);
        let is_stiff = f64::from(u8::from(next.is_stiff));
        if self.is_stiff.lane(lane) != is_stiff {
            self.is_stiff.put(lane, &is_stiff);
            self.tableau.put(lane, if next.is_stiff { &STIFF } else { &EXPLICIT });
            self.has_implicit = self.is_stiff.each().iter().any(|is_stiff| *is_stiff > 0.0);
        }
    }

    pub fn look(&self, lane: usize) -> Look {
        Look {
            error: self.seen.error.lane(lane),
            factor: self.seen.factor.lane(lane),
            crosses: self.seen.crosses.lane(lane) > 0.0,
            rises: self.seen.rises.lane(lane) > 0.0,
        }
    }

    /// The loads that a lane's step shows.
    pub fn glance(&self, lane: usize) -> Glance {
        Glance {
            loads: self.seen.loads.each_ref().map(|loads| loads.each_ref().map(|load| load.lane(lane))),
            currents_a: self.seen.currents_a.each_ref().map(|current| current.lane(lane)),
        }
    }

    /// State at the start of a lane's next step.
    pub fn state(&self, lane: usize) -> State {
        self.step.start.map(|value| value.lane(lane))
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
