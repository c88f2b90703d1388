//! An event at successive tolerances, until its peaks have settled.

use super::run::Run;
use super::settle::Settling;
use super::{Case, DrivelineError, Event, Outcome, Parameters, limits, solve};
use crate::Error;

/// How an event is computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// Local tolerance of the first run; the next runs tighten it.
    pub tolerance: f64,
    /// Whether to run again at tighter tolerances until the peaks agree, and to refuse what does not settle.
    pub settle: bool,
    /// Points of the trace at even times; 0 for none.
    pub trace_points: u32,
    /// Whether the tooth force's whole history is kept.
    pub mesh_history: bool,
    /// Bound on the steps of one run.
    pub max_steps: u32,
}

impl Default for Options {
    fn default() -> Self {
        Self { tolerance: 1e-3, settle: true, trace_points: 0, mesh_history: false, max_steps: 500_000 }
    }
}

/// Simulates an event until its peaks have settled to 0.1 %, 1 % after the third impact; see [`simulate_with`].
pub fn simulate(truck: &Parameters, event: &Event) -> Result<Outcome, Error> {
    simulate_with(truck, event, &Options::default())
}

/// Simulates an event.
///
/// With `settle` the run is repeated at tighter tolerances until each peak is within 0.1 % of the converged one, a peak
/// after the third impact within 1 %; a flank that is only grazed within 0.03 % of the largest tooth force.
///
/// Errors: a value outside its range, more steps than allowed, and, with `settle`, peaks or an energy book that
/// do not settle: an answer that cannot be trusted is not given.
pub fn simulate_with(truck: &Parameters, event: &Event, options: &Options) -> Result<Outcome, Error> {
    let events = [(truck, *event)];
    let mut queue = Bench::new(&events, options);
    solve::run_single(&mut queue);
    queue.results.swap_remove(0)
}

/// Simulates many events side by side, each as [`simulate_with`] does, with the same bits; the results in their order.
pub fn simulate_all(events: &[(&Parameters, Event)], options: &Options) -> Vec<Result<Outcome, Error>> {
    let mut queue = Bench::new(events, options);
    solve::run_wide(&mut queue);
    queue.results
}

/// Events that wait, those under way, and their results.
struct Bench<'a> {
    events: Vec<Settling<'a>>,
    /// Who comes next, from the end: the long ones first, so that no lane is left alone with one.
    waiting: Vec<usize>,
    results: Vec<Result<Outcome, Error>>,
}

impl<'a> Bench<'a> {
    fn new(events: &'a [(&'a Parameters, Event)], options: &Options) -> Self {
        let answer = |(truck, event): &(&Parameters, Event)| {
            checked(truck, event, options)?;
            Err(DrivelineError::Left { case: event.case }.into())
        };
        let is_valid = |index: &usize| checked(events[*index].0, &events[*index].1, options).is_ok();
        let mut waiting: Vec<usize> = (0..events.len()).filter(is_valid).collect();
        waiting.sort_by(|a, b| length(&events[*a].1).total_cmp(&length(&events[*b].1)));
        Self {
            events: events.iter().map(|(truck, event)| Settling::new(truck, event, options)).collect(),
            waiting,
            results: events.iter().map(answer).collect(),
        }
    }
}

/// About how long an event takes, in seconds of an ordinary one: a wheel stop rings long.
fn length(event: &Event) -> f64 {
    event.duration_s() * if event.case == Case::WheelStop { 4.0 } else { 1.0 }
}

impl solve::Queue for Bench<'_> {
    fn next(&mut self) -> Option<(usize, Run)> {
        self.waiting.pop().map(|index| (index, self.events[index].run()))
    }

    fn done(&mut self, index: usize, result: Result<Outcome, DrivelineError>) -> Option<Run> {
        let settling = &mut self.events[index];
        let answer = result.map_or_else(|error| Some(Err(error)), |outcome| settling.after(outcome));
        let Some(answer) = answer else { return Some(settling.run()) };
        self.results[index] = answer.map_err(Error::from);
        None
    }
}

fn checked(truck: &Parameters, event: &Event, options: &Options) -> Result<(), Error> {
    truck.check()?;
    event.check()?;
    limits::TOLERANCE.check(options.tolerance)?;
    Ok(())
}
