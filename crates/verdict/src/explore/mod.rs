//! The change explorer: what would have to change for a truck to hold, over everything that the shop can fit and set.
//!
//! A quick estimate of the blows is learned from simulated trucks and held against others; it judges every combination.
//! What is told is computed in full: the smallest changes that make the truck hold, the front of price, changes, margin
//! and top speed, and the least margin over single values.

#[cfg(test)]
mod brute_force;
mod curves;
mod estimate;
mod front;
mod ground;
mod price;
mod score;
mod smallest;
mod space;
mod surface;
mod surrogate;

pub use curves::{Curve, CurvePoint};
pub use smallest::Answer;

use crate::Error;
use crate::bay::Bay;
use crate::makers_limits::{MakersLimit, makers_limits};
use crate::margin::Margin;
use crate::peaks::Memo;
use crate::ranges::Watch;
use crate::states::{Loaded, windows};
use crate::stopping::Stopping;
use estimate::Guess;
use ground::Ground;
use price::Prices;
use space::{Space, THINGS};
use std::sync::atomic::AtomicU32;
use surrogate::Surrogate;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, Sheet};
use toothsayer_quantity::{Force, Length, Money, Speed};

/// Trucks simulated at most, roughly: what the progress counts to.
const WORK: u32 = 600;

/// What a combination must fulfil besides its makers' limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wishes {
    /// Least margin of what the combinations move, 1 or more for reserve; what they do not move need only hold.
    pub least_margin: f64,
    /// Least top speed.
    pub top_speed: Option<Speed>,
    /// Longest way to a stop from the speed of a full brake.
    pub stop_within: Option<Length>,
}

impl Wishes {
    /// Whether top speed and way to a stop suit.
    fn suits(&self, top_m_s: f64, stop_m: f64) -> bool {
        self.top_speed.is_none_or(|least| top_m_s >= least.to_m_per_s())
            && self.stop_within.is_none_or(|most| stop_m <= most.to_m())
    }

    /// Whether a combination fulfils every wish.
    pub fn fulfilled(&self, one: &Combination) -> bool {
        let stop_m = one.stop.distance.map_or(f64::INFINITY, |way| way.to_m());
        one.nearness(self.least_margin) >= 1.0 && self.suits(one.top_speed.to_m_per_s(), stop_m)
    }
}

/// What is explored.
pub struct Explore<'a> {
    /// The job: its shop, its stock truck.
    pub job: &'a Job,
    /// The fault book: what work takes how long.
    pub book: &'a FaultBook,
    /// The truck that is changed.
    pub truck: &'a Sheet,
    /// Whether its gears have run.
    pub run_in: bool,
    /// What a combination must fulfil.
    pub wishes: Wishes,
}

/// A combination of changes with what it does.
#[derive(Clone, Debug)]
pub struct Combination {
    /// What is changed, in words, one a thing.
    pub words: Vec<String>,
    /// The changes as typed behind `--set`.
    pub set: Vec<String>,
    /// How far it is from what the truck has, in teeth, tenths of a strength, cells and choices together.
    pub steps: u32,
    /// Labour and parts.
    pub price: Money,
    /// Minutes of work.
    pub minutes: f64,
    /// Parts that the shop lists no price for, counted at that of one of the same sort.
    pub unlisted: Vec<String>,
    /// Parts that no price is known for: they are not counted.
    pub unpriced: Vec<String>,
    /// The least margin of all that count.
    pub least: Margin,
    /// The least of the margins that the combinations move: overlap, gap, pitch and stripping threads stay as they are.
    pub moved: Margin,
    /// Top speed.
    pub top_speed: Speed,
    /// Force at the tread in a launch.
    pub pull: Force,
    /// The way to a stop from the speed of a full brake.
    pub stop: Stopping,
    /// Whether it was computed in full.
    pub full: bool,
}

impl Combination {
    /// The least margin; without end where nothing loads anything.
    pub fn margin(&self) -> f64 {
        self.least.margin.unwrap_or(f64::INFINITY)
    }

    /// The least margin of those that the combinations move.
    pub fn moved(&self) -> f64 {
        self.moved.margin.unwrap_or(f64::INFINITY)
    }

    /// How near it comes to a wanted least margin: from 1 on it fulfils it.
    pub fn nearness(&self, wanted: f64) -> f64 {
        self.margin().min(self.moved() / wanted)
    }

    /// The margin that falls short of a wanted one, or is nearest to it.
    pub fn tightest(&self) -> &Margin {
        if self.margin() < 1.0 { &self.least } else { &self.moved }
    }
}

/// How far the quick estimate was off on trucks that it had not seen, as shares of the least margin that hangs on a
/// single blow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Trucks that it was held against.
    pub held_back: u32,
    /// Error in the middle.
    pub usual: f64,
    /// Error that 95 in 100 stay below.
    pub most_of_them: f64,
    /// The largest.
    pub worst: f64,
}

/// What the space holds.
#[derive(Clone, Debug)]
pub struct Explored {
    /// The truck as it is.
    pub present: Combination,
    /// The smallest changes.
    pub answer: Answer,
    /// Combinations of the space.
    pub combinations: usize,
    /// Those within the makers' limits that can be built.
    pub allowed: usize,
    /// Those of them that fulfil the wishes by the quick estimate.
    pub fulfilling: usize,
    /// How far that estimate is off; none where too few trucks could be simulated to learn one.
    pub estimate: Option<Estimate>,
    /// The front, cheapest first, each computed in full.
    pub front: Vec<Combination>,
    /// How many stood on the front by the quick estimate.
    pub front_estimated: usize,
    /// The makers' limits of the truck as it is.
    pub limits: [MakersLimit; 3],
    /// The least margin over single values.
    pub curves: Vec<Curve>,
}

impl Explore<'_> {
    /// Explores the space; `watch` is told of every batch of simulated trucks.
    pub fn explore(&self, memo: &Memo, watch: &Watch<'_>) -> Result<Explored, Error> {
        let ground = self.ground(memo, watch)?;
        let present = self.present(&ground)?;
        let surrogate = Surrogate::learn(&ground)?;
        let estimate = surrogate.as_ref().map(|known| estimate::held_back(&ground, known)).transpose()?;
        let guesses = surrogate.as_ref().map(|known| estimate::guesses(&ground, known)).transpose()?;
        let guesses = guesses.unwrap_or_default();
        let slack = estimate.map_or(0.0, |estimate| estimate.worst);
        let answer =
            if self.wishes.fulfilled(&present) { Answer::Holds } else { smallest::smallest(&ground, &guesses, slack)? };
        let fit: Vec<Guess> = guesses.iter().filter(|guess| fits(&self.wishes, guess)).copied().collect();
        let (front, front_estimated) = front::front(&ground, &fit)?;
        let build = self.truck.build()?;
        Ok(Explored {
            present,
            answer,
            combinations: ground.space.len(),
            allowed: guesses.len(),
            fulfilling: fit.len(),
            estimate,
            front,
            front_estimated,
            limits: makers_limits(&build, &Bay::new(&build, self.run_in)?),
            curves: curves::curves(&ground)?,
        })
    }

    fn present(&self, ground: &Ground<'_>) -> Result<Combination, Error> {
        let one = ground.full(&[[0; THINGS]])?.pop().flatten();
        one.map_or_else(|| Err(self.refused(ground)), Ok)
    }

    /// Why the truck as it is cannot be computed.
    fn refused(&self, ground: &Ground<'_>) -> Error {
        let loaded = Loaded::new(self.truck, self.run_in, ground.memo);
        loaded.err().unwrap_or(Error::NoState { state: "built" })
    }

    fn ground<'g>(&'g self, memo: &'g Memo, watch: &'g Watch<'g>) -> Result<Ground<'g>, Error> {
        Ok(Ground {
            truck: self.truck,
            run_in: self.run_in,
            horizon_runs: self.job.shop.horizon_runs,
            space: Space::new(self.truck, &self.job.stock, &self.job.shop)?,
            windows: windows(&Loaded::new(self.truck, self.run_in, memo)?)?,
            prices: Prices::new(&self.job.shop, self.book),
            wishes: &self.wishes,
            most: self.most_allowed()?,
            memo,
            watch,
            done: AtomicU32::new(0),
            work: WORK + curves::TRUCKS,
        })
    }

    /// The makers' limits; where one is not stated, what the truck or the one that was sold has.
    fn most_allowed(&self) -> Result<[f64; 3], Error> {
        let of = |sheet: &Sheet| -> Result<[MakersLimit; 3], Error> {
            let build = sheet.build()?;
            Ok(makers_limits(&build, &Bay::new(&build, self.run_in)?))
        };
        let [now, sold] = [of(self.truck)?, of(&self.job.stock)?];
        Ok(std::array::from_fn(|place| now[place].limit.unwrap_or(now[place].value.max(sold[place].value))))
    }
}

fn fits(wishes: &Wishes, guess: &Guess) -> bool {
    guess.nearness(wishes.least_margin) >= 1.0 && wishes.suits(guess.top_m_s, guess.stop_m)
}

/// Circumferential backlash of a sheet's pair, m; none where it has no pair.
fn backlash_m(truck: &Sheet) -> Option<f64> {
    let build = truck.build().ok()?;
    Some(Bay::new(&build, true).ok()?.pair.circumferential_backlash().to_m())
}
