//! Ranges of the margins: the inputs drawn within what is stated of them, the same draws for every state.

use crate::Error;
use crate::bay::Bay;
use crate::joint::JointFriction;
use crate::load_path::{LoadPath, Windows};
use crate::margin::Margin;
use crate::peaks::{Memo, Phases, peaks};
use crate::states::Staged;
use rayon::prelude::*;
use std::collections::BTreeMap;
use toothsayer_evidence::{StatedRange, draw, empirical_quantile, normal_quantile};
use toothsayer_inputs::find;
use toothsayer_job::{Build, Entry};
use toothsayer_mechanics::material::spread_factor;

/// Friction of screws as people find it, and of clamped faces (common practice, no source).
const SCREW_FRICTION: StatedRange = StatedRange { low: 0.08, usual: 0.14, high: 0.25 };
pub(crate) const FACE_FRICTION: StatedRange = StatedRange { low: 0.12, usual: 0.16, high: 0.20 };
/// Dimensions that are no inputs: lash phase, friction of screws and faces, strength of pinion and spur.
const OWN_DIMENSIONS: u32 = 5;

/// How ranges are run.
pub struct Ranges<'a> {
    /// Draws.
    pub samples: u32,
    /// Seed of the draws.
    pub seed: u32,
    /// Told after each draw: done, of how many.
    pub progress: &'a (dyn Fn(u32, u32) + Sync),
}

/// Every input of a stage that is not known to a point, by key, with its dimension.
struct Dimensions(BTreeMap<String, u32>);

impl Dimensions {
    /// The same key has the same dimension in every state.
    fn of(stage: &Staged) -> Self {
        let spread = |entry: &Entry| entry.has_spread();
        let own =
            stage.sheet.fields.numbers.iter().filter(|(_, entry)| spread(entry)).map(|(key, _)| (*key).to_owned());
        let joints = stage.sheet.joints.iter().flat_map(|joint| {
            joint.fields.numbers.iter().filter(|(_, entry)| spread(entry)).map(|(key, _)| (*key).to_owned())
        });
        let dimension = |key: &str| {
            let place = toothsayer_inputs::all().position(|input| input.key == key).unwrap_or(0);
            OWN_DIMENSIONS + place as u32
        };
        Self(own.chain(joints).map(|key| (key.clone(), dimension(&key))).collect())
    }

    fn build(&self, stage: &Staged, index: u32, seed: u32) -> Result<Build, Error> {
        let pick = |key: &str, entry: &Entry| {
            let Some(dimension) = self.0.get(key).filter(|_| entry.has_spread()) else { return entry.value };
            let range = StatedRange { low: entry.low, usual: entry.value, high: entry.high };
            let value = range.quantile(draw(index, *dimension, seed));
            find(key).map_or(value, |input| value.clamp(input.least, input.most))
        };
        Ok(stage.sheet.build_with(&pick)?)
    }
}

/// The margins of one draw, in the order of the point margins: a draw may have others, such as a pressed seat's.
fn one(stage: &Staged, dims: &Dimensions, index: u32, path: &Shared<'_>, memo: &Memo) -> Result<Vec<f64>, Error> {
    let seed = path.ranges.seed;
    let build = dims.build(stage, index, seed)?;
    let bay = Bay::new(&build, stage.run_in)?;
    let peaks = peaks(&build, &bay, Phases::Drawn(draw(index, 0, seed)), memo)?;
    let friction = JointFriction {
        screw: SCREW_FRICTION.quantile(draw(index, 1, seed)),
        faces: FACE_FRICTION.quantile(draw(index, 2, seed)),
    };
    let strength = [(3, 0), (4, 1)].map(|(dimension, member): (u32, usize)| {
        spread_factor(bay.materials[member].scatter.root, normal_quantile(draw(index, dimension, seed)))
    });
    let load_path = LoadPath {
        build: &build,
        bay: &bay,
        peaks: &peaks,
        windows: path.windows,
        horizon_runs: path.horizon_runs,
        friction,
        strength,
    };
    let drawn = load_path.margins()?;
    let same = |point: &Margin| drawn.iter().find(|margin| margin.same_place(point));
    Ok(path.points.iter().map(|point| same(point).and_then(|margin| margin.margin).unwrap_or(f64::INFINITY)).collect())
}

struct Shared<'a> {
    points: &'a [Margin],
    windows: &'a Windows,
    horizon_runs: f64,
    ranges: &'a Ranges<'a>,
}

/// Gives each margin its 5 % and 95 % ends and the probability that demand passes capacity; returns the key whose
/// measurement would settle the least certain of them.
pub(crate) fn add_ranges(
    margins: &mut [Margin],
    stage: &Staged,
    windows: &Windows,
    horizon_runs: f64,
    ranges: &Ranges<'_>,
    memo: &Memo,
) -> Result<Option<String>, Error> {
    let dims = Dimensions::of(stage);
    let shared = Shared { points: margins, windows, horizon_runs, ranges };
    let done = std::sync::atomic::AtomicU32::new(0);
    let draws: Vec<(u32, Vec<f64>)> = (0..ranges.samples)
        .into_par_iter()
        .filter_map(|index| {
            let drawn = one(stage, &dims, index, &shared, memo).ok();
            let so_far = done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1;
            (ranges.progress)(so_far, ranges.samples);
            drawn.map(|row| (index, row))
        })
        .collect();
    if draws.is_empty() {
        return Ok(None);
    }
    for (place, margin) in margins.iter_mut().enumerate().filter(|(_, margin)| margin.margin.is_some()) {
        let mut values: Vec<f64> = draws.iter().map(|(_, row)| row[place]).collect();
        values.sort_by(f64::total_cmp);
        margin.low = empirical_quantile(&values, 0.05).filter(|value| value.is_finite());
        margin.high = empirical_quantile(&values, 0.95).filter(|value| value.is_finite());
        let below = values.iter().filter(|value| **value < 1.0).count();
        margin.exceeded = Some(below as f64 / values.len() as f64);
    }
    Ok(most_telling(margins, &dims, &draws, ranges.seed))
}

/// The input whose draw goes with the least certain margin most closely, among those that can be measured.
fn most_telling(margins: &[Margin], dims: &Dimensions, draws: &[(u32, Vec<f64>)], seed: u32) -> Option<String> {
    let counted = margins.iter().enumerate().filter(|(_, margin)| margin.counts());
    let (place, _) = counted.max_by(|a, b| {
        let chance = |margin: &Margin| margin.exceeded.unwrap_or(0.0);
        chance(a.1).total_cmp(&chance(b.1))
    })?;
    let finite = |row: &[f64]| row[place].is_finite().then(|| row[place].max(1e-6).ln());
    let measurable = dims.0.iter().filter(|(key, _)| find(key).is_some_and(|input| !input.measure.is_empty()));
    let strength = |dimension: u32| {
        let pairs: Vec<(f64, f64)> =
            draws.iter().filter_map(|(index, row)| Some((draw(*index, dimension, seed), finite(row)?))).collect();
        correlation(&pairs).abs()
    };
    let strongest = measurable.map(|(key, dimension)| (key, strength(*dimension)));
    strongest.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(key, _)| key.clone())
}

fn correlation(pairs: &[(f64, f64)]) -> f64 {
    let n = pairs.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
    let (mx, my) = (mean(|pair| pair.0), mean(|pair| pair.1));
    let sum = |of: &dyn Fn(f64, f64) -> f64| pairs.iter().map(|(x, y)| of(x - mx, y - my)).sum::<f64>();
    let (xx, yy, xy) = (sum(&|x, _| x * x), sum(&|_, y| y * y), sum(&|x, y| x * y));
    if xx > 0.0 && yy > 0.0 { xy / (xx * yy).sqrt() } else { 0.0 }
}
