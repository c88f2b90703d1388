//! Running an event: adaptive steps between the ends of branches, peaks and energy kept on the way.

use super::case::{Event, Segment};
use super::model::{GUARDS, Model, Moving};
use super::outcome::{Blow, EnergyBook, Outcome, TracePoint};
use super::peak::extremes;
use super::runge_kutta::{EVALUATIONS, Trial, between, step};
use super::state::{self, COUNT, State};
use super::{DrivelineError, Parameters};
use crate::Error;

/// Bound on accepted and rejected steps together.
const MAX_STEPS: u32 = 400_000;
/// First step of a branch, s.
const FIRST_STEP_S: f64 = 1e-6;
/// Longest step, s: short enough that no contact closes and opens unseen within one.
const LONGEST_STEP_S: f64 = 2e-3;
/// Below this a step is taken whatever its error: time is resolved to its last bits.
const SHORTEST_STEP_S: f64 = 1e-13;
/// Shares of a step at which branch ends are looked for.
const LOOKS: [f64; 2] = [0.5, 1.0];
/// Halvings when a branch end is located within a step.
const HALVINGS: u32 = 60;
/// A flank that never carries this share of the other's blow is not loaded: that is the solver's own tolerance.
const LEAST_BLOW: f64 = 2e-4;
/// Points of a trace.
const TRACE_POINTS: f64 = 1500.0;

/// What an error of one counts as in each state: its usual size in a truck.
const USUAL: State = {
    let mut usual = [1.0; COUNT];
    usual[state::MESH] = 1e-5;
    usual[state::TWIST] = 0.05;
    usual[state::ROTOR_SPEED] = 100.0;
    usual[state::SPUR_SPEED] = 40.0;
    usual[state::WHEEL_SPEED] = 10.0;
    usual[state::CURRENT] = 50.0;
    usual[state::TYRE_FORCE] = 50.0;
    usual[state::SPRUNG_HEIGHT] = 0.02;
    usual[state::UNSPRUNG_HEIGHT] = 0.005;
    usual[state::ENERGY_IN] = 20.0;
    usual[state::ENERGY_LOST] = 20.0;
    usual
};

/// Runs `event` at a tolerance; the trace is kept where asked for.
pub(super) fn run(truck: &Parameters, event: &Event, tolerance: f64, trace: bool) -> Result<Outcome, Error> {
    let start = event.start(truck);
    let [first, second] = event.segments(&start);
    let Some(first) = first else { return Ok(Outcome::default()) };
    let mut runner = Runner::new(truck, event, &first, start, tolerance, trace);
    runner.segment(&first)?;
    if let Some(second) = second {
        runner.model.enter(&second, &runner.state);
        runner.rates = runner.model.rates(&runner.state);
        runner.segment(&second)?;
    }
    Ok(runner.finish())
}

struct Runner<'a> {
    model: Model,
    event: &'a Event,
    time_s: f64,
    state: State,
    rates: State,
    step_s: f64,
    tolerance: f64,
    start_j: f64,
    trace_every_s: Option<f64>,
    out: Outcome,
}

impl<'a> Runner<'a> {
    fn new(truck: &Parameters, event: &'a Event, first: &Segment, start: State, tolerance: f64, trace: bool) -> Self {
        let model = Model::new(truck, first, &start);
        let rates = model.rates(&start);
        let start_j = model.stored_j(&start);
        let trace_every_s = trace.then(|| event.duration_s() / TRACE_POINTS);
        let out = Outcome::default();
        Self {
            model,
            event,
            time_s: 0.0,
            state: start,
            rates,
            step_s: FIRST_STEP_S,
            tolerance,
            start_j,
            trace_every_s,
            out,
        }
    }

    fn segment(&mut self, segment: &Segment) -> Result<(), Error> {
        self.observe_instant();
        while self.time_s < segment.until_s {
            let left_s = segment.until_s - self.time_s;
            let h = self.step_s.min(LONGEST_STEP_S).min(left_s);
            self.advance(h, left_s)?;
        }
        Ok(())
    }

    /// Takes one step, shortened where the tolerance or the end of a branch asks for it.
    fn advance(&mut self, mut h: f64, left_s: f64) -> Result<(), Error> {
        let scale: State = std::array::from_fn(|i| self.tolerance * (USUAL[i] + self.state[i].abs() * share(i)));
        loop {
            if self.out.effort.steps + self.out.effort.rejected >= MAX_STEPS {
                let (case, reached_s, duration_s) = (self.event.case, self.time_s, self.event.duration_s());
                return Err(DrivelineError::TooManySteps { case, max_steps: MAX_STEPS, reached_s, duration_s }.into());
            }
            let trial = self.try_step(h, &scale);
            let factor = (0.9 * trial.error.max(1e-10).powf(-0.2)).clamp(0.2, 5.0);
            if trial.error > 1.0 && h > SHORTEST_STEP_S {
                self.out.effort.rejected += 1;
                h *= factor.min(0.9);
                continue;
            }
            match self.first_crossing(&trial, h) {
                None => {
                    self.step_s = h * factor;
                    self.accept(&trial, h, left_s);
                }
                Some(crossing) => self.cross(&crossing, h, &scale, left_s),
            }
            return Ok(());
        }
    }

    fn try_step(&mut self, h: f64, scale: &State) -> Trial {
        self.out.effort.evaluations += EVALUATIONS;
        step(&self.model, &self.state, &self.rates, h, scale)
    }

    /// Steps to the end of the branch and takes the next one.
    fn cross(&mut self, crossing: &Crossing, h: f64, scale: &State, left_s: f64) {
        let short = crossing.share * h;
        if short > 0.0 {
            let trial = self.try_step(short, scale);
            self.accept(&trial, short, left_s);
        }
        let flanks_met = self.model.cross(crossing.guard);
        self.rates = self.model.rates(&self.state);
        self.out.effort.events += 1;
        self.step_s = (h / 4.0).max(FIRST_STEP_S / 10.0);
        if flanks_met {
            self.out.impacts += 1;
            let closing_m_s = self.model.mesh_speed_m_s(&self.state).abs();
            self.out.largest_closing_speed_m_s = self.out.largest_closing_speed_m_s.max(closing_m_s);
        }
        self.observe_instant();
    }

    fn accept(&mut self, trial: &Trial, h: f64, left_s: f64) {
        let before = self.model.moving(&self.state, &self.rates);
        let after = self.model.moving(&trial.state, &trial.rates);
        self.observe_step(before, after, trial, h);
        self.state = trial.state;
        self.rates = trial.rates;
        self.time_s = if h >= left_s { self.time_s + left_s } else { self.time_s + h };
        self.out.effort.steps += 1;
        self.record();
    }

    /// The first end of a branch within the trial, located on the cubic between its ends.
    fn first_crossing(&self, trial: &Trial, h: f64) -> Option<Crossing> {
        let at = |share: f64| {
            let state = between((&self.state, &self.rates), (&trial.state, &trial.rates), h, share);
            self.model.guards(&state)
        };
        let mut clear = 0.0;
        for look in LOOKS {
            let guards = if look == 1.0 { self.model.guards(&trial.state) } else { at(look) };
            if passed(&guards).is_some() {
                return Some(locate(at, clear, look));
            }
            clear = look;
        }
        None
    }

    fn observe_step(&mut self, before: [Moving; 3], after: [Moving; 3], trial: &Trial, h: f64) {
        let (largest, least) = extremes(before[0], after[0], h);
        let current = |share: f64| {
            self.state[state::CURRENT] + share * (trial.state[state::CURRENT] - self.state[state::CURRENT])
        };
        let (driving, coasting) = (current(largest.share), current(least.share));
        let time_s = self.time_s;
        self.blow(largest.value, time_s + largest.share * h, driving);
        self.blow(least.value, time_s + least.share * h, coasting);
        let (shaft_top, shaft_bottom) = extremes(before[1], after[1], h);
        let (ground_top, _) = extremes(before[2], after[2], h);
        let shaft = shaft_top.value.max(-shaft_bottom.value);
        self.out.peak_shaft_torque_n_m = self.out.peak_shaft_torque_n_m.max(shaft);
        self.out.peak_ground_force_n = self.out.peak_ground_force_n.max(ground_top.value);
        self.out.peak_current_a = self.out.peak_current_a.max(trial.state[state::CURRENT].abs());
    }

    /// Where a branch begins a force may jump.
    fn observe_instant(&mut self) {
        let forces = self.model.forces(&self.state);
        let current = self.state[state::CURRENT];
        self.blow(forces.mesh_n, self.time_s, current);
        self.out.peak_shaft_torque_n_m = self.out.peak_shaft_torque_n_m.max(forces.shaft_n_m.abs());
        self.out.peak_ground_force_n = self.out.peak_ground_force_n.max(forces.ground_n);
        self.out.peak_current_a = self.out.peak_current_a.max(current.abs());
    }

    fn blow(&mut self, mesh_n: f64, time_s: f64, current_a: f64) {
        let impacts_before = self.out.impacts.saturating_sub(1);
        let flank = if mesh_n >= 0.0 { &mut self.out.peak_drive_flank } else { &mut self.out.peak_coast_flank };
        if mesh_n.abs() > flank.force_n {
            *flank = Blow { force_n: mesh_n.abs(), time_s, current_a, impacts_before };
        }
    }

    fn record(&mut self) {
        let Some(every_s) = self.trace_every_s else { return };
        if self.out.trace.last().is_none_or(|last| self.time_s - last.time_s >= every_s) {
            let forces = self.model.forces(&self.state);
            self.out.trace.push(TracePoint {
                time_s: self.time_s,
                mesh_force_n: forces.mesh_n,
                shaft_torque_n_m: forces.shaft_n_m,
                ground_force_n: forces.ground_n,
                current_a: self.state[state::CURRENT],
                truck_speed_m_s: self.state[state::TRUCK_SPEED],
            });
        }
    }

    fn finish(mut self) -> Outcome {
        self.out.energy = EnergyBook {
            start_j: self.start_j,
            in_j: self.state[state::ENERGY_IN],
            lost_j: self.state[state::ENERGY_LOST],
            end_j: self.model.stored_j(&self.state),
        };
        let least_n = LEAST_BLOW * self.out.hardest().force_n;
        for flank in [&mut self.out.peak_drive_flank, &mut self.out.peak_coast_flank] {
            if flank.force_n < least_n {
                *flank = Blow::default();
            }
        }
        self.out.final_truck_speed_m_s = self.state[state::TRUCK_SPEED];
        self.out.final_wheel_speed_rad_s = self.state[state::WHEEL_SPEED];
        self.out.final_motor_speed_rad_s = self.state[state::ROTOR_SPEED];
        self.out
    }
}

/// The end of a branch within a step.
struct Crossing {
    guard: usize,
    share: f64,
}

/// How far a state's own size counts in its tolerance: speeds differ by little from large values, and it is the
/// difference that makes a blow.
const fn share(state: usize) -> f64 {
    match state {
        state::ROTOR_SPEED | state::SPUR_SPEED | state::WHEEL_SPEED | state::TRUCK_SPEED => 0.0,
        _ => 1.0,
    }
}

/// The guard that is passed furthest, if any is.
fn passed(guards: &[f64; GUARDS]) -> Option<usize> {
    let furthest = guards.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
    furthest.filter(|(_, guard)| **guard > 1.0).map(|(place, _)| place)
}

/// The first share between a clear one and a passed one at which a guard is passed.
fn locate(at: impl Fn(f64) -> [f64; GUARDS], mut clear: f64, mut beyond: f64) -> Crossing {
    let mut guard = passed(&at(beyond)).unwrap_or(0);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (clear + beyond);
        if middle <= clear || middle >= beyond {
            break;
        }
        match passed(&at(middle)) {
            Some(place) => {
                guard = place;
                beyond = middle;
            }
            None => clear = middle,
        }
    }
    Crossing { guard, share: beyond }
}
