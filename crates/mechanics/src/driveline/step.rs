//! One step of every lane: end, error, and any state in between.

use pulp::Simd;

use super::curve::{Course, Curve};
use super::equations::{Field, Rates, SUM_COUNT, Sums};
use super::lanes::{Lanes, PerLane};
use super::real::Real;
use super::state::{COUNT, State};
use super::straight::{FAST, Solver};
use super::tableau::{IMPLICIT_STAGES, STAGES, Tableau};

/// A step from a state over a time; one is made for a run and taken again and again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step<T = f64> {
    pub start: State<T>,
    pub end: State<T>,
    pub width_s: T,
    /// Slopes of the states at each stage; the first is set before a step, the last is at its end.
    slopes: [State<T>; STAGES],
    /// Powers at start and end.
    powers: [Sums<T>; 2],
    /// What the step adds to the sums.
    pub added: Sums<T>,
    /// The slopes weighted by the interpolant's highest term.
    highest: State<T>,
}

impl<T: Real> Step<T> {
    /// A step of nothing.
    pub fn filled(nothing: T) -> Self {
        Self {
            start: [nothing; COUNT],
            end: [nothing; COUNT],
            width_s: nothing,
            slopes: [[nothing; COUNT]; STAGES],
            powers: [[nothing; SUM_COUNT]; 2],
            added: [nothing; SUM_COUNT],
            highest: [nothing; COUNT],
        }
    }

    /// Takes the step from its start, whose rates are set; `IMPLICIT` where some lane's formula has an implicit part, whose
    /// numbers are nothing in the other lanes.
    #[inline(always)]
    pub fn take<const IMPLICIT: bool>(&mut self, field: &Field<T>, tableau: &Tableau<T>, width_s: T) {
        self.width_s = width_s;
        let mut implicit = if IMPLICIT {
            let solver = Solver::new(field, tableau.diagonal * width_s);
            let straight = [solver.at(&self.start); IMPLICIT_STAGES + 1];
            Some((solver, straight))
        } else {
            None
        };
        let mut powers = self.powers[0];
        self.added = scaled(&powers, tableau.rows[STAGES - 2][0]);
        for index in 0..STAGES - 1 {
            let mut stage = self.ahead(&tableau.rows[index][..=index]);
            if let (Some((solver, straight)), 0..IMPLICIT_STAGES) = (&mut implicit, index) {
                let shifts = &tableau.shifts[index][..=index];
                for fast in 0..FAST {
                    let mut shift = width_s.of(0.0);
                    for (weight, straight) in shifts.iter().zip(straight.iter()) {
                        shift = shift + *weight * straight[fast];
                    }
                    stage[fast] = stage[fast] + width_s * shift;
                }
                straight[index + 1] = solver.stage(&mut stage);
            }
            let rates = field.rates(&stage);
            self.slopes[index + 1] = rates.slopes;
            powers = rates.powers;
            self.end = stage;
            if index + 1 < STAGES - 1 {
                let weight = tableau.rows[STAGES - 2][index + 1];
                for (added, power) in self.added.iter_mut().zip(powers) {
                    *added = *added + weight * power;
                }
            }
        }
        self.powers[1] = powers;
        self.added = scaled(&self.added, width_s);
        self.highest = self.weighted(&tableau.dense);
    }

    /// Largest error of a state, each over its allowance; no number where a state is none.
    #[inline(always)]
    pub fn error(&self, tableau: &Tableau<T>, per_allowed: &State<T>) -> T {
        let errors = self.weighted(&tableau.error);
        let (mut worst, mut total) = (self.width_s.of(0.0), self.width_s.of(0.0));
        for (error, per_allowed) in errors.iter().zip(per_allowed) {
            let share = (*error * self.width_s * *per_allowed).abs();
            (worst, total) = (worst.larger(share), total + share);
        }
        worst + total * total.of(0.0)
    }

    /// State at a part of the step, 0..1.
    #[inline(always)]
    pub fn at(&self, part: T) -> State<T> {
        let mut out = [self.width_s.of(0.0); COUNT];
        for (state, value) in out.iter_mut().enumerate() {
            let slopes = [self.slopes[0][state], self.slopes[STAGES - 1][state]];
            let (start, end, highest) = (self.start[state], self.end[state], self.highest[state]);
            *value = Course { start, end, slopes, highest, width_s: self.width_s }.at(part);
        }
        out
    }

    /// Makes the end the start of the next step where the mask holds.
    #[inline(always)]
    pub fn go_on(&mut self, mask: T::Mask) {
        for (start, end) in self.start.iter_mut().zip(&self.end) {
            *start = T::pick(mask, *end, *start);
        }
        let [first, .., last] = &mut self.slopes;
        for (start, end) in first.iter_mut().zip(last) {
            *start = T::pick(mask, *end, *start);
        }
        let [first, last] = &mut self.powers;
        for (start, end) in first.iter_mut().zip(last) {
            *start = T::pick(mask, *end, *start);
        }
    }

    /// State ahead of the start by the weighted slopes.
    #[inline(always)]
    fn ahead(&self, weights: &[T]) -> State<T> {
        let mut out = [self.width_s.of(0.0); COUNT];
        for (weight, stage) in weights.iter().zip(&self.slopes) {
            for (value, slope) in out.iter_mut().zip(stage) {
                *value = *value + *weight * *slope;
            }
        }
        for (value, from) in out.iter_mut().zip(&self.start) {
            *value = *from + self.width_s * *value;
        }
        out
    }

    /// Sum of the stages' slopes by weight.
    #[inline(always)]
    fn weighted(&self, weights: &[T; STAGES]) -> State<T> {
        let mut out = [self.width_s.of(0.0); COUNT];
        for (weight, stage) in weights.iter().zip(&self.slopes) {
            for (value, slope) in out.iter_mut().zip(stage) {
                *value = *value + *weight * *slope;
            }
        }
        out
    }
}

impl<S: Simd> Step<Lanes<S>> {
    /// Sets the start of a lane.
    pub fn begin(&mut self, lane: usize, start: &State, rates: &Rates) {
        self.start.put(lane, start);
        self.slopes[0].put(lane, &rates.slopes);
        self.powers[0].put(lane, &rates.powers);
    }

    /// One lane's step, for what looks into it.
    pub fn lane(&self, lane: usize) -> Curve {
        let one = |wide: &State<Lanes<S>>| wide.map(|value| value.lane(lane));
        Curve {
            start: one(&self.start),
            end: one(&self.end),
            width_s: self.width_s.lane(lane),
            slopes: [one(&self.slopes[0]), one(&self.slopes[STAGES - 1])],
            highest: one(&self.highest),
        }
    }
}

/// Sums by a factor. No closure here and below: it would not get the lanes' instructions.
#[inline(always)]
fn scaled<T: Real>(sums: &Sums<T>, factor: T) -> Sums<T> {
    let mut out = *sums;
    for sum in &mut out {
        *sum = *sum * factor;
    }
    out
}
