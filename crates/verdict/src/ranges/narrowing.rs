//! Which answer would narrow the verdict most, against the minutes that it takes to measure.

use super::draws::{Draw, Draws, Swap};
use super::{BATCH, Ranges};
use crate::Error;
use crate::margin::Margin;
use toothsayer_evidence::{MixedRow, SobolIndex, sobol_indices};
use toothsayer_inputs::{Input, find};

/// Draws that the indices may take: points times inputs, of which only those that move a blow are simulated.
const BUDGET: u32 = 2048;
/// Points at least and at most.
const LEAST_POINTS: u32 = 128;
const MOST_POINTS: u32 = 512;
/// Inputs that are weighed at so many points, and points at which they are picked where there are more.
const MOST_INPUTS: usize = 12;
const PICKING_POINTS: u32 = 32;
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
    let measurable: Vec<Measurable> =
        draws.inputs().filter_map(|(key, place)| Some((measurable(key)?, place))).collect();
    let sweep = Sweep { draws: &draws.counting(), points, ranges };
    let inputs = sweep.pick(measurable)?;
    let swaps = swaps(&inputs);
    let rows = sweep.rows(affordable(swaps.len()), &swaps)?;
    let Ok(margin) = sobol_indices(&mixed(&rows, |least| least)) else { return Ok(None) };
    let holding = sobol_indices(&mixed(&rows, |least| f64::from(u8::from(least >= 1.0)))).ok();
    let answer = |(place, (input, _)): (usize, &Measurable)| Answer {
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

/// An input that can be measured, with its dimension.
type Measurable = (&'static Input, u32);

/// A, B, A with what is no input from B, and A with each input from B.
fn swaps(inputs: &[Measurable]) -> Vec<Swap> {
    let each = inputs.iter().map(|(_, dimension)| Swap::Input(*dimension));
    [Swap::None, Swap::All, Swap::Own].into_iter().chain(each).collect()
}

/// The power of two of points that the budget allows for so many draws a point.
fn affordable(swaps: usize) -> u32 {
    let points = (BUDGET / swaps as u32).clamp(LEAST_POINTS, MOST_POINTS);
    1 << points.ilog2()
}

/// Draws under swaps.
struct Sweep<'a> {
    draws: &'a Draws<'a>,
    points: &'a [Margin],
    ranges: &'a Ranges<'a>,
}

impl Sweep<'_> {
    /// The inputs on which most hangs, by their total indices at few points.
    fn pick(&self, mut inputs: Vec<Measurable>) -> Result<Vec<Measurable>, Error> {
        if inputs.len() <= MOST_INPUTS {
            return Ok(inputs);
        }
        let rows = self.rows(PICKING_POINTS, &swaps(&inputs))?;
        if let Ok(indices) = sobol_indices(&mixed(&rows, |least| least)) {
            let mut ranked: Vec<(f64, Measurable)> =
                indices.iter().skip(1).map(|index| index.total).zip(inputs).collect();
            ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
            inputs = ranked.into_iter().map(|(_, input)| input).collect();
        }
        inputs.truncate(MOST_INPUTS);
        Ok(inputs)
    }

    /// The least counting margin of each point under each swap; a point that is lost under one is left out.
    fn rows(&self, points: u32, swaps: &[Swap]) -> Result<Vec<Vec<f64>>, Error> {
        let wanted: Vec<Draw> =
            (0..points).flat_map(|number| swaps.iter().map(move |swap| Draw { number, swap: *swap })).collect();
        let mut least: Vec<Option<f64>> = Vec::with_capacity(wanted.len());
        for batch in wanted.chunks(BATCH) {
            let margins = self.draws.margins(batch, self.points);
            least.extend(margins.iter().map(|row| least_counting(self.points, row.as_deref()?)));
            self.ranges.go_on(least.len() as u32, wanted.len() as u32)?;
        }
        Ok(least.chunks(swaps.len()).filter_map(|row| row.iter().copied().collect()).collect())
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(swaps: usize, points: u32) {
        assert_eq!(affordable(swaps), points, "{swaps} draws a point");
    }

    #[test]
    fn points_are_the_power_of_two_that_the_budget_allows() {
        check(3, 512);
        check(6, 256);
        check(MOST_INPUTS + 3, 128);
        check(100, LEAST_POINTS);
    }
}
