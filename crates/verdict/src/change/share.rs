//! Which change took what share of a margin, and which of them have to go.

use crate::margin::{Holds, Limit, Margin};

/// A margin that moved by less than this share of itself is not told.
const MOVED: f64 = 0.01;

/// One margin before and after, with what each change did to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// The part.
    pub part: String,
    /// What limits it.
    pub limit: Limit,
    /// The load case, or "any".
    pub case: &'static str,
    /// Margin before.
    pub before: f64,
    /// Margin after.
    pub after: f64,
    /// What each change adds to the margin, in the order of the changes; together `after - before`.
    pub by: Vec<f64>,
}

/// Every margin that moved, the tightest after the changes first. `sets` holds the margins of every set of changes.
pub(super) fn shares(sets: &[Vec<Margin>]) -> Vec<Share> {
    let counted = sets.last().into_iter().flatten().filter(|margin| margin.counts());
    let mut shares: Vec<Share> = counted.filter_map(|margin| share(sets, margin)).collect();
    shares.sort_by(|a, b| a.after.total_cmp(&b.after));
    shares
}

fn share(sets: &[Vec<Margin>], place: &Margin) -> Option<Share> {
    let of = |margins: &Vec<Margin>| margins.iter().find(|margin| margin.same_place(place))?.margin;
    let values: Vec<f64> = sets.iter().map(of).collect::<Option<_>>()?;
    let (before, after) = (*values.first()?, *values.last()?);
    let moved = (after - before).abs() > MOVED * before.abs().max(MOVED);
    let by = shapley(&values)?;
    let Margin { part, limit, case, .. } = place;
    moved.then(|| Share { part: part.clone(), limit: *limit, case, before, after, by })
}

/// What each of n members adds to a value known for every one of their 2^n sets (bit i for the i-th member), averaged
/// over every order in which they can come (Shapley 1953, from memory); together the whole less the empty set. None for
/// a number of values that is not a power of two.
pub fn shapley(values: &[f64]) -> Option<Vec<f64>> {
    let count = values.len().is_power_of_two().then(|| values.len().ilog2())?;
    // Weight of a set of s members that are there before: s! (n - s - 1)!/n!.
    let weight = |members: u32| {
        let orders = (1..=members).fold(1.0, |choose, k| choose * f64::from(count - k) / f64::from(k));
        1.0 / (f64::from(count) * orders)
    };
    let share = |member: u32| {
        let sets = (0..values.len()).filter(|set| set >> member & 1 == 0);
        sets.map(|set| weight(set.count_ones()) * (values[set | 1 << member] - values[set])).sum()
    };
    Some((0..count).map(share).collect())
}

/// The smallest sets of changes without which the others hold at point values.
pub(super) fn holds_without(sets: &[Vec<Margin>]) -> Vec<Vec<usize>> {
    let all = sets.len() - 1;
    let mut left_out: Vec<usize> = (1..=all).filter(|out| Holds::of(&sets[all & !out]) != Holds::No).collect();
    left_out.sort_by_key(|out| out.count_ones());
    let mut smallest: Vec<usize> = Vec::new();
    for out in left_out {
        if !smallest.iter().any(|known| known & out == *known) {
            smallest.push(out);
        }
    }
    let places = |out: usize| (0..usize::BITS as usize).filter(|place| out >> place & 1 == 1).collect();
    smallest.into_iter().map(places).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rounding of a few sums.
    const ROUNDING: f64 = 1e-12;

    #[test]
    fn shares_add_up_to_the_whole() {
        let values = [2.0, 1.7, 1.9, 1.1, 1.6, 1.2, 1.5, 0.4];
        let shares = shapley(&values).unwrap();
        assert_eq!(shares.len(), 3);
        assert!((shares.iter().sum::<f64>() - (0.4 - 2.0)).abs() < ROUNDING);
    }

    // Three voters of whom the first two together, or the first with the third, decide: Shapley's value is 2/3, 1/6, 1/6
    // (the textbook game of a member with a veto; from the formula by hand).
    #[test]
    fn a_member_without_whom_nothing_goes_has_the_largest_share() {
        let wins = |set: usize| if set == 0b011 || set == 0b101 || set == 0b111 { 1.0 } else { 0.0 };
        let values: Vec<f64> = (0..8).map(wins).collect();
        for (got, wanted) in shapley(&values).unwrap().iter().zip([2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0]) {
            assert!((got - wanted).abs() < ROUNDING, "{got}, not {wanted}");
        }
    }

    #[test]
    fn a_number_of_values_that_no_members_have_gives_no_shares() {
        assert_eq!((shapley(&[]), shapley(&[1.0, 2.0, 3.0])), (None, None));
    }

    #[test]
    fn only_the_smallest_sets_are_left_out() {
        let margin = |value: f64| vec![Margin::new("pinion", Limit::Root, "launch", 1.0, value)];
        // With the second change it fails, whatever else is done.
        let sets: Vec<Vec<Margin>> = [2.0, 1.5, 0.9, 0.8].map(margin).into();
        assert_eq!(holds_without(&sets), vec![vec![1]]);
    }
}
