//! Two masses that pass heat to each other and to the air, heated steadily: the exact solution.

/// x' = A x + b of two temperatures over the air's; the masses heat each other, so the elements beside A's diagonal are
/// positive and its eigenvalues real and apart.
#[derive(Clone, Copy, Debug)]
pub(super) struct TwoMass {
    /// Rates A, 1/s, row by row.
    pub rates: [[f64; 2]; 2],
    /// Heating b, K/s.
    pub heating: [f64; 2],
}

/// x(t) = M x(0) + c.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    matrix: [[f64; 2]; 2],
    offset: [f64; 2],
}

impl Step {
    pub fn of(&self, x: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|row| self.matrix[row][0] * x[0] + self.matrix[row][1] * x[1] + self.offset[row])
    }
}

impl TwoMass {
    /// The larger and the smaller eigenvalue of A, 1/s.
    pub fn eigenvalues(&self) -> [f64; 2] {
        let [[a, b], [c, d]] = self.rates;
        let (mean, half) = (0.5 * (a + d), (0.25 * (a - d).powi(2) + b * c).sqrt());
        [mean + half, mean - half]
    }

    /// The step over a time, s: e^(A t) = e^(l1 t) P1 + e^(l2 t) P2 with P1 = (A - l2)/(l1 - l2), P2 = 1 - P1, and its
    /// integral with (e^(l t) - 1)/l in place of e^(l t).
    pub fn step(&self, time_s: f64) -> Step {
        let [first, second] = self.eigenvalues();
        let [[a, b], [c, d]] = self.rates;
        let apart = first - second;
        let share = [[(a - second) / apart, b / apart], [c / apart, (d - second) / apart]];
        let blend = |of_first: f64, of_second: f64| {
            [0, 1].map(|row| {
                [0, 1].map(|column| {
                    let unit = if row == column { 1.0 } else { 0.0 };
                    of_first * share[row][column] + of_second * (unit - share[row][column])
                })
            })
        };
        let matrix = blend((first * time_s).exp(), (second * time_s).exp());
        let sum = blend(growth(first, time_s), growth(second, time_s));
        Step { matrix, offset: [0, 1].map(|row| sum[row][0] * self.heating[0] + sum[row][1] * self.heating[1]) }
    }
}

/// (e^(l t) - 1)/l, and t where l is none.
fn growth(rate: f64, time_s: f64) -> f64 {
    if rate == 0.0 { time_s } else { (rate * time_s).exp_m1() / rate }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Roundings of a few operations.
    const TOL: f64 = 1e-12;

    const COUPLED: TwoMass = TwoMass { rates: [[-0.05, 0.04], [0.01, -0.012]], heating: [0.5, 0.1] };

    // The semigroup law: two steps make the step over both times.
    #[test]
    fn two_steps_are_one_of_both_times() {
        let start = [3.0, -1.0];
        let once = COUPLED.step(70.0).of(start);
        let twice = COUPLED.step(50.0).of(COUPLED.step(20.0).of(start));
        check(once, twice);
    }

    #[test]
    fn a_long_step_ends_where_nothing_changes() {
        // A x = -b by Cramer's rule.
        let determinant = 0.05 * 0.012 - 0.04 * 0.01;
        let steady = [(0.5 * 0.012 + 0.04 * 0.1) / determinant, (0.05 * 0.1 + 0.01 * 0.5) / determinant];
        check(COUPLED.step(1e6).of([0.0, 0.0]), steady);
    }

    // Modelica Standard Library, example TwoMasses: 15 J/K at 100 °C and 15 J/K at 0 °C, joined by 10 W/K and alone: both
    // end at 50 °C, and half of the way is left after the time constant C/(2 G) times ln 2.
    #[test]
    fn two_equal_masses_meet_half_way() {
        let rate = 10.0 / 15.0;
        let alone = TwoMass { rates: [[-rate, rate], [rate, -rate]], heating: [0.0, 0.0] };
        check(alone.step(100.0).of([100.0, 0.0]), [50.0, 50.0]);
        check(alone.step(0.75 * std::f64::consts::LN_2).of([100.0, 0.0]), [75.0, 25.0]);
    }

    #[test]
    fn a_step_of_no_time_changes_nothing() {
        check(COUPLED.step(0.0).of([7.0, 2.0]), [7.0, 2.0]);
    }

    #[track_caller]
    fn check(got: [f64; 2], expected: [f64; 2]) {
        for (got, expected) in got.into_iter().zip(expected) {
            assert!((got - expected).abs() <= TOL * (1.0 + expected.abs()), "{got}, expected {expected}");
        }
    }
}
