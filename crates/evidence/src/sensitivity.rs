//! Which input matters most: first-order and total Sobol indices.

use crate::error::{Error, positive};

/// A variance below this part of the squared mean is rounding, and no spread.
const ROUNDING: f64 = 1e-24;

/// What a function gave at a point A, at an independent point B, and at A with one input (or one group) taken from B.
#[derive(Clone, Debug, PartialEq)]
pub struct MixedRow {
    /// At A.
    pub at_a: f64,
    /// At B.
    pub at_b: f64,
    /// At A with the i-th input from B, for every input.
    pub at_ab: Vec<f64>,
}

/// The indices of one input, each with the standard error of its estimate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SobolIndex {
    /// Share of the variance that goes on average if this input alone becomes known.
    pub first: f64,
    /// Its standard error.
    pub first_error: f64,
    /// Share of the variance that stays on average if every other input becomes known; 0 where the input does nothing.
    pub total: f64,
    /// Its standard error.
    pub total_error: f64,
}

/// First-order and total indices of every input (or group of inputs).
///
/// S_i = mean((f(B) − m)(f(AB_i) − f(A)))/V (Saltelli et al. 2010, Computer Physics Communications 181, table 2 (b); the
/// mean m taken off makes it no other and the error smaller), ST_i = mean((f(A) − f(AB_i))²)/(2 V) (Jansen 1999, the same
/// table (f)); m and V are mean and variance over A and B. Standard errors: those of the means, the rows taken as
/// independent. S_i can come out a little below 0 and ST_i a little below S_i by that error.
///
/// Errors: rows of different lengths; no spread, or a value that is no number.
pub fn sobol_indices(rows: &[MixedRow]) -> Result<Vec<SobolIndex>, Error> {
    let inputs = rows.first().map_or(0, |row| row.at_ab.len());
    if let Some(row) = rows.iter().find(|row| row.at_ab.len() != inputs) {
        return Err(Error::RowLength { got: row.at_ab.len(), need: inputs });
    }
    let spread = Spread::of(rows)?;
    (0..inputs).map(|input| spread.index(rows, input)).collect()
}

/// Mean and variance of the function over A and B.
struct Spread {
    mean: f64,
    variance: f64,
}

impl Spread {
    fn of(rows: &[MixedRow]) -> Result<Self, Error> {
        let values: Vec<f64> = rows.iter().flat_map(|row| [row.at_a, row.at_b]).collect();
        let Estimate { mean, .. } = Estimate::of(values.iter().copied());
        let variance = Estimate::of(values.iter().map(|value| (value - mean) * (value - mean))).mean;
        let above_rounding = variance - ROUNDING * mean * mean;
        positive("variance of the function", above_rounding)?;
        Ok(Self { mean, variance })
    }

    fn index(&self, rows: &[MixedRow], input: usize) -> Result<SobolIndex, Error> {
        let Self { mean, variance } = self;
        let first = Estimate::of(rows.iter().map(|row| (row.at_b - mean) * (row.at_ab[input] - row.at_a) / variance));
        let half = 1.0 / (2.0 * variance);
        let total = Estimate::of(rows.iter().map(|row| half * (row.at_a - row.at_ab[input]).powi(2)));
        if !(first.mean.is_finite() && total.mean.is_finite()) {
            return Err(Error::NotPositive { what: "variance of the function", value: f64::NAN });
        }
        Ok(SobolIndex { first: first.mean, first_error: first.error, total: total.mean, total_error: total.error })
    }
}

/// A mean with its standard error.
struct Estimate {
    mean: f64,
    error: f64,
}

impl Estimate {
    fn of(values: impl Iterator<Item = f64> + Clone) -> Self {
        let n = values.clone().count().max(1) as f64;
        let mean = values.clone().sum::<f64>() / n;
        let squares: f64 = values.map(|value| (value - mean) * (value - mean)).sum();
        Self { mean, error: (squares / (n * (n - 1.0).max(1.0))).sqrt() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::draw;
    use std::f64::consts::PI;

    const POINTS: u32 = 4096;
    /// Standard errors that an estimate may lie from the closed form: 25 estimates, each beyond 4 once in 16 000.
    const ERRORS: f64 = 4.0;
    /// What the points may leave besides, where the error itself comes out as almost nothing.
    const FLOOR: f64 = 2e-3;
    /// Rounding of sums of some thousand terms.
    const SUMS: f64 = 1e-12;

    fn rows(inputs: u32, seed: u32, f: &dyn Fn(&[f64]) -> f64) -> Vec<MixedRow> {
        let point = |index: u32, from: u32| -> Vec<f64> { (0..inputs).map(|i| draw(index, from + i, seed)).collect() };
        let row = |index: u32| {
            let (a, b) = (point(index, 0), point(index, inputs));
            let mixed = |i: usize| {
                let mut ab = a.clone();
                ab[i] = b[i];
                f(&ab)
            };
            MixedRow { at_a: f(&a), at_b: f(&b), at_ab: (0..inputs as usize).map(mixed).collect() }
        };
        (0..POINTS).map(row).collect()
    }

    /// The closed forms' first-order and total parts of the variance, over the variance.
    #[track_caller]
    fn check(rows: &[MixedRow], variance: f64, parts: &[(f64, f64)]) {
        let indices = sobol_indices(rows).unwrap();
        assert_eq!(indices.len(), parts.len());
        for (index, (first, total)) in indices.iter().zip(parts) {
            let off = (index.first - first / variance).abs();
            assert!(off <= ERRORS * index.first_error + FLOOR, "{index:?}, and S = {}", first / variance);
            let off = (index.total - total / variance).abs();
            assert!(off <= ERRORS * index.total_error + FLOOR, "{index:?}, and ST = {}", total / variance);
            // An error that tells nothing would let everything pass.
            assert!(index.first_error < 0.05 && index.total_error < 0.05, "{index:?}");
        }
    }

    #[test]
    fn the_ishigami_function_has_the_indices_of_its_closed_form() {
        // Ishigami and Homma 1990 with the closed form that Saltelli et al. 2008 (Global Sensitivity Analysis) give for
        // f = sin x1 + a sin² x2 + b x3⁴ sin x1, x evenly from -pi to pi; from memory.
        let (a, b) = (7.0, 0.1);
        let ishigami = move |u: &[f64]| {
            let x: Vec<f64> = u.iter().map(|u| PI * (2.0 * u - 1.0)).collect();
            x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin()
        };
        let first = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
        let second = a * a / 8.0;
        let first_with_third = 8.0 * b * b * PI.powi(8) / 225.0;
        let variance = first + second + first_with_third;
        // The same literature prints S = 0.3139, 0.4424, 0 and ST = 0.5576, 0.4424, 0.2437.
        assert!((first / variance - 0.3139).abs() < 5e-5 && (first_with_third / variance - 0.2437).abs() < 5e-5);
        let parts = [(first, first + first_with_third), (second, second), (0.0, first_with_third)];
        check(&rows(3, 1, &ishigami), variance, &parts);
    }

    #[test]
    fn sobols_product_has_the_indices_of_its_closed_form() {
        // Saltelli and Sobol' 1995: f = prod (|4 u_i - 2| + a_i)/(1 + a_i), V_i = 1/(3 (1 + a_i)²),
        // V = prod (1 + V_i) - 1, V_Ti = V_i prod over the others of (1 + V_j); from memory.
        let a = [0.0, 1.0, 4.5, 9.0];
        let product =
            move |u: &[f64]| u.iter().zip(a).map(|(u, a)| ((4.0 * u - 2.0).abs() + a) / (1.0 + a)).product::<f64>();
        let own = a.map(|a| 1.0 / (3.0 * (1.0 + a) * (1.0 + a)));
        let all: f64 = own.iter().map(|own| 1.0 + own).product();
        check(&rows(4, 2, &product), all - 1.0, &own.map(|own| (own, own * all / (1.0 + own))));
    }

    #[test]
    fn a_weighted_sum_shares_out_by_the_squares_of_its_weights() {
        // Variances of independent summands add up, and there is no interaction: first-order and total are one.
        let weights = [1.0, 2.0, 3.0, 0.0];
        let sum = move |u: &[f64]| u.iter().zip(weights).map(|(u, weight)| weight * u).sum::<f64>();
        check(&rows(4, 3, &sum), 14.0, &weights.map(|weight| (weight * weight, weight * weight)));
    }

    #[test]
    fn an_input_that_does_nothing_has_no_index() {
        let indices = sobol_indices(&rows(2, 4, &|u| u[0])).unwrap();
        assert!(indices[1].total.abs() < SUMS && indices[1].first.abs() < SUMS, "{:?}", indices[1]);
    }

    #[test]
    fn what_does_not_vary_or_is_no_number_is_refused() {
        for value in [5.0, f64::NAN, f64::INFINITY] {
            assert!(matches!(sobol_indices(&rows(2, 5, &|_| value)), Err(Error::NotPositive { .. })), "{value}");
        }
        assert!(sobol_indices(&[]).is_err());
        let uneven = [vec![1.0], vec![]].map(|at_ab| MixedRow { at_a: 0.0, at_b: 1.0, at_ab });
        let error = sobol_indices(&uneven).unwrap_err();
        assert_eq!(error.to_string(), "a row holds values for 0 inputs, and the first row for 1");
    }
}
