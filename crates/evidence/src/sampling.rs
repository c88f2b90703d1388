//! Draws that fill a space evenly, and values from a range that people stated.

use statrs::distribution::{ContinuousCDF, Normal};

/// Standard normal quantile of the ends of a stated range: they are taken as its 5 % and 95 % points.
const END_Z: f64 = 1.644_853_626_951_472_7;
/// Draws go a little past the stated ends and no further, so that no input leaves what was stated by much.
const MOST_Z: f64 = 2.0;
/// Ranges wider than this factor, all positive, are spread evenly in logarithms.
const LOGARITHMIC_FROM: f64 = 1.3;

/// Independent scramblings that draws are dealt out to.
pub const REPLICATES: u32 = 16;

/// A value with the range that it lies in, nine times in ten.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StatedRange {
    /// Low end.
    pub low: f64,
    /// What is usual: the median.
    pub usual: f64,
    /// High end.
    pub high: f64,
}

/// The `index`-th point of a scrambled Sobol sequence in one dimension (Owen scrambling), inside 0 to 1.
///
/// The same index, dimension and seed give the same bits. Dimensions beyond 255 and indices beyond 65 535 start again
/// with another seed: an independent sequence.
pub fn draw(index: u32, dimension: u32, seed: u32) -> f64 {
    let (set, within) = (dimension / 256, dimension % 256);
    let (round, index) = (index / 65_536, index % 65_536);
    let seed = seed.wrapping_add(set.wrapping_mul(0x9e37_79b9)).wrapping_add(round.wrapping_mul(0xc2b2_ae35));
    f64::from(sobol_burley::sample(index, within, seed)).clamp(1e-6, 1.0 - 1e-6)
}

/// The `number`-th of draws that are dealt out in turn to [`REPLICATES`] independent scramblings, whose scatter tells the
/// error of what is made of them. Of a power of two of draws each scrambling holds a power of two of its points.
pub fn dealt(number: u32, dimension: u32, seed: u32) -> f64 {
    let own = (number % REPLICATES).wrapping_mul(0x85eb_ca6b);
    draw(number / REPLICATES, dimension, seed ^ own)
}

impl StatedRange {
    /// The value below which a share `u` (0 to 1) of the cases lies: two half-normal pieces that meet at the usual
    /// value, in logarithms where the range is wide and positive.
    pub fn quantile(&self, u: f64) -> f64 {
        let z = normal_quantile(u).clamp(-MOST_Z, MOST_Z) / END_Z;
        let end = if z < 0.0 { self.low } else { self.high };
        if self.low > 0.0 && self.high > LOGARITHMIC_FROM * self.low {
            self.usual * (end / self.usual).powf(z.abs())
        } else {
            self.usual + (end - self.usual) * z.abs()
        }
    }
}

/// Quantile of the standard normal distribution.
pub fn normal_quantile(u: f64) -> f64 {
    Normal::standard().inverse_cdf(u)
}

/// The value that a share `u` of `sorted` lies below, between neighbours in proportion.
pub fn empirical_quantile(sorted: &[f64], u: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = u.clamp(0.0, 1.0) * last as f64;
    let (below, share) = (place.floor() as usize, place.fract());
    let above = (below + 1).min(last);
    Some(sorted[below] + share * (sorted[above] - sorted[below]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stated_ends_are_the_five_and_ninety_five_percent_points() {
        for range in [
            StatedRange { low: 1.0, usual: 2.0, high: 8.0 },
            StatedRange { low: -1.0, usual: 0.0, high: 3.0 },
            StatedRange { low: 0.98, usual: 1.0, high: 1.01 },
        ] {
            assert!((range.quantile(0.05) - range.low).abs() < 1e-9, "{range:?}");
            assert!((range.quantile(0.5) - range.usual).abs() < 1e-9, "{range:?}");
            assert!((range.quantile(0.95) - range.high).abs() < 1e-9, "{range:?}");
        }
    }

    #[test]
    fn draws_fill_the_interval_and_repeat() {
        let mean = (0..256).map(|index| draw(index, 3, 7)).sum::<f64>() / 256.0;
        assert!((mean - 0.5).abs() < 2e-3, "{mean}");
        assert_eq!(draw(17, 300, 1), draw(17, 300, 1));
    }

    // Of n numbers drawn evenly and independently the mean has the standard error 1/sqrt(12 n).
    #[test]
    fn dealt_draws_are_even_and_of_independent_scramblings() {
        let of = |from: u32, step: usize| (from..256).step_by(step).map(|number| dealt(number, 3, 7));
        let mean = |values: Vec<f64>| values.iter().sum::<f64>() / values.len() as f64;
        let independent = 1.0 / (12.0 * 256.0_f64).sqrt();
        assert!((mean(of(0, 1).collect()) - 0.5).abs() < independent);
        let firsts: Vec<f64> = (0..REPLICATES).map(|number| dealt(number, 3, 7)).collect();
        assert!(firsts.iter().all(|one| firsts.iter().filter(|other| *other == one).count() == 1), "{firsts:?}");
    }

    #[test]
    fn indices_beyond_the_sequence_go_on_in_another() {
        assert!((0.0..1.0).contains(&draw(65_536, 0, 1)) && draw(65_536, 0, 1) != draw(0, 0, 1));
    }

    // Standard normal table: z of 0.975 is 1.959964.
    #[test]
    fn the_normal_quantile_is_the_tables() {
        assert!((normal_quantile(0.975) - 1.959_964).abs() < 1e-6);
    }

    #[test]
    fn a_quantile_lies_between_its_neighbours() {
        assert_eq!(empirical_quantile(&[1.0, 2.0, 4.0], 0.75), Some(3.0));
        assert_eq!(empirical_quantile(&[], 0.5), None);
    }
}
