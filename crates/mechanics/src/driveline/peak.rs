//! The largest value of a force over a step, from the cubic through its ends with their rates.

use super::model::Moving;

/// Extremes of a force over one step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Extreme {
    pub value: f64,
    /// Where in the step, 0 to 1.
    pub share: f64,
}

/// Largest and least value between two instants h (s) apart.
pub(super) fn extremes(from: Moving, to: Moving, h: f64) -> (Extreme, Extreme) {
    let ends = [Extreme { value: from.value, share: 0.0 }, Extreme { value: to.value, share: 1.0 }];
    let mut largest = if ends[0].value >= ends[1].value { ends[0] } else { ends[1] };
    let mut least = if ends[0].value <= ends[1].value { ends[0] } else { ends[1] };
    // p(s) = a s^3 + b s^2 + c s + d, s in 0..1
    let (c, d) = (h * from.rate, from.value);
    let a = 2.0 * (from.value - to.value) + h * (from.rate + to.rate);
    let b = 3.0 * (to.value - from.value) - h * (2.0 * from.rate + to.rate);
    for share in turning_points(a, b, c).into_iter().flatten() {
        let value = ((a * share + b) * share + c) * share + d;
        if value > largest.value {
            largest = Extreme { value, share };
        }
        if value < least.value {
            least = Extreme { value, share };
        }
    }
    (largest, least)
}

/// Roots of 3 a s² + 2 b s + c inside 0..1.
fn turning_points(a: f64, b: f64, c: f64) -> [Option<f64>; 2] {
    let discriminant = b * b - 3.0 * a * c;
    if discriminant < 0.0 {
        return [None, None];
    }
    let q = -(b + b.signum() * discriminant.sqrt());
    let inside = |share: f64| (share > 0.0 && share < 1.0).then_some(share);
    [inside(q / (3.0 * a)), inside(c / q)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_sine_has_its_top_in_the_middle() {
        let moving = |angle: f64| Moving { value: angle.sin(), rate: angle.cos() };
        let (largest, least) = extremes(moving(1.4), moving(1.8), 0.4);
        assert!((largest.value - 1.0).abs() < 1e-4, "{largest:?}");
        assert!((1.4 + 0.4 * largest.share - std::f64::consts::FRAC_PI_2).abs() < 1e-3);
        assert_eq!(least.share, 1.0);
    }

    #[test]
    fn a_straight_line_has_its_extremes_at_the_ends() {
        let (largest, least) = extremes(Moving { value: 0.0, rate: 2.0 }, Moving { value: 2.0, rate: 2.0 }, 1.0);
        assert_eq!((largest.value, least.value), (2.0, 0.0));
    }
}
