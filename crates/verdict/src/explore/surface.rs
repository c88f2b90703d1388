//! A surface through simulated points (kriging): values at points nobody simulated, from those that were.
//!
//! y(x) = m + sum_i w_i k(|x - x_i|/l), k(r) = (1 + sqrt(3) r) exp(-sqrt(3) r), Matern's form of smoothness 3/2; m is the
//! mean, the weights solve (K + g 1) w = y - m. Length l and nugget g are those of least leave-one-out error
//! e_i = w_i/[(K + g 1)^-1]_ii among a few (Dubrule 1983, from memory). Coordinates run from 0 to 1.

use rayon::prelude::*;

/// Lengths and nuggets that are tried.
const LENGTHS: [f64; 4] = [1.0, 2.0, 3.5, 6.0];
const NUGGETS: [f64; 3] = [1e-5, 1e-4, 1e-3];
/// Points that length and nugget are chosen on.
const CHOSEN_ON: usize = 160;

/// Points with what was found there.
pub(super) struct Known {
    /// Coordinates, 0 to 1.
    pub(super) at: Vec<Vec<f64>>,
    /// Values of every output, point by point.
    pub(super) values: Vec<Vec<f64>>,
}

/// The surface.
pub(super) struct Surface {
    at: Vec<Vec<f64>>,
    /// Weights of every output, point by point.
    weights: Vec<Vec<f64>>,
    means: Vec<f64>,
    length: f64,
}

impl Surface {
    /// The surface through some points; none where they give no solution.
    pub(super) fn through(known: Known) -> Option<Surface> {
        let few = known.at.len().min(CHOSEN_ON);
        let tried: Vec<(f64, f64)> =
            LENGTHS.iter().flat_map(|length| NUGGETS.iter().map(move |nugget| (*length, *nugget))).collect();
        let errors: Vec<f64> = tried
            .par_iter()
            .map(|(length, nugget)| left_out(&known, few, *length, *nugget).unwrap_or(f64::INFINITY))
            .collect();
        let (best, _) = errors.iter().enumerate().min_by(|a, b| a.1.total_cmp(b.1))?;
        let (length, nugget) = tried[best];
        let means = means(&known.values)?;
        let lower = cholesky(&matrix(&known.at, length, nugget), known.at.len())?;
        let weights = solve(&lower, centred(&known.values, &means));
        Some(Surface { at: known.at, weights, means, length })
    }

    /// Every output at a point.
    pub(super) fn at(&self, point: &[f64]) -> Vec<f64> {
        let mut values = self.means.clone();
        for (at, weights) in self.at.iter().zip(&self.weights) {
            let near = kernel(distance(at, point) / self.length);
            values.iter_mut().zip(weights).for_each(|(value, weight)| *value += near * weight);
        }
        values
    }
}

fn distance(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt()
}

fn kernel(r: f64) -> f64 {
    let r = 3.0_f64.sqrt() * r;
    (1.0 + r) * (-r).exp()
}

/// The symmetric matrix K + g 1, row by row.
fn matrix(at: &[Vec<f64>], length: f64, nugget: f64) -> Vec<f64> {
    let row = |(i, a): (usize, &Vec<f64>)| -> Vec<f64> {
        let near = |(j, b): (usize, &Vec<f64>)| kernel(distance(a, b) / length) + if i == j { nugget } else { 0.0 };
        at.iter().enumerate().map(near).collect()
    };
    at.iter().enumerate().flat_map(row).collect()
}

/// Sum of the squares of the leave-one-out errors of the first `few` points.
fn left_out(known: &Known, few: usize, length: f64, nugget: f64) -> Option<f64> {
    let values = &known.values[..few];
    let lower = cholesky(&matrix(&known.at[..few], length, nugget), few)?;
    let weights = solve(&lower, centred(values, &means(values)?));
    let unit = |i: usize| (0..few).map(|j| vec![f64::from(u8::from(i == j))]).collect::<Vec<_>>();
    // The inverse's diagonal: [A^-1]_ii = |L^-1 e_i|^2.
    let diagonal = (0..few).map(|i| forward(&lower, unit(i)).iter().map(|row| row[0] * row[0]).sum::<f64>());
    Some(diagonal.zip(&weights).flat_map(|(d, row)| row.iter().map(move |w| (w / d) * (w / d))).sum())
}

fn means(values: &[Vec<f64>]) -> Option<Vec<f64>> {
    let mut sums = vec![0.0; values.first()?.len()];
    values.iter().for_each(|row| sums.iter_mut().zip(row).for_each(|(sum, value)| *sum += value));
    Some(sums.into_iter().map(|sum| sum / values.len() as f64).collect())
}

fn centred(values: &[Vec<f64>], means: &[f64]) -> Vec<Vec<f64>> {
    values.iter().map(|row| row.iter().zip(means).map(|(value, mean)| value - mean).collect()).collect()
}

/// L of A = L L^T, row by row; none where A is not positive definite.
fn cholesky(matrix: &[f64], n: usize) -> Option<Vec<f64>> {
    let mut lower = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let (a, b) = (&lower[i * n..i * n + j], &lower[j * n..j * n + j]);
            let rest = matrix[i * n + j] - a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
            lower[i * n + j] = if i == j { (rest > 0.0).then(|| rest.sqrt())? } else { rest / lower[j * n + j] };
        }
    }
    Some(lower)
}

/// L y = b for every column of b.
fn forward(lower: &[f64], mut b: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let n = b.len();
    for i in 0..n {
        let (done, rest) = b.split_at_mut(i);
        for (factor, row) in lower[i * n..i * n + i].iter().zip(done.iter()) {
            rest[0].iter_mut().zip(row).for_each(|(value, known)| *value -= factor * known);
        }
        rest[0].iter_mut().for_each(|value| *value /= lower[i * n + i]);
    }
    b
}

/// (L L^T) x = b.
fn solve(lower: &[f64], b: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let mut x = forward(lower, b);
    let n = x.len();
    for i in (0..n).rev() {
        let (rest, done) = x.split_at_mut(i + 1);
        for (offset, row) in done.iter().enumerate() {
            let factor = lower[(i + 1 + offset) * n + i];
            rest[i].iter_mut().zip(row).for_each(|(value, known)| *value -= factor * known);
        }
        rest[i].iter_mut().for_each(|value| *value /= lower[i * n + i]);
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The nugget lets the surface miss its own points by about its share of the values.
    const NUGGET_SHARE: f64 = 2e-3;
    /// What sixty points leave of a smooth function in two directions.
    const SMOOTH: f64 = 0.02;

    fn smooth(x: f64, y: f64) -> Vec<f64> {
        vec![(2.0 * x).sin() + y * y, 3.0 - x * y]
    }

    fn points(count: u32) -> Vec<Vec<f64>> {
        (0..count).map(|index| (0..2).map(|d| toothsayer_evidence::draw(index, d, 1)).collect()).collect()
    }

    #[track_caller]
    fn check(at: &[f64], wanted: &[f64], bound: f64) {
        let known = points(60);
        let values = known.iter().map(|at| smooth(at[0], at[1])).collect();
        let surface = Surface::through(Known { at: known, values }).unwrap();
        for (got, wanted) in surface.at(at).iter().zip(wanted) {
            assert!((got - wanted).abs() < bound, "{got} for {wanted} at {at:?}");
        }
    }

    #[test]
    fn the_surface_passes_through_its_points() {
        let at = &points(60)[17];
        check(at, &smooth(at[0], at[1]), NUGGET_SHARE);
    }

    #[test]
    fn between_its_points_it_follows_a_smooth_function() {
        check(&[0.31, 0.62], &smooth(0.31, 0.62), SMOOTH);
        check(&[0.72, 0.44], &smooth(0.72, 0.44), SMOOTH);
    }

    // Closed form: A = [[4, 2], [2, 3]], b = [2, 5] gives x = [-0.5, 2].
    #[test]
    fn a_system_of_two_is_solved() {
        let lower = cholesky(&[4.0, 2.0, 2.0, 3.0], 2).unwrap();
        let x = solve(&lower, vec![vec![2.0], vec![5.0]]);
        assert!((x[0][0] + 0.5).abs() < 1e-12 && (x[1][0] - 2.0).abs() < 1e-12, "{x:?}");
        assert!(cholesky(&[1.0, 2.0, 2.0, 1.0], 2).is_none());
    }
}
