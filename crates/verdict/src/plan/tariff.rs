//! What every combination of cures costs, each step and each removal once.

use super::{Choice, Planner};
use toothsayer_fault_book::{MOST_STEPS, Removal, Step};
use toothsayer_quantity::Money;

const WORDS: usize = MOST_STEPS / 64;

/// Places in the book, of steps or removals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Bits([u64; WORDS]);

impl Bits {
    fn of(places: impl Iterator<Item = usize>) -> Bits {
        places.fold(Bits::default(), Bits::with)
    }

    fn with(mut self, place: usize) -> Bits {
        self.0[place / 64] |= 1 << (place % 64);
        self
    }

    fn without(mut self, place: usize) -> Bits {
        self.0[place / 64] &= !(1 << (place % 64));
        self
    }

    fn or(self, other: Bits) -> Bits {
        Bits(std::array::from_fn(|word| self.0[word] | other.0[word]))
    }

    fn meets(self, other: Bits) -> bool {
        (0..WORDS).any(|word| self.0[word] & other.0[word] != 0)
    }

    fn places(self) -> impl Iterator<Item = usize> {
        self.0.into_iter().enumerate().flat_map(|(word, mut bits)| {
            std::iter::from_fn(move || {
                let bit = (bits != 0).then(|| bits.trailing_zeros() as usize)?;
                bits &= bits - 1;
                Some(64 * word + bit)
            })
        })
    }
}

/// One step's part of the price.
struct StepCost {
    minutes: f64,
    parts_minor: i64,
    /// What must be off for it, and for that.
    off: Bits,
    /// Where it only tightens a joint: the steps for which a part comes off whose putting back tightens the same.
    done_by: Bits,
}

/// The prices of one job.
pub(super) struct Tariff {
    steps: Vec<StepCost>,
    removal_minutes: Vec<f64>,
    labour_rate: Money,
    wanted: Bits,
    /// Steps of each choice.
    cures: Vec<Bits>,
}

impl Tariff {
    pub(super) fn new(planner: &Planner<'_>, choices: &[Choice<'_>]) -> Tariff {
        let book = planner.diagnosis.book;
        let off = |step: &Step| book.removals_for(step.needs.iter().map(String::as_str));
        let place = |removal: &Removal| book.removals().iter().position(|one| one.id == removal.id);
        let parts_minor = |step: &Step| -> i64 {
            let prices = step.parts.iter().filter_map(|name| planner.part(name).price);
            prices.map(|price| price.minor).sum()
        };
        let cost = |(at, step): (usize, &Step)| {
            let tightens = |other: &Step| {
                step.tightens.is_some() && off(other).iter().any(|removal| removal.tightens == step.tightens)
            };
            let others = book.steps().iter().enumerate().filter(|(other, _)| *other != at);
            StepCost {
                minutes: step.minutes,
                parts_minor: parts_minor(step),
                off: Bits::of(off(step).into_iter().filter_map(place)),
                done_by: Bits::of(others.filter(|(_, other)| tightens(other)).map(|(other, _)| other)),
            }
        };
        let named = |wanted: &dyn Fn(&Step) -> bool| {
            let steps = book.steps().iter().enumerate();
            Bits::of(steps.filter(|(_, step)| wanted(step)).map(|(at, _)| at))
        };
        Tariff {
            steps: book.steps().iter().enumerate().map(cost).collect(),
            removal_minutes: book.removals().iter().map(|removal| removal.off_minutes + removal.on_minutes).collect(),
            labour_rate: planner.job.shop.labour_rate,
            wanted: named(&|step| planner.is_wanted(step)),
            cures: choices.iter().map(|choice| named(&|step| choice.cause.cured_by.contains(&step.id))).collect(),
        }
    }

    /// The price of every combination: bit i of the place says that choice i is made.
    pub(super) fn prices(&self) -> Vec<Money> {
        let mut steps = vec![self.wanted; 1 << self.cures.len()];
        for set in 1..steps.len() {
            steps[set] = steps[set & (set - 1)].or(self.cures[set.trailing_zeros() as usize]);
        }
        steps.into_iter().map(|steps| self.price(steps)).collect()
    }

    fn price(&self, steps: Bits) -> Money {
        let again = steps.places().filter(|step| self.steps[*step].done_by.meets(steps));
        let steps = again.fold(steps, Bits::without);
        let mut off = Bits::default();
        let (mut minutes, mut minor) = (0.0, 0);
        for step in steps.places().map(|step| &self.steps[step]) {
            off = off.or(step.off);
            minutes += step.minutes;
            minor += step.parts_minor;
        }
        minutes += off.places().map(|removal| self.removal_minutes[removal]).sum::<f64>();
        let labour = self.labour_rate.for_minutes(minutes);
        Money { minor: labour.minor + minor, ..labour }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(places: &[usize]) {
        let bits = Bits::of(places.iter().copied());
        assert_eq!(bits.places().collect::<Vec<_>>(), places);
        assert!(places.iter().all(|place| bits.meets(Bits::default().with(*place))));
        let none = places.iter().fold(bits, |bits, place| bits.without(*place));
        assert_eq!(none, Bits::default());
    }

    #[test]
    fn places_are_told_in_order_across_words() {
        check(&[]);
        check(&[0, 63, 64, 200, MOST_STEPS - 1]);
    }
}
