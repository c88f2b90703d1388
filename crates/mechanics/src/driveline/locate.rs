//! Where in a step a branch ends.

use super::branches::{GUARD_COUNT, Guards, guards_at, straight_of};
use super::curve::Curve;
use super::equations::Plant;

/// A part of a step that counts as nothing.
pub(super) const NO_PART: f64 = 1e-13;
/// Halvings of a step in search of a dip below zero.
const DIP_HALVINGS: i32 = 24;
/// Halvings and secants until an event is located.
const LOCATE_STEPS: u32 = 60;

/// Part of the step and number of the guard that becomes positive first.
pub(super) fn first_event(guards: &Guards, plant: &Plant, step: &Curve) -> Option<(f64, usize)> {
    let [halfway, after] = [step.at(0.5), step.end].map(|state| guards_at(guards, plant, &state));
    let mut earliest: Option<(f64, usize)> = None;
    for guard in 0..GUARD_COUNT {
        if halfway[guard].max(after[guard]) <= 0.0 {
            continue;
        }
        let course = step.course(guards[guard].constant, |s| straight_of(guards, plant, s, guard));
        let bracket = if halfway[guard] > 0.0 {
            [(0.0, course.start), (0.5, halfway[guard])]
        } else {
            [(0.5, halfway[guard]), (1.0, after[guard])]
        };
        let part = root(|part| course.at(part), bracket);
        if earliest.is_none_or(|(first, _)| part < first) {
            earliest = Some((part, guard));
        }
    }
    earliest
}

/// Where a function of the part passes zero between two parts of the step (regula falsi, Illinois variant).
fn root(value_at: impl Fn(f64) -> f64, [mut low, mut high]: [(f64, f64); 2]) -> f64 {
    if low.1 >= 0.0 {
        // At the very edge: passed at once, unless it first falls below zero and comes back within the step.
        let dip = (1..DIP_HALVINGS).map(|halvings| low.0 + (high.0 - low.0) * 0.5_f64.powi(halvings));
        match dip.map(|part| (part, value_at(part))).find(|(_, value)| *value < 0.0) {
            Some(below) => low = below,
            None => return low.0,
        }
    }
    let mut last_was_high = None;
    for _ in 0..LOCATE_STEPS {
        if high.0 - low.0 <= NO_PART {
            break;
        }
        let part = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
        let value = value_at(part);
        if value == 0.0 {
            return part;
        }
        let is_high = value > 0.0;
        let again = last_was_high == Some(is_high);
        if is_high {
            high = (part, value);
            low.1 *= if again { 0.5 } else { 1.0 };
        } else {
            low = (part, value);
            high.1 *= if again { 0.5 } else { 1.0 };
        }
        last_was_high = Some(is_high);
    }
    high.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The last bracket's width and a few roundings.
    const TOL: f64 = 1e-12;

    #[test]
    fn the_root_of_a_function_is_bracketed_or_met() {
        let cubic = |x: f64| x * x * x - 0.2;
        check(root(cubic, [(0.0, cubic(0.0)), (1.0, cubic(1.0))]), 0.2_f64.cbrt());
        let straight = |x: f64| x - 0.25;
        check(root(straight, [(0.0, straight(0.0)), (1.0, straight(1.0))]), 0.25);
        assert_eq!(root(|x| x, [(0.0, 0.0), (1.0, 1.0)]), 0.0);
    }

    #[track_caller]
    fn check(got: f64, expected: f64) {
        assert!((got - expected).abs() <= TOL, "{got}, expected {expected}");
    }
}
