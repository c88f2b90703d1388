//! What would make a failing truck hold: the smallest step of each lever, then pairs of levers.

use super::Bench;
use super::levers::{Lever, levers};
use crate::Error;
use crate::margin::Holds;
use rayon::prelude::*;
use toothsayer_job::{Setting, Sheet};

/// Pairs of levers that are told where no single one is enough.
const MOST_PAIRS: usize = 3;

/// A further change that makes the truck hold at point values.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What is done, in words.
    pub words: String,
    /// The changes, as they are typed behind `--set`.
    pub set: Vec<String>,
}

/// Single levers that are enough, each at its smallest step; where none is, the first pairs that are.
pub(super) fn remedies(sheet: &Sheet, bench: &Bench<'_>) -> Result<Vec<Remedy>, Error> {
    let levers = levers(sheet, &bench.windows);
    let single: Vec<Option<Remedy>> = levers.par_iter().map(|lever| smallest(sheet, lever, bench)).collect();
    let single: Vec<Remedy> = single.into_iter().flatten().collect();
    if !single.is_empty() {
        return Ok(single);
    }
    let pairs: Vec<(&Lever, &Lever)> = levers
        .iter()
        .enumerate()
        .flat_map(|(place, first)| levers[place + 1..].iter().map(move |second| (first, second)))
        .collect();
    let both: Vec<Option<Remedy>> = pairs.par_iter().map(|(a, b)| together(sheet, a, b, bench)).collect();
    Ok(both.into_iter().flatten().take(MOST_PAIRS).collect())
}

fn smallest(sheet: &Sheet, lever: &Lever, bench: &Bench<'_>) -> Option<Remedy> {
    let step = lever.steps.iter().find(|step| holds(sheet, step, bench))?;
    Some(Remedy { words: lever.words.clone(), set: step.clone() })
}

/// Two levers at their largest steps, the second then taken back as far as it goes.
fn together(sheet: &Sheet, first: &Lever, second: &Lever, bench: &Bench<'_>) -> Option<Remedy> {
    let with = |step: &[String]| first.steps.last().map(|largest| [&largest[..], step].concat());
    let enough = |step: &Vec<String>| with(step).is_some_and(|set| holds(sheet, &set, bench));
    second.steps.last().filter(|largest| enough(largest))?;
    let step = second.steps.iter().find(|step| enough(step))?;
    Some(Remedy { words: format!("{} and {}", first.words, second.words), set: with(step)? })
}

/// A step that the mechanics refuse, such as teeth too few to form, is none.
fn holds(sheet: &Sheet, step: &[String], bench: &Bench<'_>) -> bool {
    let changed = step.iter().try_fold(sheet.clone(), |sheet, text| {
        Setting::parse(text, &sheet).map(|setting| sheet.overlaid(&setting.over)).ok()
    });
    let margins = changed.and_then(|changed| bench.margins(&changed).ok());
    margins.is_some_and(|margins| Holds::of(&margins) != Holds::No)
}
