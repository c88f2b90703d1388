//! Every combination judged by the quick estimate, and how far that is off.

use super::Estimate;
use super::ground::{Fitted, Ground};
use super::score::{Score, quick, scored};
use super::space::{Places, THINGS, Thing};
use super::surrogate::{CASES, FRESH, Surrogate, drawn};
use crate::Error;
use crate::heat;
use crate::motor::truck_speeds;
use crate::peaks::CasePeaks;
use crate::stopping::stopping_distance;
use rayon::prelude::*;
use toothsayer_evidence::empirical_quantile;

/// Trucks that the estimate is held against.
const HELD_BACK: u32 = 64;
/// Groups of combinations between two questions whether to go on.
const GROUPS: usize = 16;

/// A combination as estimated.
#[derive(Clone, Copy, Debug)]
pub(super) struct Guess {
    pub(super) places: Places,
    pub(super) least: f64,
    pub(super) moved: f64,
    pub(super) top_m_s: f64,
    pub(super) stop_m: f64,
    pub(super) price_minor: i64,
    pub(super) changes: u32,
    pub(super) steps: u32,
}

impl Guess {
    /// How near it comes to what is wanted: 1 and more fulfils it.
    pub(super) fn nearness(&self, wanted: f64) -> f64 {
        self.least.min(self.moved / wanted)
    }
}

/// The score of a truck by the quick estimate.
pub(super) fn guessed(ground: &Ground<'_>, surrogate: &Surrogate, truck: &Fitted) -> Option<Score> {
    let blows = surrogate.blows(truck);
    let mut margins = quick(&ground.path(truck, &blows)).ok()?;
    margins.push(heat::margin(&truck.build, &truck.bay).ok()?);
    scored(&margins)
}

/// How far the estimate is off on trucks that it has not seen.
pub(super) fn held_back(ground: &Ground<'_>, surrogate: &Surrogate) -> Result<Estimate, Error> {
    let places = drawn(&ground.space, FRESH..FRESH + HELD_BACK);
    let trucks: Vec<Fitted> = places.iter().filter_map(|places| ground.fitted(places).ok()).collect();
    let truth = ground.simulated(&trucks)?;
    let both = trucks.iter().zip(truth).filter_map(|(truck, truth)| {
        let (guess, truth) = (guessed(ground, surrogate, truck)?.blow, truth?.blow);
        (truth > 0.0 && truth.is_finite()).then(|| (guess / truth - 1.0).abs())
    });
    let mut errors: Vec<f64> = both.collect();
    errors.sort_by(f64::total_cmp);
    let at = |share| empirical_quantile(&errors, share).unwrap_or(0.0);
    Ok(Estimate { held_back: errors.len() as u32, usual: at(0.5), most_of_them: at(0.95), worst: at(1.0) })
}

/// What stays the same over meshes, materials and strengths.
const HARDWARE: [Thing; 4] = [Thing::Pinion, Thing::Spur, Thing::Wheels, Thing::Cells];

/// Every combination within the makers' limits that can be built, in the order of the space.
pub(super) fn guesses(ground: &Ground<'_>, surrogate: &Surrogate) -> Result<Vec<Guess>, Error> {
    let groups = products(ground, &HARDWARE);
    let mut all = Vec::new();
    for some in groups.chunks(GROUPS) {
        let found: Vec<Vec<Guess>> = some.par_iter().map(|group| group_of(ground, surrogate, *group)).collect();
        all.extend(found.into_iter().flatten());
        ground.go_on(0)?;
    }
    all.sort_by_key(|guess| ground.space.number(&guess.places));
    Ok(all)
}

/// Places of some things in every combination, the others as the truck has them.
fn products(ground: &Ground<'_>, things: &[Thing]) -> Vec<Places> {
    let mut all = vec![[0; THINGS]];
    for thing in things {
        let choices = ground.space.axes[*thing as usize].choices.len() as u8;
        let with = |places: &Places, choice: u8| {
            let mut places = *places;
            places[*thing as usize] = choice;
            places
        };
        all = all.iter().flat_map(|places| (0..choices).map(move |choice| with(places, choice))).collect();
    }
    all
}

/// What one set of gear teeth, wheels and cells makes.
struct Hardware {
    top_m_s: f64,
    /// Throttle strengths, 0 to 1, each with the margin of the motor's heat.
    throttles: Vec<(f64, f64)>,
    /// Brake strengths, 0 to 1, each with the way to a stop, m; infinite where it rolls on.
    brakes: Vec<(f64, f64)>,
}

fn group_of(ground: &Ground<'_>, surrogate: &Surrogate, group: Places) -> Vec<Guess> {
    let Ok(truck) = ground.fitted(&group) else { return Vec::new() };
    if !ground.allowed(&truck) {
        return Vec::new();
    }
    let Ok(hardware) = hardware(ground, truck, group) else { return Vec::new() };
    let mut found = Vec::new();
    for play in 0..ground.space.axes[Thing::Backlash as usize].choices.len() as u8 {
        let mut places = group;
        places[Thing::Backlash as usize] = play;
        let mut known: Option<(f64, Blows)> = None;
        for material in 0..ground.space.axes[Thing::Material as usize].choices.len() as u8 {
            places[Thing::Material as usize] = material;
            let Ok(truck) = ground.fitted(&places) else { continue };
            // Gears as stiff as the ones before meet the same blows.
            let stiffness = truck.bay.mesh_stiffness.to_n_per_m();
            let blows = match known.take() {
                Some((before, blows)) if before == stiffness => blows,
                _ => Blows::new(ground, surrogate, &places, &hardware),
            };
            found.extend(strengths_of(ground, truck, &places, &hardware, &blows));
            known = Some((stiffness, blows));
        }
    }
    found
}

fn hardware(ground: &Ground<'_>, mut truck: Fitted, group: Places) -> Result<Hardware, Error> {
    let mut throttles = Vec::new();
    for share in strengths(ground, Thing::Throttle, &group) {
        truck.build.controller.throttle_strength = share;
        throttles.push((share, heat::margin(&truck.build, &truck.bay)?.margin.unwrap_or(f64::INFINITY)));
    }
    let mut brakes = Vec::new();
    for share in strengths(ground, Thing::Brake, &group) {
        let way = stopping_distance(&truck.build, &truck.bay, share)?.distance;
        brakes.push((share, way.map_or(f64::INFINITY, |way| way.to_m())));
    }
    Ok(Hardware { top_m_s: truck_speeds(&truck.build, &truck.bay)?.top_speed.to_m_per_s(), throttles, brakes })
}

/// The strengths, 0 to 1, in the order of their choices.
fn strengths(ground: &Ground<'_>, thing: Thing, group: &Places) -> Vec<f64> {
    let key = if thing == Thing::Brake { "controller.brake_strength" } else { "controller.throttle_strength" };
    let of = |choice: usize| {
        let mut places = *group;
        places[thing as usize] = choice as u8;
        ground.space.sheet(ground.truck, &places).fields.number(key).unwrap_or(1.0)
    };
    (0..ground.space.axes[thing as usize].choices.len()).map(of).collect()
}

/// The blows of one mesh at every strength.
struct Blows {
    by_throttle: Vec<[CasePeaks; 2]>,
    by_brake: Vec<[CasePeaks; 2]>,
    coasting: Option<CasePeaks>,
    /// By brake, then throttle.
    reversal: Vec<Vec<CasePeaks>>,
}

/// Places of the cases in [`CASES`].
const BY_THROTTLE: [usize; 2] = [0, 2];
const BY_BRAKE: [usize; 2] = [1, 3];
const COASTING: usize = 4;
const REVERSAL: usize = 5;

impl Blows {
    fn new(ground: &Ground<'_>, surrogate: &Surrogate, places: &Places, hardware: &Hardware) -> Blows {
        let mut blows = Blows { by_throttle: Vec::new(), by_brake: Vec::new(), coasting: None, reversal: Vec::new() };
        let Ok(mut truck) = ground.fitted(places) else { return blows };
        blows.coasting = Some(surrogate.case(COASTING, &truck));
        for (throttle, _) in &hardware.throttles {
            truck.build.controller.throttle_strength = *throttle;
            blows.by_throttle.push(BY_THROTTLE.map(|place| surrogate.case(place, &truck)));
        }
        for (brake, _) in &hardware.brakes {
            truck.build.controller.brake_strength = *brake;
            blows.by_brake.push(BY_BRAKE.map(|place| surrogate.case(place, &truck)));
            let at = |(throttle, _): &(f64, f64)| {
                truck.build.controller.throttle_strength = *throttle;
                surrogate.case(REVERSAL, &truck)
            };
            blows.reversal.push(hardware.throttles.iter().map(at).collect());
        }
        blows
    }

    fn of(&self, brake: usize, throttle: usize) -> Vec<CasePeaks> {
        let ([launch, on_throttle], [full, on_brake]) = (&self.by_throttle[throttle], &self.by_brake[brake]);
        let driven = [launch, full, on_throttle, on_brake].into_iter().cloned();
        let cases = driven.chain(self.coasting.clone()).chain([self.reversal[brake][throttle].clone()]);
        let cases: Vec<CasePeaks> = cases.collect();
        cases.into_iter().take(CASES.len()).collect()
    }
}

fn strengths_of(
    ground: &Ground<'_>,
    mut truck: Fitted,
    places: &Places,
    hardware: &Hardware,
    blows: &Blows,
) -> Vec<Guess> {
    let mut found = Vec::new();
    for (brake, (brakes, stop_m)) in hardware.brakes.iter().enumerate().take(blows.by_brake.len()) {
        for (throttle, (drives, heat)) in hardware.throttles.iter().enumerate().take(blows.by_throttle.len()) {
            let mut places = *places;
            (places[Thing::Brake as usize], places[Thing::Throttle as usize]) = (brake as u8, throttle as u8);
            let changed = || ground.space.changes(&places);
            truck.build.controller.brake_strength = *brakes;
            truck.build.controller.throttle_strength = *drives;
            let peaks = blows.of(brake, throttle);
            let Some(score) = quick(&ground.path(&truck, &peaks)).ok().and_then(|margins| scored(&margins)) else {
                continue;
            };
            found.push(Guess {
                places,
                least: score.least().min(*heat),
                moved: score.moved().min(*heat),
                top_m_s: hardware.top_m_s,
                stop_m: *stop_m,
                price_minor: ground.prices.of(changed()).price.minor,
                changes: changed().count() as u32,
                steps: changed().map(|(_, choice)| choice.steps.unsigned_abs()).sum(),
            });
        }
    }
    found
}
