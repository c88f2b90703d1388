//! The curve through a step: any state in it, and any straight function of the state.

use super::real::Real;
use super::state::{COUNT, State};

/// A value over a step: its ends, its slopes there, and what the interpolant has beyond a cubic.
#[derive(Clone, Copy)]
pub(super) struct Course<T = f64> {
    pub start: T,
    pub end: T,
    /// Slopes at both ends.
    pub slopes: [T; 2],
    /// The stages' slopes weighted by the interpolant's highest term.
    pub highest: T,
    pub width_s: T,
}

impl<T: Real> Course<T> {
    /// Value at a part of the step, 0..1.
    #[inline(always)]
    pub fn at(&self, part: T) -> T {
        let rest = part.of(1.0) - part;
        let way = self.end - self.start;
        let bend = self.width_s * self.slopes[0] - way;
        let twist = way - self.width_s * self.slopes[1] - bend;
        let curve = twist + rest * self.width_s * self.highest;
        self.start + part * (way + rest * (bend + part * curve))
    }
}

/// A step of one lane as the rest of the program looks into it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curve {
    pub start: State,
    pub end: State,
    pub width_s: f64,
    pub slopes: [State; 2],
    pub highest: State,
}

impl Curve {
    /// State at a part of the step, 0..1.
    pub fn at(&self, part: f64) -> State {
        let mut out = [0.0; COUNT];
        for (state, value) in out.iter_mut().enumerate() {
            let slopes = [self.slopes[0][state], self.slopes[1][state]];
            let (start, end, highest) = (self.start[state], self.end[state], self.highest[state]);
            *value = Course { start, end, slopes, highest, width_s: self.width_s }.at(part);
        }
        out
    }

    /// Course of a value that is a constant and a straight function of the state.
    pub fn course(&self, constant: f64, straight: impl Fn(&State) -> f64) -> Course {
        Course {
            start: straight(&self.start) + constant,
            end: straight(&self.end) + constant,
            slopes: [straight(&self.slopes[0]), straight(&self.slopes[1])],
            highest: straight(&self.highest),
            width_s: self.width_s,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A few roundings of numbers of size 1.
    const TOL: f64 = 1e-14;

    #[test]
    fn a_straight_function_takes_the_same_course_as_the_states() {
        let filled = |seed: f64| std::array::from_fn(|state| (seed + state as f64).sin());
        let slopes = [filled(3.0), filled(4.0)];
        let curve = Curve { start: filled(1.0), end: filled(2.0), width_s: 0.7, slopes, highest: filled(5.0) };
        for part in [0.0, 0.1, 0.5, 0.9, 1.0] {
            check(&curve, part);
        }
    }

    #[track_caller]
    fn check(curve: &Curve, part: f64) {
        let straight = |s: &State| 0.3 * s[0] - 0.8 * s[COUNT - 1];
        let (got, expected) = (curve.course(0.2, straight).at(part), straight(&curve.at(part)) + 0.2);
        assert!((got - expected).abs() <= TOL, "at {part}: {got}, expected {expected}");
    }
}
