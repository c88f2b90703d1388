//! The combinations that none beats in price, in how little is changed, in margin and in top speed at once.

use super::Combination;
use super::estimate::Guess;
use super::ground::Ground;
use super::space::Places;
use crate::Error;

/// Combinations near the front that are computed in full, and those that are told.
const IN_FULL: usize = 64;
const TOLD: usize = 10;
/// More margin than this is not worth another part (common practice, no source).
const AMPLE: f64 = 2.0;
/// Margins and top speeds closer than this share count as the same: finer than the estimate or a bench tells.
const SAME: f64 = 0.02;

/// What combinations are compared by; larger is better.
pub(super) type Merits = [f64; 4];

/// In steps of [`SAME`], so that what differs by less is no reason.
fn step(value: f64) -> f64 {
    (value.max(1e-9).ln() / SAME).floor()
}

fn merits(price_minor: i64, changes: u32, moved: f64, top_m_s: f64) -> Merits {
    [-(price_minor as f64), -f64::from(changes), step(moved.min(AMPLE)), step(top_m_s)]
}

fn of_guess(guess: &Guess) -> Merits {
    merits(guess.price_minor, guess.changes, guess.moved, guess.top_m_s)
}

pub(super) fn of_combination(one: &Combination) -> Merits {
    merits(one.price.minor, one.words.len() as u32, one.moved(), one.top_speed.to_m_per_s())
}

/// Whether something is as good as another in everything, and better in something.
#[cfg(test)]
pub(super) fn beats(one: &Merits, other: &Merits) -> bool {
    one != other && one.iter().zip(other).all(|(one, other)| one >= other)
}

/// Places of those that no other beats: as good in everything and better in something; of equals the first.
fn unbeaten(merits: &[Merits]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..merits.len()).collect();
    let sum = |place: usize| merits[place].map(f64::to_bits);
    order.sort_by(|a, b| {
        let (one, other) = (&merits[*a], &merits[*b]);
        let first = one.iter().zip(other).map(|(a, b)| b.total_cmp(a)).find(|order| order.is_ne());
        first.unwrap_or_else(|| a.cmp(b))
    });
    order.dedup_by_key(|place| sum(*place));
    // In this order whatever beats a combination stands before it.
    let mut front: Vec<usize> = Vec::new();
    for place in order {
        let beats = |known: &usize| merits[*known].iter().zip(&merits[place]).all(|(known, own)| known >= own);
        if !front.iter().any(beats) {
            front.push(place);
        }
    }
    front
}

/// Some of a list, evenly over its order, first and last among them.
fn spread<T: Copy>(all: &[T], most: usize) -> Vec<T> {
    if all.len() <= most {
        return all.to_vec();
    }
    (0..most).map(|place| all[place * (all.len() - 1) / (most - 1)]).collect()
}

/// The front of what fulfils the wishes, computed in full, cheapest first; and how many stood on the estimated front.
pub(super) fn front(ground: &Ground<'_>, fit: &[Guess]) -> Result<(Vec<Combination>, usize), Error> {
    let estimated = unbeaten(&fit.iter().map(of_guess).collect::<Vec<_>>());
    let wanted: Vec<Places> = spread(&estimated, IN_FULL).into_iter().map(|place| fit[place].places).collect();
    let full: Vec<Combination> = ground.full(&wanted)?.into_iter().flatten().collect();
    let held: Vec<Combination> = full.into_iter().filter(|one| ground.wishes.fulfilled(one)).collect();
    let best = unbeaten(&held.iter().map(of_combination).collect::<Vec<_>>());
    Ok((spread(&best, TOLD).into_iter().map(|place| held[place].clone()).collect(), estimated.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By brute force: everything that some other beats is left out, and nothing else.
    #[test]
    fn the_front_is_that_of_comparing_each_with_each() {
        let at = |number: u32| std::array::from_fn(|d| (5.0 * toothsayer_evidence::draw(number, d as u32, 3)).floor());
        let merits: Vec<Merits> = (0..200).map(at).collect();
        let front = unbeaten(&merits);
        let beaten = |own: &Merits| merits.iter().any(|other| beats(other, own));
        for (place, own) in merits.iter().enumerate() {
            let told = front.iter().any(|known| merits[*known] == *own);
            assert_eq!(told, !beaten(own), "{place}: {own:?}");
        }
    }

    #[test]
    fn a_spread_keeps_both_ends() {
        assert_eq!(spread(&[1, 2, 3, 4, 5, 6, 7], 3), [1, 4, 7]);
        assert_eq!(spread(&[1, 2], 3), [1, 2]);
    }
}
