//! When enough was drawn: draws come in doubling blocks, and end early once the question is answered.

use crate::proportion::{Proportion, Side};
use crate::sampling::REPLICATES;
use std::ops::Range;

/// Share of an end of a range by which it may still have moved over the last block, for the range to count as settled.
pub const SETTLED_SHARE: f64 = 0.02;

/// The blocks in which at most `most` draws are made, the first of `first`; each doubles the draws, so that every
/// scrambling always holds a power of two of its points. Both are taken up to a power of two of at least
/// the number of scramblings.
pub fn blocks(Blocks { first, most }: Blocks) -> Vec<Range<u32>> {
    let whole = |draws: u32| draws.clamp(REPLICATES, MOST_DRAWS).next_power_of_two();
    let (first, most) = (whole(first), whole(most).max(whole(first)));
    let ends = std::iter::successors(Some(first), |end| Some(end * 2)).take_while(|end| *end <= most);
    let ends: Vec<u32> = ends.collect();
    let begins = std::iter::once(0).chain(ends.iter().copied());
    begins.zip(&ends).map(|(begin, end)| begin..*end).collect()
}

/// Most draws: each scrambling has 65 536 points.
const MOST_DRAWS: u32 = 65_536 * REPLICATES;

/// How many draws are made first, and at most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Blocks {
    /// Draws of the first block.
    pub first: u32,
    /// All draws, where nothing ends them early.
    pub most: u32,
}

/// Whether it is answered that every one of some probabilities lies below `limit`: one surely lies above, or all surely
/// below. Each look errs on one margin in 40 at most.
pub fn all_below_answered(probabilities: impl IntoIterator<Item = Proportion>, limit: f64) -> bool {
    let mut open = false;
    for probability in probabilities {
        match probability.side(limit) {
            Side::Above => return true,
            Side::Open => open = true,
            Side::Below => {}
        }
    }
    !open
}

/// Whether the ends of a range moved by no more than [`SETTLED_SHARE`] of themselves since the last block; an end that is
/// not finite is settled where it stays so.
pub fn settled(before: [f64; 2], now: [f64; 2]) -> bool {
    let still =
        |before: f64, now: f64| before == now || (now - before).abs() <= SETTLED_SHARE * now.abs().min(before.abs());
    before.into_iter().zip(now).all(|(before, now)| still(before, now))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(first: u32, most: u32, ends: &[u32]) {
        let got = blocks(Blocks { first, most });
        assert_eq!(got.iter().map(|block| block.end).collect::<Vec<_>>(), ends);
        assert!(got.windows(2).all(|pair| pair[0].end == pair[1].start) && got[0].start == 0, "{got:?}");
    }

    #[test]
    fn blocks_double_from_the_first_to_the_most() {
        check(128, 1024, &[128, 256, 512, 1024]);
        check(64, 64, &[64]);
    }

    #[test]
    fn blocks_are_powers_of_two_and_hold_every_scrambling() {
        check(100, 300, &[128, 256, 512]);
        check(0, 0, &[REPLICATES]);
        check(256, 64, &[256]);
    }

    #[test]
    fn the_question_is_answered_by_one_above_or_by_all_below() {
        let below = Proportion { value: 0.0, low: 0.0, high: 0.03 };
        let open = Proportion { value: 0.04, low: 0.02, high: 0.08 };
        let above = Proportion { value: 0.2, low: 0.1, high: 0.3 };
        let answered = |all: &[Proportion]| all_below_answered(all.iter().copied(), 0.05);
        assert!(answered(&[below, below]) && answered(&[open, above]) && answered(&[]));
        assert!(!answered(&[below, open]));
    }

    #[test]
    fn a_range_is_settled_when_both_ends_stand_still() {
        assert!(settled([1.0, 2.0], [1.01, 2.0]) && !settled([1.0, 2.0], [1.0, 2.1]));
        assert!(settled([0.0, f64::INFINITY], [0.0, f64::INFINITY]));
        assert!(!settled([0.0, f64::INFINITY], [0.0, 5.0]) && !settled([0.0, 5.0], [0.0, f64::INFINITY]));
    }
}
