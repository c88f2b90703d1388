//! A probability from draws, with the interval that it lies in: its own sampling error.

use crate::error::{Error, positive};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// Confidence of the interval.
const CONFIDENCE: f64 = 0.95;
/// Least design effect that a few scramblings are believed: they cannot show that the draws are worth more than twice as
/// many independent ones (chosen so that the interval holds its confidence over many seeds, see the tests).
const LEAST_EFFECT: f64 = 0.5;

/// Draws of one scrambling, and in how many of them it happened.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Draws in which it happened.
    pub hits: u32,
    /// All draws.
    pub draws: u32,
}

/// A probability with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proportion {
    /// Hits over draws.
    pub value: f64,
    /// Low end of the interval.
    pub low: f64,
    /// High end of the interval.
    pub high: f64,
}

/// On which side of a limit a probability lies, as far as its interval tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The whole interval lies below.
    Below,
    /// The whole interval lies above.
    Above,
    /// The interval holds the limit.
    Open,
}

impl Proportion {
    /// From the tallies of R independent scramblings of a low-discrepancy sequence.
    ///
    /// p = hits/n over all draws. Draws of one scrambling depend on each other, so that n does not tell the error; the
    /// scramblings are independent, and their scatter does: var = R/(R−1) Σ(hits_r − p n_r)²/n² (ratio estimate, Cochran,
    /// Sampling Techniques 1977, 11.7). Design effect D = var n/(p (1−p)) (Kish 1965), at least 0.5, and 1 where p is 0 or
    /// 1 and nothing scatters; n/D is what the draws are worth in independent ones, and goes into Wilson's interval
    /// (1927) with Student's t of R−1: it stays within 0 to 1 and keeps a width at no hit and at all.
    ///
    /// Errors: fewer than two scramblings with draws; more hits than draws.
    pub fn of(tallies: &[Tally]) -> Result<Self, Error> {
        if let Some(tally) = tallies.iter().find(|tally| tally.hits > tally.draws) {
            let value = f64::from(tally.hits) / f64::from(tally.draws);
            return Err(Error::Probability { what: "share of hits of a scrambling".into(), value });
        }
        let used: Vec<[f64; 2]> = tallies
            .iter()
            .filter(|tally| tally.draws > 0)
            .map(|tally| [tally.hits, tally.draws].map(f64::from))
            .collect();
        let freedom = used.len() as f64 - 1.0;
        positive("number of scramblings beyond the first", freedom)?;
        let (hits, draws) = used.iter().fold((0.0, 0.0), |sum, [hits, draws]| (sum.0 + hits, sum.1 + draws));
        let value = hits / draws;
        let squares: f64 = used.iter().map(|[hits, draws]| (hits - value * draws).powi(2)).sum();
        let alone = draws * value * (1.0 - value);
        let effect = if alone > 0.0 { ((1.0 + 1.0 / freedom) * squares / alone).max(LEAST_EFFECT) } else { 1.0 };
        let [low, high] = wilson(value, draws / effect, student(freedom));
        Ok(Self { value, low, high })
    }

    /// Half the interval's width.
    pub fn error(&self) -> f64 {
        (self.high - self.low) / 2.0
    }

    /// On which side of `limit` it lies.
    pub fn side(&self, limit: f64) -> Side {
        if self.high < limit {
            Side::Below
        } else if self.low > limit {
            Side::Above
        } else {
            Side::Open
        }
    }
}

/// Student's quantile of the upper end of the interval.
fn student(freedom: f64) -> f64 {
    let upper = (1.0 + CONFIDENCE) / 2.0;
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |student| student.inverse_cdf(upper))
}

/// (p + t²/2n ± t sqrt(p (1−p)/n + t²/4n²))/(1 + t²/n).
fn wilson(p: f64, n: f64, t: f64) -> [f64; 2] {
    let pull = t * t / n;
    let half = t * (p * (1.0 - p) / n + pull / (4.0 * n)).sqrt();
    let end = |half: f64| ((p + pull / 2.0 + half) / (1.0 + pull)).clamp(0.0, 1.0);
    [end(-half).min(p), end(half).max(p)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::{REPLICATES, dealt, normal_quantile};

    /// Half a unit of the last printed digit.
    const PRINTED: f64 = 5e-5;
    /// Runs with different seeds that an interval's coverage is counted over.
    const SEEDS: u32 = 2000;
    /// Coverage that the interval must keep: 95 % less three standard errors of that many runs, 0.5 % each.
    const LEAST_COVERAGE: f64 = 0.935;

    #[track_caller]
    fn check_wilson(hits: f64, draws: f64, printed: [f64; 2]) {
        let got = wilson(hits / draws, draws, normal_quantile(0.975));
        let off = [got[0] - printed[0], got[1] - printed[1]];
        assert!(off.iter().all(|off| off.abs() <= PRINTED), "{hits} of {draws}: {got:?}, and {printed:?} is printed");
    }

    #[test]
    fn wilsons_interval_is_the_printed_one() {
        // Newcombe 1998, Statistics in Medicine 17, table I, score method without continuity correction; from memory.
        check_wilson(81.0, 263.0, [0.2553, 0.3662]);
        check_wilson(15.0, 148.0, [0.0624, 0.1605]);
        check_wilson(0.0, 20.0, [0.0, 0.1611]);
        check_wilson(1.0, 29.0, [0.0061, 0.1718]);
    }

    #[test]
    fn students_quantile_is_the_tables() {
        // Table of the t distribution, two-sided 5 %: 12.706 at 1, 2.131 at 15 degrees of freedom; from memory.
        assert!((student(1.0) - 12.706).abs() < 5e-4 && (student(15.0) - 2.131).abs() < 5e-4);
    }

    /// Share of seeds whose interval holds the truth, when it happens where `hit` says so of a point.
    fn coverage(draws: u32, inputs: u32, truth: f64, hit: &dyn Fn(&[f64]) -> bool) -> f64 {
        let holds = |seed: u32| {
            let mut tallies = vec![Tally::default(); REPLICATES as usize];
            for number in 0..draws {
                let point: Vec<f64> = (0..inputs).map(|input| dealt(number, input, seed)).collect();
                let tally = &mut tallies[(number % REPLICATES) as usize];
                tally.draws += 1;
                tally.hits += u32::from(hit(&point));
            }
            let got = Proportion::of(&tallies).unwrap();
            got.low <= truth && truth <= got.high
        };
        (0..SEEDS).filter(|seed| holds(*seed)).count() as f64 / f64::from(SEEDS)
    }

    #[track_caller]
    fn check_coverage(draws: u32, inputs: u32, truth: f64, hit: &dyn Fn(&[f64]) -> bool) {
        let got = coverage(draws, inputs, truth, hit);
        assert!(got >= LEAST_COVERAGE, "{draws} draws, {inputs} inputs, truth {truth}: covered in {got}");
    }

    #[test]
    fn the_interval_holds_the_truth_as_often_as_it_says() {
        // A sum of independent standard normal values over sqrt of their number is standard normal: P is the tail's.
        for draws in [128, 256] {
            for truth in [0.01, 0.05, 0.3, 0.9] {
                for inputs in [1, 4, 12] {
                    let bound = normal_quantile(1.0 - truth) * f64::from(inputs).sqrt();
                    let hit = |point: &[f64]| point.iter().map(|u| normal_quantile(*u)).sum::<f64>() > bound;
                    check_coverage(draws, inputs, truth, &hit);
                }
            }
        }
    }

    #[test]
    fn it_holds_too_where_inputs_act_together_alone() {
        // Whether an even number of eight inputs lies below its middle: no seven of them tell anything; P = 1/2 by symmetry.
        check_coverage(128, 8, 0.5, &|point| point.iter().filter(|u| **u < 0.5).count() % 2 == 0);
    }

    #[test]
    fn no_hit_and_all_hits_keep_a_width() {
        let of = |hits: u32| Proportion::of(&[Tally { hits, draws: 8 }; 16]).unwrap();
        assert!(of(0).low == 0.0 && of(0).value == 0.0 && of(0).high > 0.02 && of(0).high < 0.05, "{:?}", of(0));
        assert!(of(8).high == 1.0 && of(8).value == 1.0 && of(8).low < 0.98, "{:?}", of(8));
    }

    #[test]
    fn scramblings_that_differ_widen_the_interval() {
        let of = |hits: [u32; 2]| {
            let tallies: Vec<Tally> = (0..16).map(|place| Tally { hits: hits[place % 2], draws: 8 }).collect();
            Proportion::of(&tallies).unwrap()
        };
        assert_eq!(of([4, 4]).value, of([0, 8]).value);
        assert!(of([0, 8]).error() > 2.0 * of([4, 4]).error());
    }

    #[test]
    fn a_side_is_told_only_where_the_whole_interval_lies_there() {
        let proportion = Proportion { value: 0.04, low: 0.02, high: 0.06 };
        assert_eq!([0.01, 0.05, 0.07].map(|limit| proportion.side(limit)), [Side::Above, Side::Open, Side::Below]);
    }

    #[test]
    fn one_scrambling_and_impossible_counts_are_refused() {
        assert!(matches!(Proportion::of(&[Tally { hits: 1, draws: 8 }]), Err(Error::NotPositive { .. })));
        assert!(matches!(Proportion::of(&[Tally { hits: 9, draws: 8 }; 2]), Err(Error::Probability { .. })));
    }
}
