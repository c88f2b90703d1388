//! What would make a failing truck hold within its makers' limits: the smallest step of each lever, then pairs of levers.

use super::Bench;
use super::levers::{Lever, levers};
use crate::Error;
use crate::margin::Holds;
use crate::stopping::Stopping;
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
    /// The way to a stop then.
    pub stop: Stopping,
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
    lever.steps.iter().find_map(|step| tried(sheet, lever.words.clone(), step.clone(), bench))
}

/// Two levers at their largest steps, the second then taken back as far as it goes.
fn together(sheet: &Sheet, first: &Lever, second: &Lever, bench: &Bench<'_>) -> Option<Remedy> {
    let words = format!("{} and {}", first.words, second.words);
    let largest = first.steps.last()?;
    let with = |step: &Vec<String>| tried(sheet, words.clone(), [&largest[..], step].concat(), bench);
    with(second.steps.last()?)?;
    second.steps.iter().find_map(with)
}

/// The changes of `set` if the truck then holds and keeps its makers' limits. What the mechanics refuse, such as teeth
/// too few to form, is none.
fn tried(sheet: &Sheet, words: String, set: Vec<String>, bench: &Bench<'_>) -> Option<Remedy> {
    let changed = set.iter().try_fold(sheet.clone(), |sheet, text| {
        Setting::parse(text, &sheet).map(|setting| sheet.overlaid(&setting.over)).ok()
    })?;
    let holds = Holds::of(&bench.margins(&changed).ok()?) != Holds::No;
    let keeps = bench.limits(&changed).ok()?.iter().all(|limit| limit.passed() != Some(true));
    let stop = bench.stop(&changed).ok()?;
    (holds && keeps).then_some(Remedy { words, set, stop })
}
