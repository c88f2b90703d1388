//! An embedded Runge-Kutta pair of orders 5 and 4 with its interpolant, as plain numbers.
//!
//! Source: J. R. Dormand and P. J. Prince, A family of embedded Runge-Kutta formulae, J. Comp. Appl. Math. 6 (1980) 19-26,
//! the pair RK5(4)7M; the interpolant of order 4 after E. Hairer, S. P. Norsett, G. Wanner, Solving Ordinary
//! Differential Equations I, 2nd ed., section II.6.

/// Stages; the last is the first of the next step.
pub(super) const STAGES: usize = 7;

/// Rows of the tableau for stages 2 to 7; the last row is also the solution of order 5.
pub(super) const A: [[f64; 6]; 6] = [
    [1.0 / 5.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
    [19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0, 0.0, 0.0],
    [9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0, 0.0],
    [35.0 / 384.0, 0.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0],
];

/// Solution of order 5 less solution of order 4.
pub(super) const ERROR: [f64; STAGES] =
    [71.0 / 57600.0, 0.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339200.0, 22.0 / 525.0, -1.0 / 40.0];

/// Weights of the interpolant's highest term.
pub(super) const DENSE: [f64; STAGES] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    0.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums of a few fractions.
    const TOL: f64 = 1e-14;

    fn nodes() -> [f64; STAGES] {
        let mut nodes = [0.0; STAGES];
        for (node, row) in nodes[1..].iter_mut().zip(&A) {
            *node = row.iter().sum();
        }
        nodes
    }

    #[test]
    fn the_nodes_are_those_of_the_paper() {
        let printed = [0.0, 0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
        for (got, expected) in nodes().iter().zip(printed) {
            assert!((got - expected).abs() < TOL, "{got}, expected {expected}");
        }
    }

    #[test]
    fn the_solution_integrates_powers_up_to_the_fourth_and_the_error_up_to_the_third() {
        for power in 0..5 {
            let moment = |weights: &[f64]| -> f64 {
                weights.iter().zip(nodes()).map(|(weight, node)| weight * node.powi(power)).sum()
            };
            assert!((moment(&A[5]) - 1.0 / f64::from(power + 1)).abs() < TOL, "power {power}");
            if power < 4 {
                assert!(moment(&ERROR).abs() < TOL, "power {power}");
            } else {
                assert!(moment(&ERROR).abs() > 1e-4, "an error estimate that sees nothing");
            }
        }
    }

    #[test]
    fn the_second_stages_satisfy_the_tree_condition_of_order_three() {
        let sum: f64 = A[5]
            .iter()
            .skip(1)
            .zip(&A)
            .map(|(weight, row)| weight * row.iter().zip(nodes()).map(|(a, node)| a * node).sum::<f64>())
            .sum();
        assert!((sum - 1.0 / 6.0).abs() < TOL, "{sum}");
        assert!(DENSE.iter().sum::<f64>().abs() < TOL, "the interpolant must keep a straight line");
    }
}
