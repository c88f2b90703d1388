//! One step of the Runge-Kutta pair: end, error, and any state in between.

use super::branches::Pieces;
use super::case::Segment;
use super::equations::{Rates, SUM_COUNT, Sums, System};
use super::pair::{A, DENSE, ERROR, STAGES};
use super::state::{COUNT, State};
use super::stiff::{self, Solver};

/// The right-hand side between two events.
pub(super) struct Field<'a> {
    pub system: &'a System,
    pub pieces: Pieces,
    pub segment: Segment,
}

impl Field<'_> {
    pub fn rates(&self, s: &State) -> Rates {
        self.system.rates(&self.pieces, self.segment.wheels, s)
    }
}

/// A step from a state over a time; one is made for a run and taken again and again.
pub(super) struct Step {
    pub start: State,
    pub end: State,
    pub width_s: f64,
    stages: [Rates; STAGES],
    /// Weights of the stages in the error, the sums and the interpolant's highest term.
    error: &'static [f64],
    weights: &'static [f64],
    dense: &'static [f64],
}

impl Step {
    /// A step of no width, with the rates at its start.
    pub fn at_rest(start: &State, first: &Rates) -> Self {
        let stages = [*first; STAGES];
        Self { start: *start, end: *start, width_s: 0.0, stages, error: &ERROR, weights: &A[5], dense: &DENSE }
    }

    /// Sets the rates at the start anew, after a change of branch.
    pub fn restart(&mut self, first: &Rates) {
        self.stages[0] = *first;
    }

    /// Makes the end's rates the start's of the next step.
    pub fn go_on(&mut self) {
        self.stages[0] = self.stages[STAGES - 1];
    }

    /// Takes the step from a state whose rates are set, explicitly.
    pub fn take(&mut self, field: &Field<'_>, start: &State, width_s: f64) {
        self.start = *start;
        self.width_s = width_s;
        for (index, row) in A.iter().enumerate() {
            self.end = combine(start, &self.stages, &row[..=index], width_s);
            self.stages[index + 1] = field.rates(&self.end);
        }
        (self.error, self.weights, self.dense) = (&ERROR, &A[5], &DENSE);
    }

    /// Takes the step with the straight part of the equations implicit; in between it is a cubic.
    pub fn take_stiff(&mut self, field: &Field<'_>, start: &State, width_s: f64) {
        self.start = *start;
        self.width_s = width_s;
        let solver = Solver::new(field, width_s);
        let mut straight = [solver.straight(start); stiff::STAGES];
        for index in 1..stiff::STAGES {
            let (explicit, implicit) = (&stiff::EXPLICIT[index - 1][..index], &stiff::IMPLICIT[index - 1][..index]);
            let mut stage = combine(start, &self.stages, explicit, width_s);
            for ((e, i), slopes) in explicit.iter().zip(implicit).zip(&straight) {
                for (value, slope) in stage.iter_mut().zip(slopes) {
                    *value += width_s * (i - e) * slope;
                }
            }
            straight[index] = solver.stage(&mut stage);
            self.stages[index] = field.rates(&stage);
        }
        self.end = combine(start, &self.stages, &stiff::WEIGHTS, width_s);
        self.stages[STAGES - 1] = field.rates(&self.end);
        (self.error, self.weights, self.dense) = (&stiff::ERROR, &stiff::WEIGHTS, &[]);
    }

    fn last(&self) -> &Rates {
        &self.stages[STAGES - 1]
    }

    /// Largest error of a state over its allowance; a state that is no number keeps no limit.
    pub fn error(&self, allowed: &State) -> f64 {
        let errors = weighted(&self.stages, self.error);
        let mut worst = 0.0_f64;
        for (error, allowed) in errors.iter().zip(allowed) {
            let share = (error * self.width_s / allowed).abs();
            worst = if share <= worst { worst } else { share };
        }
        worst
    }

    /// State at a part of the step, 0..1.
    pub fn at(&self, part: f64) -> State {
        let (rest, width_s) = (1.0 - part, self.width_s);
        let highest = weighted(&self.stages, self.dense);
        let mut out = [0.0; COUNT];
        for state in 0..COUNT {
            let way = self.end[state] - self.start[state];
            let bend = width_s * self.stages[0].slopes[state] - way;
            let twist = way - width_s * self.last().slopes[state] - bend;
            let curve = twist + rest * width_s * highest[state];
            out[state] = self.start[state] + part * (way + rest * (bend + part * curve));
        }
        out
    }

    /// What the step adds to the sums.
    pub fn sums(&self) -> Sums {
        let mut out = [0.0; SUM_COUNT];
        for (weight, stage) in self.weights.iter().zip(&self.stages) {
            for (sum, power) in out.iter_mut().zip(&stage.powers) {
                *sum += self.width_s * weight * power;
            }
        }
        out
    }
}

/// Sum of the stages' slopes by weight.
#[inline(always)]
fn weighted(stages: &[Rates; STAGES], weights: &[f64]) -> State {
    let mut out = [0.0; COUNT];
    for (weight, stage) in weights.iter().zip(stages) {
        for (value, slope) in out.iter_mut().zip(&stage.slopes) {
            *value += weight * slope;
        }
    }
    out
}

/// State ahead of the start by the weighted slopes.
#[inline(always)]
fn combine(start: &State, stages: &[Rates; STAGES], weights: &[f64], width_s: f64) -> State {
    let mut out = weighted(stages, weights);
    for (value, from) in out.iter_mut().zip(start) {
        *value = from + width_s * *value;
    }
    out
}
