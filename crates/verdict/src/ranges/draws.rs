//! Draws of a state: the inputs picked within what is stated of them, and the margins that they give.

use crate::Error;
use crate::bay::Bay;
use crate::joint::JointFriction;
use crate::joint::Windows;
use crate::load_path::LoadPath;
use crate::margin::Margin;
use crate::peaks::{Asked, CasePeaks, Memo, Phases, peaks_of};
use crate::states::Staged;
use rayon::prelude::*;
use std::collections::BTreeMap;
use toothsayer_evidence::{StatedRange, dealt, normal_quantile};
use toothsayer_inputs::find;
use toothsayer_job::{Build, Entry};
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::material::spread_factor;

/// Friction of screws as people find it, and of clamped faces (common practice, no source).
const SCREW_FRICTION: StatedRange = StatedRange { low: 0.08, usual: 0.14, high: 0.25 };
pub(crate) const FACE_FRICTION: StatedRange = StatedRange { low: 0.12, usual: 0.16, high: 0.20 };
/// Dimensions that are no inputs: lash phase, friction of screws and faces, strength of pinion and spur.
pub(super) const OWN_DIMENSIONS: u32 = 5;
/// Dimensions of a point; the same dimensions of the independent point lie as far behind.
pub(super) const SET: u32 = 256;

/// What of a draw comes from the independent point instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Swap {
    /// Nothing.
    None,
    /// Everything.
    All,
    /// One input, by its dimension.
    Input(u32),
    /// What is no input.
    Own,
}

/// One draw: its number, and what of it is taken from the independent point.
#[derive(Clone, Copy, Debug)]
pub(super) struct Draw {
    pub number: u32,
    pub swap: Swap,
}

impl Draw {
    /// Where this draw lies in a dimension, 0 to 1.
    fn place(&self, dimension: u32, seed: u32) -> f64 {
        let swapped = match self.swap {
            Swap::None => false,
            Swap::All => true,
            Swap::Input(own) => own == dimension,
            Swap::Own => dimension < OWN_DIMENSIONS,
        };
        dealt(self.number, dimension + if swapped { SET } else { 0 }, seed)
    }
}

/// A state, with what its draws are judged by.
#[derive(Clone, Copy)]
pub(crate) struct Subject<'a> {
    /// The state.
    pub stage: &'a Staged,
    /// Windows of its joints.
    pub windows: &'a Windows,
    /// Runs that endurance is asked for.
    pub horizon_runs: f64,
    /// Known simulations.
    pub memo: &'a Memo,
}

/// A state's draws.
pub(super) struct Draws<'a> {
    subject: Subject<'a>,
    seed: u32,
    /// Every input that is not known to a point, by key, with its dimension: the same in every state.
    dimensions: BTreeMap<&'static str, u32>,
    /// The load cases that are simulated.
    cases: Vec<Case>,
}

impl<'a> Draws<'a> {
    pub fn new(subject: Subject<'a>, seed: u32) -> Self {
        let sheet = &subject.stage.sheet;
        let all = sheet.joints.iter().map(|joint| &joint.fields).chain([&sheet.fields]);
        let spread = all.flat_map(|fields| fields.numbers.iter()).filter(|(_, entry)| entry.has_spread());
        let dimension = |key: &'static str| {
            let place = toothsayer_inputs::all().position(|input| input.key == key)?;
            Some((key, OWN_DIMENSIONS + place as u32))
        };
        let dimensions = spread.filter_map(|(key, _)| dimension(key)).collect();
        Self { subject, seed, dimensions, cases: Case::ALL.to_vec() }
    }

    /// The same draws without the accident, on which no counting margin leans; its own margins are then not drawn.
    pub fn counting(&self) -> Self {
        let cases = self.cases.iter().copied().filter(|case| *case != Case::WheelStop).collect();
        Self { dimensions: self.dimensions.clone(), cases, ..*self }
    }

    /// The inputs that are drawn, with their dimensions.
    pub fn inputs(&self) -> impl Iterator<Item = (&'static str, u32)> {
        self.dimensions.iter().map(|(key, dimension)| (*key, *dimension))
    }

    /// The margins of each draw, in the order of `points`; none for a draw that cannot be built or computed.
    pub fn margins(&self, draws: &[Draw], points: &[Margin]) -> Vec<Option<Vec<f64>>> {
        let trucks: Vec<Option<Truck>> = draws.par_iter().map(|draw| self.truck(*draw).ok()).collect();
        let asked: Vec<Asked<'_>> = trucks.iter().flatten().map(|truck| truck.asked(&self.cases)).collect();
        let mut peaks = peaks_of(&asked, self.subject.memo).into_iter();
        let peaks: Vec<Option<Vec<CasePeaks>>> =
            trucks.iter().map(|truck| truck.as_ref().and_then(|_| peaks.next()?.ok())).collect();
        let judged = |(truck, peaks): (&Option<Truck>, &Option<Vec<CasePeaks>>)| {
            let drawn = self.judge(truck.as_ref()?, peaks.as_ref()?).ok()?;
            Some(points.iter().map(|point| in_place_of(point, &drawn)).collect())
        };
        trucks.par_iter().zip(&peaks).map(judged).collect()
    }

    fn truck(&self, draw: Draw) -> Result<Truck, Error> {
        let at = |dimension: u32| draw.place(dimension, self.seed);
        let pick = |key: &str, entry: &Entry| {
            let Some(dimension) = self.dimensions.get(key).filter(|_| entry.has_spread()) else { return entry.value };
            let range = StatedRange { low: entry.low, usual: entry.value, high: entry.high };
            let value = range.quantile(at(*dimension));
            find(key).map_or(value, |input| value.clamp(input.least, input.most))
        };
        let build = self.subject.stage.sheet.build_with(&pick)?;
        let bay = Bay::new(&build, self.subject.stage.run_in)?;
        let friction = JointFriction { screw: SCREW_FRICTION.quantile(at(1)), faces: FACE_FRICTION.quantile(at(2)) };
        let strength = [(3, 0), (4, 1)].map(|(dimension, member): (u32, usize)| {
            spread_factor(bay.materials[member].scatter.root, normal_quantile(at(dimension)))
        });
        Ok(Truck { phases: Phases::Drawn(at(0)), build, bay, friction, strength })
    }

    fn judge(&self, truck: &Truck, peaks: &[CasePeaks]) -> Result<Vec<Margin>, Error> {
        let Truck { build, bay, friction, strength, .. } = truck;
        let Subject { windows, horizon_runs, .. } = self.subject;
        LoadPath { build, bay, peaks, windows, horizon_runs, friction: *friction, strength: *strength }.margins()
    }
}

/// A drawn truck.
struct Truck {
    build: Build,
    bay: Bay,
    phases: Phases,
    friction: JointFriction,
    strength: [f64; 2],
}

impl Truck {
    fn asked<'a>(&'a self, cases: &'a [Case]) -> Asked<'a> {
        Asked { build: &self.build, bay: &self.bay, cases, phases: self.phases }
    }
}

/// The drawn margin of the same part, limit and case: a draw may have others, such as a pressed seat's, and be asked nothing.
fn in_place_of(point: &Margin, drawn: &[Margin]) -> f64 {
    let same = drawn.iter().find(|margin| margin.same_place(point));
    same.and_then(|margin| margin.margin).unwrap_or(f64::INFINITY)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_input_has_a_dimension_before_the_independent_points() {
        assert!(OWN_DIMENSIONS as usize + toothsayer_inputs::all().count() <= SET as usize);
    }

    #[track_caller]
    fn check(swap: Swap, taken: [bool; 3]) {
        let place = |swap: Swap, dimension: u32| Draw { number: 9, swap }.place(dimension, 1);
        for (dimension, taken) in [0, OWN_DIMENSIONS, OWN_DIMENSIONS + 1].into_iter().zip(taken) {
            let from = if taken { Swap::All } else { Swap::None };
            assert_eq!(place(swap, dimension), place(from, dimension), "{swap:?}, dimension {dimension}");
        }
    }

    #[test]
    fn a_swap_takes_its_own_dimensions_from_the_independent_point_alone() {
        check(Swap::Own, [true, false, false]);
        check(Swap::Input(OWN_DIMENSIONS), [false, true, false]);
        let place = |swap| Draw { number: 9, swap }.place(0, 1);
        assert_ne!(place(Swap::None), place(Swap::All));
    }
}
