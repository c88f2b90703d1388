//! One step of the Dormand-Prince 5(4) pair (Dormand and Prince, J. Comp. Appl. Math. 6 (1980) 19-26, table 2).

use super::model::Model;
use super::state::{COUNT, State};

const A2: [f64; 1] = [1.0 / 5.0];
const A3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
const A4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
const A5: [f64; 4] = [19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0];
const A6: [f64; 5] = [9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0];
const B: [f64; 6] = [35.0 / 384.0, 0.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0];

/// Difference of the fifth- and the fourth-order weights.
const E: [f64; 7] =
    [71.0 / 57600.0, 0.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];

/// A trial step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trial {
    pub state: State,
    /// Rates at its end: the first stage of the next step.
    pub rates: State,
    /// Error estimate over the tolerance; 1 is the limit.
    pub error: f64,
}

/// Evaluations of the rates that a trial costs.
pub(super) const EVALUATIONS: u32 = 6;

/// Steps by h (s) from a state with known rates; `scale` is what an error of one in each state is measured by.
pub(super) fn step(model: &Model, from: &State, rates: &State, h: f64, scale: &State) -> Trial {
    let k1 = *rates;
    let k2 = model.rates(&combine(from, h, A2, [&k1]));
    let k3 = model.rates(&combine(from, h, A3, [&k1, &k2]));
    let k4 = model.rates(&combine(from, h, A4, [&k1, &k2, &k3]));
    let k5 = model.rates(&combine(from, h, A5, [&k1, &k2, &k3, &k4]));
    let k6 = model.rates(&combine(from, h, A6, [&k1, &k2, &k3, &k4, &k5]));
    let state = combine(from, h, B, [&k1, &k2, &k3, &k4, &k5, &k6]);
    let k7 = model.rates(&state);
    let error = combine(&[0.0; COUNT], h, E, [&k1, &k2, &k3, &k4, &k5, &k6, &k7]);
    let square: f64 = error.iter().zip(scale).map(|(error, scale)| (error / scale).powi(2)).sum();
    Trial { state, rates: k7, error: (square / COUNT as f64).sqrt() }
}

/// from + h (w1 k1 + w2 k2 + ...).
#[inline(always)]
fn combine<const N: usize>(from: &State, h: f64, weights: [f64; N], slopes: [&State; N]) -> State {
    std::array::from_fn(|i| {
        let mut sum = 0.0;
        for n in 0..N {
            sum += weights[n] * slopes[n][i];
        }
        from[i] + h * sum
    })
}

/// The cubic through both ends of a step with their rates, at a share of it.
pub(super) fn between(from: (&State, &State), to: (&State, &State), h: f64, share: f64) -> State {
    let (t, u) = (share, 1.0 - share);
    let weights = [(1.0 + 2.0 * t) * u * u, h * t * u * u, t * t * (3.0 - 2.0 * t), -h * t * t * u];
    std::array::from_fn(|i| {
        weights[0] * from.0[i] + weights[1] * from.1[i] + weights[2] * to.0[i] + weights[3] * to.1[i]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Conditions of consistency that any Runge-Kutta table of order five meets.
    #[test]
    fn the_table_is_consistent() {
        let rows: [&[f64]; 6] = [&A2, &A3, &A4, &A5, &A6, &B];
        let nodes = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
        for (row, node) in rows.iter().zip(nodes) {
            assert!((row.iter().sum::<f64>() - node).abs() < 1e-14);
        }
        for power in 1..=4 {
            let moment: f64 =
                B.iter().zip([0.0, 0.2, 0.3, 0.8, 8.0 / 9.0, 1.0]).map(|(b, c)| b * f64::powi(c, power)).sum();
            assert!((moment - 1.0 / f64::from(power + 1)).abs() < 1e-14, "power {power}: {moment}");
        }
        assert!(E.iter().sum::<f64>().abs() < 1e-15);
    }
}
