//! The quick estimate of a truck's blows: a surface for each load case through trucks that were simulated.

use super::ground::{Fitted, Ground};
use super::space::{Places, Space};
use super::surface::{Known, Surface};
use crate::Error;
use crate::peaks::{Asked, Blow, CasePeaks, Phases, peaks_of};
use toothsayer_evidence::draw;
use toothsayer_mechanics::driveline::Case;

/// The cases that count: a wheel stop is an accident.
pub(super) const CASES: [Case; 6] = [
    Case::Launch,
    Case::FullBrake,
    Case::LandingOnThrottle,
    Case::LandingOnBrake,
    Case::LandingCoasting,
    Case::Reversal,
];
/// Trucks that the surfaces go through.
const LEARNED_FROM: u32 = 320;
/// Trucks simulated between two questions whether to go on.
const BATCH: usize = 40;
const SEED: u32 = 1;

/// What tells one truck's blows from another's, each axis from 0 to 1 over the space.
const COORDINATES: usize = 9;
const BRAKE: usize = COORDINATES - 2;
const THROTTLE: usize = COORDINATES - 1;

/// The estimate of every case.
pub(super) struct Surrogate {
    surfaces: Vec<(Case, Surface)>,
    least: [f64; COORDINATES],
    width: [f64; COORDINATES],
}

impl Surrogate {
    /// Learns from trucks drawn evenly from the space; none where too few of them can be simulated.
    pub(super) fn learn(ground: &Ground<'_>) -> Result<Option<Surrogate>, Error> {
        let drawn = drawn(&ground.space, 0..LEARNED_FROM);
        let mut known: Vec<([f64; COORDINATES], Vec<CasePeaks>)> = Vec::new();
        for batch in drawn.chunks(BATCH) {
            let trucks: Vec<Fitted> = batch.iter().filter_map(|places| ground.fitted(places).ok()).collect();
            let asked: Vec<Asked<'_>> = trucks
                .iter()
                .map(|truck| Asked { build: &truck.build, bay: &truck.bay, cases: &CASES, phases: Phases::Surveyed })
                .collect();
            let blows = trucks.iter().zip(peaks_of(&asked, ground.memo));
            known.extend(blows.filter_map(|(truck, blows)| Some((coordinates(truck), blows.ok()?))));
            ground.go_on(batch.len())?;
        }
        Ok(Surrogate::through(&known))
    }

    fn through(known: &[([f64; COORDINATES], Vec<CasePeaks>)]) -> Option<Surrogate> {
        let ends = |axis: usize| {
            known.iter().fold([f64::MAX, f64::MIN], |[low, high], (at, _)| [low.min(at[axis]), high.max(at[axis])])
        };
        let ends: [[f64; 2]; COORDINATES] = std::array::from_fn(ends);
        let (least, width) = (ends.map(|[low, _]| low), ends.map(|[low, high]| high - low));
        let mut surrogate = Surrogate { surfaces: Vec::new(), least, width };
        for (place, case) in CASES.into_iter().enumerate() {
            let at = known.iter().map(|(at, _)| surrogate.seen_by(case, at)).collect();
            let values = known.iter().map(|(_, blows)| flat(&blows[place].blows)).collect();
            surrogate.surfaces.push((case, Surface::through(Known { at, values })?));
        }
        Some(surrogate)
    }

    /// The coordinates that matter to a case, from 0 to 1.
    fn seen_by(&self, case: Case, at: &[f64; COORDINATES]) -> Vec<f64> {
        let unseen: &[usize] = match case {
            Case::Launch | Case::LandingOnThrottle => &[BRAKE],
            Case::FullBrake | Case::LandingOnBrake => &[THROTTLE],
            Case::LandingCoasting => &[BRAKE, THROTTLE],
            Case::Reversal | Case::WheelStop => &[],
        };
        let axes = (0..COORDINATES).filter(|axis| self.width[*axis] > 0.0 && !unseen.contains(axis));
        axes.map(|axis| (at[axis] - self.least[axis]) / self.width[axis]).collect()
    }

    /// A case's blows.
    pub(super) fn case(&self, place: usize, truck: &Fitted) -> CasePeaks {
        let (case, surface) = &self.surfaces[place];
        let values = surface.at(&self.seen_by(*case, &coordinates(truck)));
        let blows: Vec<Blow> =
            values.chunks(2).map(|pair| Blow { force_n: pair[0].max(0.0), current_a: pair[1] }).collect();
        let hardest = |from: usize| {
            let flank = blows.iter().skip(from).step_by(2);
            flank.fold(Blow::default(), |most, blow| if blow.force_n > most.force_n { *blow } else { most })
        };
        CasePeaks { case: *case, drive: hardest(0), coast: hardest(1), ground_n: 0.0, blows }
    }

    /// Every case's blows.
    pub(super) fn blows(&self, truck: &Fitted) -> Vec<CasePeaks> {
        (0..CASES.len()).map(|place| self.case(place, truck)).collect()
    }
}

/// Combinations spread evenly over the space.
pub(super) fn drawn(space: &Space, numbers: std::ops::Range<u32>) -> Vec<Places> {
    let place = |number: u32, axis: usize| {
        let choices = space.axes[axis].choices.len();
        ((draw(number, axis as u32, SEED) * choices as f64) as usize).min(choices - 1) as u8
    };
    numbers.map(|number| std::array::from_fn(|axis| place(number, axis))).collect()
}

/// The first number of the draws that nothing was learned from.
pub(super) const FRESH: u32 = LEARNED_FROM;

fn flat(blows: &[Blow]) -> Vec<f64> {
    blows.iter().flat_map(|blow| [blow.force_n, blow.current_a]).collect()
}

fn coordinates(truck: &Fitted) -> [f64; COORDINATES] {
    let parameters = truck.bay.parameters(&truck.build);
    let [pinion, spur] = truck.bay.materials.map(|material| material.elastic.modulus.to_pa());
    [
        parameters.pinion_base_radius_m,
        parameters.spur_base_radius_m,
        parameters.normal_backlash_m,
        pinion * spur / (pinion + spur),
        parameters.wheel_mass_kg,
        parameters.tyre_radius_m,
        parameters.battery_voltage_v,
        parameters.brake_strength,
        parameters.throttle_strength,
    ]
}
