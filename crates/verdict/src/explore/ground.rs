//! The truck that is explored, with everything that its combinations are judged by.

use super::price::Prices;
use super::score::{Score, scored};
use super::space::{Places, Space};
use super::surrogate::CASES;
use super::{Combination, Wishes};
use crate::Error;
use crate::JointFriction;
use crate::bay::Bay;
use crate::joint::Windows;
use crate::load_path::LoadPath;
use crate::makers_limits::makers_limits;
use crate::motor::truck_speeds;
use crate::peaks::{Asked, CasePeaks, Memo, Phases, peaks_of};
use crate::ranges::Watch;
use crate::stopping::stopping_distance;
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_job::{Build, Sheet};

/// Trucks simulated in full between two questions whether to go on.
const BATCH: usize = 16;

/// A combination's build with its gear bay.
pub(super) struct Fitted {
    pub(super) build: Build,
    pub(super) bay: Bay,
}

/// The truck before, its space, and what judges a combination.
pub(super) struct Ground<'a> {
    pub(super) truck: &'a Sheet,
    pub(super) run_in: bool,
    pub(super) horizon_runs: f64,
    pub(super) space: Space,
    pub(super) windows: Windows,
    pub(super) prices: Prices<'a>,
    pub(super) wishes: &'a Wishes,
    /// What no combination may pass: the makers' limits; where one is not stated, what the truck or the maker's has.
    pub(super) most: [f64; 3],
    pub(super) memo: &'a Memo,
    pub(super) watch: &'a Watch<'a>,
    pub(super) done: AtomicU32,
    pub(super) work: u32,
}

impl Ground<'_> {
    /// Tells that some more trucks are done and asks whether to go on.
    pub(super) fn go_on(&self, trucks: usize) -> Result<(), Error> {
        let done = self.done.fetch_add(trucks as u32, Ordering::Relaxed) + trucks as u32;
        let most = self.work.max(done);
        if (self.watch)(done, most) { Ok(()) } else { Err(Error::Cancelled { done, most }) }
    }

    pub(super) fn fitted(&self, places: &Places) -> Result<Fitted, Error> {
        self.fitted_sheet(&self.space.sheet(self.truck, places))
    }

    pub(super) fn fitted_sheet(&self, sheet: &Sheet) -> Result<Fitted, Error> {
        let build = sheet.build()?;
        let bay = Bay::new(&build, self.run_in)?;
        Ok(Fitted { build, bay })
    }

    /// Whether a truck keeps what its makers allow.
    pub(super) fn allowed(&self, truck: &Fitted) -> bool {
        let values = makers_limits(&truck.build, &truck.bay).map(|limit| limit.value);
        values.iter().zip(self.most).all(|(value, most)| *value <= most * (1.0 + ROUNDING))
    }

    /// A truck under some blows.
    pub(super) fn path<'p>(&'p self, truck: &'p Fitted, peaks: &'p [CasePeaks]) -> LoadPath<'p> {
        LoadPath {
            build: &truck.build,
            bay: &truck.bay,
            peaks,
            windows: &self.windows,
            horizon_runs: self.horizon_runs,
            friction: JointFriction::NOMINAL,
            strength: [1.0; 2],
        }
    }

    /// Trucks simulated in full; none of one that the mechanics refuse.
    pub(super) fn simulated(&self, trucks: &[Fitted]) -> Result<Vec<Option<Score>>, Error> {
        let mut scores = Vec::with_capacity(trucks.len());
        for batch in trucks.chunks(BATCH) {
            let asked: Vec<Asked<'_>> = batch
                .iter()
                .map(|truck| Asked { build: &truck.build, bay: &truck.bay, cases: &CASES, phases: Phases::Worst })
                .collect();
            let all = batch.iter().zip(peaks_of(&asked, self.memo));
            let score = |(truck, peaks): (&Fitted, Result<Vec<CasePeaks>, Error>)| {
                scored(&self.path(truck, &peaks.ok()?).margins().ok()?)
            };
            scores.extend(all.map(score));
            self.go_on(batch.len())?;
        }
        Ok(scores)
    }

    /// Combinations computed in full, in their order.
    pub(super) fn full(&self, wanted: &[Places]) -> Result<Vec<Option<Combination>>, Error> {
        let fitted: Vec<Option<Fitted>> = wanted.iter().map(|places| self.fitted(places).ok()).collect();
        let made: Vec<usize> = (0..wanted.len()).filter(|place| fitted[*place].is_some()).collect();
        let trucks: Vec<Fitted> = fitted.into_iter().flatten().collect();
        let mut all = vec![None; wanted.len()];
        for ((place, truck), score) in made.iter().zip(&trucks).zip(self.simulated(&trucks)?) {
            if let Some(score) = score {
                all[*place] = Some(self.combination(&wanted[*place], truck, score)?);
            }
        }
        Ok(all)
    }

    /// What is told of a combination.
    fn combination(&self, places: &Places, truck: &Fitted, score: Score) -> Result<Combination, Error> {
        let speeds = truck_speeds(&truck.build, &truck.bay)?;
        let cost = self.prices.of(self.space.changes(places));
        Ok(Combination {
            words: self.space.changes(places).map(|(_, choice)| choice.words.clone()).collect(),
            set: self.space.changes(places).flat_map(|(_, choice)| choice.set.clone()).collect(),
            steps: self.space.changes(places).map(|(_, choice)| choice.steps.unsigned_abs()).sum(),
            price: cost.price,
            minutes: cost.minutes,
            unlisted: cost.unlisted,
            unpriced: cost.unpriced,
            least: score.least,
            moved: score.moved,
            top_speed: speeds.top_speed,
            pull: speeds.launch.force,
            stop: stopping_distance(&truck.build, &truck.bay, truck.build.controller.brake_strength)?,
            full: true,
        })
    }
}

/// The same limit computed twice.
const ROUNDING: f64 = 1e-9;
