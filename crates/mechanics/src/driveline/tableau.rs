//! The coefficients of a step, in lanes: each lane takes its own Runge-Kutta pair.
//!
//! Both pairs have one form: stages 2 to 7 from explicit weights, the straight part of the equations besides by implicit
//! weights and a diagonal, the last stage being the step's end. For the explicit pair the implicit part is nothing.

use pulp::Simd;

use super::lanes::{Lanes, PerLane};
use super::pair;
use super::real::Real;
use super::stiff;

/// Stages; the last is the first of the next step.
pub(super) const STAGES: usize = 7;
/// Stages that may have an implicit part: the second to the sixth.
pub(super) const IMPLICIT_STAGES: usize = 5;

/// A pair of Runge-Kutta formulae.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Tableau<T = f64> {
    /// Explicit weights of stages 2 to 7; the last row is the solution.
    pub rows: [[T; STAGES - 1]; STAGES - 1],
    /// Implicit less explicit weights of the straight part for stages 2 to 6, left of the diagonal.
    pub shifts: [[T; IMPLICIT_STAGES]; IMPLICIT_STAGES],
    /// Implicit weight on the diagonal.
    pub diagonal: T,
    /// Weights of the error.
    pub error: [T; STAGES],
    /// Weights of the interpolant's highest term; none for a cubic.
    pub dense: [T; STAGES],
}

impl<T: Real> Tableau<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self {
            rows: [[value; STAGES - 1]; STAGES - 1],
            shifts: [[value; IMPLICIT_STAGES]; IMPLICIT_STAGES],
            diagonal: value,
            error: [value; STAGES],
            dense: [value; STAGES],
        }
    }
}

impl<S: Simd> PerLane for Tableau<Lanes<S>> {
    type One = Tableau;

    fn put(&mut self, lane: usize, one: &Tableau) {
        self.rows.put(lane, &one.rows);
        self.shifts.put(lane, &one.shifts);
        self.diagonal.put(lane, &one.diagonal);
        self.error.put(lane, &one.error);
        self.dense.put(lane, &one.dense);
    }
}

/// Explicit, of orders 5 and 4.
pub(super) static EXPLICIT: Tableau = Tableau {
    rows: pair::A,
    shifts: [[0.0; IMPLICIT_STAGES]; IMPLICIT_STAGES],
    diagonal: 0.0,
    error: pair::ERROR,
    dense: pair::DENSE,
};

/// With the straight part implicit, of orders 4 and 3; in between a cubic.
pub(super) static STIFF: Tableau = Tableau {
    rows: stiff::rows(),
    shifts: stiff::shifts(),
    diagonal: stiff::DIAGONAL,
    error: stiff::error(),
    dense: [0.0; STAGES],
};
