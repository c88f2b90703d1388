//! Which answer would narrow the verdict most, against the minutes that it takes to measure.

use super::draws::{Draw, Draws, Swap};
use super::{BATCH, Ranges};
use crate::Error;
use crate::margin::Margin;
use toothsayer_evidence::{MixedRow, SobolIndex, sobol_indices};
use toothsayer_inputs::find;

/// Points of the indices; each input costs as many further draws, of which only those that move a blow are simulated.
const POINTS: u32 = 256;
/// An input that bears on less than this share of the spread is not worth its minutes (this project's choice).
const LEAST_SHARE: f64 = 0.05;
/// Standard errors that a share must stand above nothing to be named.
const SURE: f64 = 2.0;

/// What one input's measurement would take off a state's uncertainty.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Registry key.
    pub input: &'static str,
    /// How to measure it.
    pub measure: &'static str,
    /// Minutes that this takes.
    pub minutes: f64,
    /// Its share of the spread of the least counting margin.
    pub margin: SobolIndex,
    /// Its share of the spread of "holds" (every counting margin at least 1); none where every draw says the same.
    pub holding: Option<SobolIndex>,
}

impl Answer {
    /// Share of the spread that hangs on it (total index) for each minute of measuring.
    pub fn per_minute(&self) -> f64 {
        self.margin.total / self.minutes.max(1.0)
    }

    fn matters(&self) -> bool {
        self.margin.total >= LEAST_SHARE.max(SURE * self.margin.total_error)
    }
}

/// What would narrow a state's verdict.
#[derive(Clone, Debug)]
pub struct Narrowing {
    /// The inputs that can be measured and matter, those that narrow most for their minutes first.
    pub answers: Vec<Answer>,
    /// Share of the spread that no measurement takes: where in the lash a landing comes, friction, strength of the gears.
    pub chance: SobolIndex,
    /// Draws that these come from.
    pub draws: u32,
}

impl Narrowing {
    /// The input on which most of the spread hangs, whatever it costs to measure.
    pub fn largest(&self) -> Option<&Answer> {
        self.answers.iter().max_by(|a, b| a.margin.total.total_cmp(&b.margin.total))
    }
}

/// Sobol indices of every measurable input on the least counting margin and on "holds"; none where nothing varies.
pub(super) fn narrowing(draws: &Draws<'_>, points: &[Margin], ranges: &Ranges<'_>) -> Result<Option<Narrowing>, Error> {
    let measurable = |key: &str| find(key).filter(|input| !input.measure.is_empty());
    let inputs: Vec<_> = draws.inputs().filter_map(|(key, place)| Some((measurable(key)?, place))).collect();
    let swaps: Vec<Swap> = [Swap::None, Swap::All, Swap::Own]
        .into_iter()
        .chain(inputs.iter().map(|(_, dimension)| Swap::Input(*dimension)))
        .collect();
    let rows = rows(draws, &swaps, points, ranges)?;
    let Ok(margin) = sobol_indices(&mixed(&rows, |least| least)) else { return Ok(None) };
    let holding = sobol_indices(&mixed(&rows, |least| f64::from(u8::from(least >= 1.0)))).ok();
    let answer = |(place, (input, _)): (usize, &(&'static toothsayer_inputs::Input, u32))| Answer {
        input: input.key,
        measure: input.measure,
        minutes: input.minutes,
        margin: margin[place + 1],
        holding: holding.as_ref().map(|indices| indices[place + 1]),
    };
    let mut answers: Vec<Answer> = inputs.iter().enumerate().map(answer).collect();
    answers.retain(Answer::matters);
    answers.sort_by(|a, b| b.per_minute().total_cmp(&a.per_minute()));
    Ok(Some(Narrowing { answers, chance: margin[0], draws: (rows.len() * swaps.len()) as u32 }))
}

/// The least counting margin of each point under each swap; a point that is lost under one is left out.
fn rows(draws: &Draws<'_>, swaps: &[Swap], points: &[Margin], ranges: &Ranges<'_>) -> Result<Vec<Vec<f64>>, Error> {
    let wanted: Vec<Draw> =
        (0..POINTS).flat_map(|number| swaps.iter().map(move |swap| Draw { number, swap: *swap })).collect();
    let mut least: Vec<Option<f64>> = Vec::with_capacity(wanted.len());
    for batch in wanted.chunks(BATCH) {
        let margins = draws.margins(batch, points);
        least.extend(margins.iter().map(|row| least_counting(points, row.as_deref()?)));
        ranges.go_on(least.len() as u32, wanted.len() as u32)?;
    }
    Ok(least.chunks(swaps.len()).filter_map(|row| row.iter().copied().collect()).collect())
}

fn least_counting(points: &[Margin], row: &[f64]) -> Option<f64> {
    let counted = points.iter().zip(row).filter(|(point, margin)| point.counts() && margin.is_finite());
    counted.map(|(_, margin)| *margin).reduce(f64::min)
}

/// Rows of the estimators: A, B, then what is no input and every input from B.
fn mixed(rows: &[Vec<f64>], of: impl Fn(f64) -> f64) -> Vec<MixedRow> {
    let row = |row: &Vec<f64>| {
        let values: Vec<f64> = row.iter().map(|least| of(*least)).collect();
        MixedRow { at_a: values[0], at_b: values[1], at_ab: values[2..].to_vec() }
    };
    rows.iter().map(row).collect()
}
