//! The standard normal distribution, and a lognormal demand against a capacity.

use crate::error::{Error, positive};
use statrs::function::erf::erfc;

/// P(Z <= z) of a standard normal variable: erfc(-z / sqrt 2) / 2.
///
/// Source: NIST Digital Library of Mathematical Functions, 7.18 and 7.2.2; the complement keeps the digits of the tail.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}

/// A demand that spreads lognormally about its median, against a fixed capacity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LognormalDemand {
    /// Capacity divided by the median demand, above 0.
    pub margin: f64,
    /// Standard deviation of the demand's logarithm, above 0.
    pub log_deviation: f64,
}

impl LognormalDemand {
    /// P(demand > capacity) = Phi(-ln(margin) / s), s the standard deviation of ln(demand).
    pub fn probability_exceeded(&self) -> Result<f64, Error> {
        positive("margin", self.margin)?;
        positive("deviation of the demand's logarithm", self.log_deviation)?;
        Ok(normal_cdf(-self.margin.ln() / self.log_deviation))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The quantiles below are printed with five digits behind the point: half a digit times the density 0.06 at 1.96.
    const PRINTED_QUANTILE: f64 = 5e-6;

    #[track_caller]
    fn check(z: f64, expected: f64, tolerance: f64) {
        let got = normal_cdf(z);
        assert!((got - expected).abs() <= tolerance, "Phi({z}) = {got}, expected {expected}");
    }

    #[test]
    fn the_usual_quantiles_come_back() {
        // Quantiles of the standard normal table, from memory.
        check(0.0, 0.5, 1e-15);
        check(1.64485, 0.95, PRINTED_QUANTILE);
        check(1.95996, 0.975, PRINTED_QUANTILE);
        check(-2.32635, 0.01, PRINTED_QUANTILE);
    }

    #[test]
    fn the_far_tail_keeps_its_digits() {
        // Mills ratio series phi(z)/z (1 - 1/z^2 + 3/z^4 - 15/z^6 + 105/z^8), Abramowitz and Stegun 26.2.12; the first
        // term left out is below 1e-6 at z = 10.
        let z: f64 = 10.0;
        let series = 1.0 - z.powi(-2) + 3.0 * z.powi(-4) - 15.0 * z.powi(-6) + 105.0 * z.powi(-8);
        let density = (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
        let expected = density / z * series;
        check(-z, expected, 1e-6 * expected);
    }

    #[test]
    fn a_margin_of_one_is_exceeded_half_the_time() {
        let demand = LognormalDemand { margin: 1.0, log_deviation: 0.3 };
        assert_eq!(demand.probability_exceeded().unwrap(), 0.5);
        let safer = LognormalDemand { margin: 0.3_f64.exp(), log_deviation: 0.3 };
        let got = safer.probability_exceeded().unwrap();
        assert!((got - normal_cdf(-1.0)).abs() < 1e-15, "{got}");
    }

    #[test]
    fn no_margin_is_no_question() {
        let error = LognormalDemand { margin: 0.0, log_deviation: 0.3 }.probability_exceeded().unwrap_err();
        assert_eq!(error.to_string(), "margin is 0, and must be above 0");
    }
}
