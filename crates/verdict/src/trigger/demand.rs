//! Demand: the blows of the driver's events, simulated once for each truck and opening of the mesh, straight between.

use super::sets::Causes;
use crate::Error;
use crate::bay::Bay;
use crate::landings::{Grid, Landings, place};
use crate::peaks::{Flanks, Memo, event, flanks_of};
use rayon::prelude::*;
use std::collections::{BTreeSet, HashMap};
use toothsayer_mechanics::driveline::{Case, Event, Parameters};

/// Cases that a set is judged by: an accident is not among them, a landing off the throttle hardly loads the teeth.
pub(super) const CASES: [Case; 5] =
    [Case::Launch, Case::FullBrake, Case::Reversal, Case::LandingOnThrottle, Case::LandingOnBrake];
/// Landings that are simulated: blows follow the phase in straight lines, but for a kink below a quarter.
pub(super) const GRID: Grid = Grid { deviations: &[-2.0, 0.0, 2.0], phases: &[0.0, 0.25, 0.5, 0.75, 1.0] };
/// Openings of the mesh at which blows are simulated, in modules: about a tenth of the blow apart.
const OPENINGS: [f64; 11] = [-0.15, -0.07, 0.0, 0.07, 0.15, 0.25, 0.4, 0.6, 0.85, 1.2, 1.7];

/// Which blows a set has: those of its movers, between two openings.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wanted {
    pub(super) movers: usize,
    /// Place among the openings, and how far on to the next.
    opening: (usize, f64),
}

/// Blows by movers and opening: every event's, in the order of [`events`].
pub(super) struct Demand<'a> {
    causes: Causes<'a>,
    memo: &'a Memo,
    module_m: f64,
    /// Place of the opening at which the teeth do not reach each other any more: no blow is asked for beyond.
    last: usize,
    known: HashMap<(usize, usize), Vec<Flanks>>,
}

impl<'a> Demand<'a> {
    pub(super) fn new(causes: Causes<'a>, memo: &'a Memo) -> Result<Self, Error> {
        let build = causes.hit(0, 0.0).build()?;
        let pair = Bay::new(&build, true)?.pair;
        let module_m = build.gears.spec.module.to_m();
        let apart = |share: &f64| {
            let opened = build.gears.spec.centre_distance + build.gears.spec.module * *share;
            pair.at_centre_distance(opened).is_ok_and(|pair| pair.contact_ratio() < 1.0)
        };
        let last = OPENINGS.iter().position(apart).unwrap_or(OPENINGS.len() - 1);
        Ok(Self { causes, memo, module_m, last, known: HashMap::new() })
    }

    /// What a set with these movers and this opening asks for.
    pub(super) fn wanted(&self, movers: usize, opening_m: f64) -> Wanted {
        Wanted { movers, opening: place(&OPENINGS[..=self.last], opening_m / self.module_m) }
    }

    /// Simulates what is not known yet.
    pub(super) fn learn(&mut self, wanted: &[Wanted]) -> Result<(), Error> {
        let keys: BTreeSet<(usize, usize)> =
            wanted.iter().flat_map(Wanted::keys).filter(|key| !self.known.contains_key(key)).collect();
        let keys: Vec<(usize, usize)> = keys.into_iter().collect();
        let shots: Vec<(Parameters, Vec<Event>)> =
            keys.par_iter().map(|key| self.shots(*key)).collect::<Result<_, _>>()?;
        for (key, flanks) in keys.into_iter().zip(flanks_of(&shots, self.memo)) {
            self.known.insert(key, flanks?);
        }
        Ok(())
    }

    /// The blows of a set, one after the other as [`events`] lists them.
    pub(super) fn blows(&self, wanted: Wanted) -> Vec<Flanks> {
        let at = |key: &(usize, usize)| self.known.get(key).map_or(&[][..], Vec::as_slice);
        let [low, high] = wanted.keys();
        let mix = |(low, high): (&Flanks, &Flanks)| [0, 1].map(|f| low[f] + wanted.opening.1 * (high[f] - low[f]));
        at(&low).iter().zip(at(&high)).map(mix).collect()
    }

    fn shots(&self, (movers, opening): (usize, usize)) -> Result<(Parameters, Vec<Event>), Error> {
        let sheet = self.causes.hit(movers, OPENINGS[opening] * self.module_m);
        let build = sheet.build()?;
        let landings = Landings::of(&sheet, &build.driver, &GRID);
        let events = CASES.iter().flat_map(|case| match case.is_landing() {
            true => landings.events(*case, &build.driver),
            false => vec![event(*case, &build.driver, None)],
        });
        Ok((Bay::new(&build, true)?.parameters(&build), events.collect()))
    }
}

impl Wanted {
    fn keys(&self) -> [(usize, usize); 2] {
        let (low, along) = self.opening;
        [(self.movers, low), (self.movers, if along > 0.0 { low + 1 } else { low })]
    }
}
