//! At which step each failing part falls short, from the maker's truck to the one that came, and what was fitted took.

use crate::Error;
use crate::change::{MOST_CHANGES, Share, Wanted};
use crate::margin::{FailsAt, Limit, Margin, StateMargins};
use crate::peaks::Memo;
use crate::verdict::Verdict;
use toothsayer_job::{Setting, Sheet, State};

/// A part that falls short in the truck that came, with its margin in each state.
#[derive(Clone, Debug, PartialEq)]
pub struct Shortfall {
    /// The part.
    pub part: String,
    /// What limits it.
    pub limit: Limit,
    /// The load case, or "any".
    pub case: &'static str,
    /// The step at which it falls short.
    pub fails_at: FailsAt,
    /// Margin as sold; none where the file does not tell what was sold, or where nothing was asked.
    pub stock: Option<f64>,
    /// Margin as built.
    pub built: Option<f64>,
    /// Margin as it came.
    pub came: Option<f64>,
}

/// What can be said without blame of why a truck fails.
#[derive(Clone, Debug)]
pub struct Statement {
    /// Every part that falls short, the worst case of each, the least margin first.
    pub shortfalls: Vec<Shortfall>,
    /// What was fitted or set since the truck was sold, by part.
    pub fitted: Vec<Setting>,
    /// What each of these took of the margins that moved, the tightest first; the parts as in `fitted`.
    pub shares: Vec<Share>,
}

impl Statement {
    /// From a job's verdict and its margins at point values.
    pub fn new(verdict: &Verdict<'_>, states: &[StateMargins], memo: &Memo) -> Result<Statement, Error> {
        let job = verdict.job;
        let fitted = if job.has_stock { grouped(job.stock.differences(&job.built)) } else { Vec::new() };
        let wanted = Wanted {
            before: &job.stock,
            state: State::Stock,
            run_in: job.runs_since_gears >= 1.0,
            settings: &fitted,
            horizon_runs: job.shop.horizon_runs,
        };
        let shares = if fitted.is_empty() { Vec::new() } else { wanted.weigh(None, memo, &|_, _| true)?.shares };
        Ok(Statement { shortfalls: shortfalls(states), fitted, shares })
    }
}

/// At most as many changes as can be weighed together: the last ones are told as one.
fn grouped(mut settings: Vec<Setting>) -> Vec<Setting> {
    while settings.len() > MOST_CHANGES {
        let (Some(last), Some(before)) = (settings.pop(), settings.last_mut()) else { break };
        before.key = format!("{}, {}", before.key, last.key);
        let mut over: Sheet = before.over.clone();
        over.lay(&last.over);
        before.over = over;
    }
    settings
}

fn shortfalls(states: &[StateMargins]) -> Vec<Shortfall> {
    let of = |state: State| states.iter().find(|margins| margins.state == state);
    let Some(came) = of(State::Found).or_else(|| of(State::Built)) else { return Vec::new() };
    let mut failing: Vec<&Margin> = came.margins.iter().filter(|margin| margin.counts() && margin.fails()).collect();
    failing.sort_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    let mut told: Vec<Shortfall> = Vec::new();
    for margin in failing {
        // A lost clamp is told by the slip that it brings.
        let same = |limit: Limit| limit == margin.limit || (margin.limit == Limit::Clamp && limit == Limit::Slip);
        if told.iter().any(|known| known.part == margin.part && same(known.limit)) {
            continue;
        }
        let Some(fails_at) = margin.fails_at else { continue };
        let in_state = |state: State| {
            let margins = &of(state)?.margins;
            margins.iter().find(|other| other.same_place(margin))?.margin
        };
        told.push(Shortfall {
            part: margin.part.clone(),
            limit: margin.limit,
            case: margin.case,
            fails_at,
            stock: in_state(State::Stock),
            built: in_state(State::Built),
            came: margin.margin,
        });
    }
    told
}
