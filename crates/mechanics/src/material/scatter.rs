//! How far a material's properties spread from piece to piece.

use serde::Deserialize;

/// Relative standard deviations of a gear material's properties, for Monte Carlo (elicited).
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scatter {
    /// Of the root limit.
    pub root: f64,
    /// Of the flank limit.
    pub flank: f64,
    /// Of the elastic modulus.
    pub modulus: f64,
    /// Of a hardness that was not measured; 0 where no hardness is read.
    pub hardness: f64,
}

/// The factor on a property at `z` standard normal deviates: lognormal about the median 1, exp(z sqrt(ln(1 + s^2))),
/// s the relative standard deviation. A strength stays above 0 however deep the draw.
pub fn spread_factor(relative_deviation: f64, z: f64) -> f64 {
    (z * relative_deviation.powi(2).ln_1p().sqrt()).exp()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_median_is_one_and_small_scatter_spreads_by_itself() {
        assert_eq!(spread_factor(0.1, 0.0), 1.0);
        assert!((spread_factor(0.01, 1.0) - 1.01).abs() < 1e-4);
        assert!((spread_factor(0.3, 2.0) * spread_factor(0.3, -2.0) - 1.0).abs() < 1e-12);
    }
}
