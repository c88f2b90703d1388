//! Ranges of the margins: the inputs drawn within what is stated of them, the same draws for every state.

mod draws;
mod narrowing;

pub(crate) use draws::{FACE_FRICTION, Subject};
pub use narrowing::{Answer, Narrowing};

use crate::Error;
use crate::margin::{Holds, Margin, StateMargins, UNSURE_FROM};
use draws::{Draw, Draws, Swap};
use toothsayer_evidence::{
    Blocks, Proportion, REPLICATES, Side, Tally, all_below_answered, blocks, empirical_quantile, settled,
};
use toothsayer_job::State;

/// Draws of the first block as a rule: the 5 % point of a margin moves by a few per cent from seed to seed.
pub const FIRST_DRAWS: u32 = 128;
/// Draws at most as a rule, where it stays open whether a state holds: a chance of 5 % is then known to about 1.5 %.
pub const MOST_DRAWS: u32 = 1024;
/// The seed of the draws as a rule: the same job gives the same ranges on a screen and on paper.
pub const USUAL_SEED: u32 = 1;

/// Draws that are judged at once: the watch is asked after each.
const BATCH: usize = 64;

/// Told how far the work is and at most how far it goes; answers whether to go on.
pub type Watch<'a> = dyn Fn(u32, u32) -> bool + Sync + 'a;

/// When it is worked out which answer would narrow the verdict most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Narrow {
    /// Nowhere.
    Never,
    /// Where a state is unsure.
    WhereUnsure,
    /// For every state.
    Always,
}

/// How ranges are run.
pub struct Ranges<'a> {
    /// Draws of the first block.
    pub first: u32,
    /// Draws at most: each further block doubles them, until it is answered whether the state holds.
    pub most: u32,
    /// Seed of the draws.
    pub seed: u32,
    /// When the most telling answers are sought.
    pub narrow: Narrow,
    /// Watches the work.
    pub watch: &'a Watch<'a>,
}

/// How many draws a state's ranges come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Draws that gave margins.
    pub used: u32,
    /// Draws that could not be built or computed.
    pub lost: u32,
}

impl Ranges<'_> {
    /// Asks the watch.
    pub(crate) fn go_on(&self, done: u32, most: u32) -> Result<(), Error> {
        if (self.watch)(done, most) { Ok(()) } else { Err(Error::Cancelled { done, most }) }
    }
}

/// A state judged from its point margins, with their ranges where `ranges` asks for them.
pub(crate) fn judge(
    state: State,
    mut margins: Vec<Margin>,
    subject: Subject<'_>,
    ranges: Option<&Ranges<'_>>,
) -> Result<StateMargins, Error> {
    let Some(ranges) = ranges else {
        return Ok(StateMargins { state, holds: Holds::of(&margins), margins, drawn: None, narrowing: None });
    };
    let draws = Draws::new(subject, ranges.seed);
    let drawn = add_ranges(&mut margins, &draws, ranges)?;
    let holds = Holds::of(&margins);
    let wanted = match ranges.narrow {
        Narrow::Never => false,
        Narrow::WhereUnsure => holds == Holds::Unsure,
        Narrow::Always => true,
    };
    let narrowing = if wanted { narrowing::narrowing(&draws, &margins, ranges)? } else { None };
    Ok(StateMargins { state, holds, margins, drawn: Some(drawn), narrowing })
}

/// Gives each margin its median, its 5 % and 95 % ends and the probability that demand passes capacity.
fn add_ranges(margins: &mut [Margin], draws: &Draws<'_>, ranges: &Ranges<'_>) -> Result<Drawn, Error> {
    let mut rows: Vec<Option<Vec<f64>>> = Vec::new();
    for block in blocks(Blocks { first: ranges.first, most: ranges.most }) {
        let wanted: Vec<Draw> = block.map(|number| Draw { number, swap: Swap::None }).collect();
        for batch in wanted.chunks(BATCH) {
            rows.extend(draws.margins(batch, margins));
            ranges.go_on(rows.len() as u32, ranges.most)?;
        }
        let before: Vec<Margin> = margins.to_vec();
        for (place, margin) in margins.iter_mut().enumerate().filter(|(_, margin)| margin.margin.is_some()) {
            spread(margin, &rows, place)?;
        }
        if enough(&before, margins) {
            break;
        }
    }
    let used = rows.iter().flatten().count();
    Ok(Drawn { used: used as u32, lost: (rows.len() - used) as u32 })
}

/// One margin's range from its draws.
fn spread(margin: &mut Margin, rows: &[Option<Vec<f64>>], place: usize) -> Result<(), Error> {
    let mut values: Vec<f64> = rows.iter().flatten().map(|row| row[place]).collect();
    if values.is_empty() {
        return Ok(());
    }
    values.sort_by(f64::total_cmp);
    let at = |share: f64| empirical_quantile(&values, share).filter(|value| value.is_finite());
    (margin.low, margin.median, margin.high) = (at(0.05), at(0.5), at(0.95));
    let mut tallies = [Tally::default(); REPLICATES as usize];
    for (number, row) in rows.iter().enumerate() {
        if let (Some(row), tally) = (row, &mut tallies[number % REPLICATES as usize]) {
            tally.draws += 1;
            tally.hits += u32::from(row[place] < 1.0);
        }
    }
    margin.exceeded = Some(Proportion::of(&tallies)?);
    Ok(())
}

/// Whether further draws would not change the answer: a point margin fails anyhow, one probability surely passes 5 % or
/// all surely stay below, or the ranges of the open ones stand still.
fn enough(before: &[Margin], now: &[Margin]) -> bool {
    let counted = || now.iter().filter(|margin| margin.counts());
    let chances = || counted().filter_map(|margin| margin.exceeded);
    let open = |margin: &Margin| margin.exceeded.is_some_and(|chance| chance.side(UNSURE_FROM) == Side::Open);
    let ends = |margin: &Margin| [margin.low, margin.high].map(|end| end.unwrap_or(f64::INFINITY));
    let still = |(before, now): (&Margin, &Margin)| before.exceeded.is_some() && settled(ends(before), ends(now));
    counted().any(Margin::fails)
        || all_below_answered(chances(), UNSURE_FROM)
        || before.iter().zip(now).filter(|(_, now)| now.counts() && open(now)).all(still)
}
