//! The whole verdict of a job.

use crate::Error;
use crate::care::{CareAsk, CareItem, care};
use crate::diagnosis::{Diagnosis, OpenCheck};
use crate::joint::Windows;
use crate::life::{LifeAsk, life};
use crate::margin::StateMargins;
use crate::peaks::Memo;
use crate::plan::Plan;
use crate::ranges::Ranges;
use crate::states::{Loaded, Staged, stages, state_margins, windows};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, State};
use toothsayer_quantity::Money;

/// Causes, plan, states and windows of a job; margins on request.
pub struct Verdict<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its causes.
    pub diagnosis: Diagnosis<'a>,
    /// Its alternatives.
    pub plan: Plan,
    /// Its states.
    pub stages: Vec<Staged>,
    /// Windows of the joints as they will be tightened.
    pub windows: Windows,
}

impl<'a> Verdict<'a> {
    /// Weighs causes, prices alternatives and sets the windows, at point values.
    pub fn new(job: &'a Job, book: &'a FaultBook, memo: &Memo) -> Result<Self, Error> {
        let diagnosis = Diagnosis::new(job, book, memo)?;
        let plan = Plan::new(&diagnosis)?;
        let stages = stages(job, &diagnosis, &plan);
        let proposed = stages.iter().find(|stage| stage.state == State::Proposed);
        let windows = match proposed {
            Some(stage) => windows(&Loaded::new(&stage.sheet, stage.run_in, memo)?)?,
            None => Windows::new(),
        };
        Ok(Self { job, diagnosis, plan, stages, windows })
    }

    /// Open checks with their worth, what is worth most a minute first; of those worth nothing, what tells most.
    pub fn next_checks(&self) -> Vec<(&OpenCheck, Money)> {
        let mut checks: Vec<(&OpenCheck, Money)> =
            self.diagnosis.open.iter().zip(self.plan.worth.iter().copied()).collect();
        let rate = |(check, worth): &(&OpenCheck, Money)| (worth.minor.max(0) as f64) / check.minutes.max(0.1);
        checks.sort_by(|a, b| rate(b).total_cmp(&rate(a)));
        checks
    }

    /// Whether looking can end: a cause stands out, and no open check is expected to save more than looking costs.
    pub fn enough_is_known(&self) -> bool {
        self.diagnosis.stands_out() && self.plan.no_check_pays()
    }

    /// Margins of every state, with ranges where they are asked for.
    pub fn margins(&self, ranges: Option<&Ranges<'_>>, memo: &Memo) -> Result<Vec<StateMargins>, Error> {
        state_margins(self.job, &self.stages, &self.windows, ranges, memo)
    }

    /// The stage of a state; the found state is the built one where nothing was found.
    pub fn stage(&self, state: State) -> Result<&Staged, Error> {
        let of = |state: State| self.stages.iter().find(|stage| stage.state == state);
        let fallback = match state {
            State::Found | State::Stock => Some(State::Built),
            _ => None,
        };
        of(state).or_else(|| of(fallback?)).ok_or(Error::NoState { state: state.name() })
    }

    /// A state's build with its bay and blows.
    pub fn loaded(&self, state: State, memo: &Memo) -> Result<Loaded, Error> {
        let stage = self.stage(state)?;
        Loaded::new(&stage.sheet, stage.run_in, memo)
    }

    /// The care plan of the truck as the recommended repair leaves it, as measured after the work where that was done;
    /// `seed` fixes the draws of its teeth's life.
    pub fn care(&self, seed: u32, memo: &Memo) -> Result<Vec<CareItem>, Error> {
        let stage = self.stage(State::After).or_else(|_| self.stage(State::Proposed))?;
        let loaded = self.loaded(stage.state, memo)?;
        let horizon_runs = self.job.shop.horizon_runs;
        let life = life(stage, &LifeAsk { horizon_runs, seed })?;
        let done = stage.state == State::After;
        care(&CareAsk { loaded: &loaded, done, windows: &self.windows, life: &life })
    }
}
