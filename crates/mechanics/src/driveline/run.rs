//! One event at one tolerance, as the lane that computes it keeps it: where it stands, what comes next, what was seen.

use super::branches::{Branches, Guards};
use super::case::Segment;
use super::curve::Curve;
use super::energy::EnergyBook;
use super::equations::{self, Field, Plant, Rates, Sums, WheelRule};
use super::locate::{NO_PART, first_event};
use super::motor::Command;
use super::outcome::{Effort, Outcome};
use super::record::{Glance, Record, Span};
use super::state::{self, State};
use super::system::System;
use super::{DrivelineError, Event, Options, Parameters, scales};

/// How much a step may shrink or grow at once.
const SHRINK: f64 = 0.2;
const GROW: f64 = 8.0;
/// Least error that the control of the next step remembers.
const LEAST_ERROR: f64 = 1e-4;
/// Branch changes without progress after which the event is given up.
const MAX_IDLE_EVENTS: u32 = 64;
/// First step after the start, s.
const FIRST_STEP_S: f64 = 1e-6;
/// Longest step at a tolerance of 1, s; it shrinks with the fourth root, the order of the pairs, so that two
/// tolerances differ also where nothing but this bound sets the step.
const LONGEST_STEP_S: f64 = 4e-3;
/// First step after mesh or shaft change, in radians of the fastest swing: the blow may set it ringing, which a long
/// implicit step would not see.
const STEP_AFTER_EVENT_RAD: f64 = 0.3;
/// Steps longer than this, in radians of the fastest closed contact, take mesh and shaft implicitly.
const STIFF_RAD: f64 = 1.6;
/// Explicit steps after the implicit pair was found less exact.
const EXPLICIT_STEPS: u32 = 16;

/// An event under way.
pub(super) struct Run {
    pub system: System,
    pub field: Field,
    pub guards: Guards,
    pub per_allowed: State,
    pub last_error: f64,
    event: Event,
    max_steps: u32,
    segments: [Option<Segment>; 2],
    segment: usize,
    start: State,
    time_s: f64,
    width_s: f64,
    longest_s: f64,
    fast_rad_s: f64,
    is_stiff: bool,
    explicit_steps: u32,
    landing: Option<Landing>,
    idle_events: u32,
    branches: Branches,
    effort: Effort,
    pub record: Record,
}

/// A step that is to end at an event, and the guard that is passed there.
#[derive(Clone, Copy)]
struct Landing {
    width_s: f64,
    guard: usize,
}

/// How the next step is to be taken.
#[derive(Clone, Copy)]
pub(super) struct NextStep {
    pub width_s: f64,
    pub is_stiff: bool,
}

/// What a step shows of itself, before it is accepted.
#[derive(Clone, Copy)]
pub(super) struct Look {
    /// Its error over what is allowed.
    pub error: f64,
    /// Width of the next step over this one's, by the error.
    pub factor: f64,
    /// Whether a guard is positive in its middle or at its end.
    pub crosses: bool,
    /// Whether a load may rise above its peak.
    pub rises: bool,
}

/// What becomes of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fate {
    /// It is taken again, shorter.
    Retaken,
    /// It is taken again from changed branches.
    Restarted,
    /// Its end is the next step's start.
    Advances,
}

impl Run {
    /// A checked event of a checked truck at its start.
    pub fn new(truck: &Parameters, event: &Event, options: &Options, tolerance: f64) -> Self {
        let start = event.start(truck);
        Self::with(truck, event, options, tolerance, start, event.segments(&start))
    }

    /// From any state, through any segments.
    pub fn with(
        truck: &Parameters,
        event: &Event,
        options: &Options,
        tolerance: f64,
        start: State,
        segments: [Option<Segment>; 2],
    ) -> Self {
        let system = System::new(truck);
        let plant = Plant::new(&system);
        let branches = Branches::at(&system, Command::Coast, &start);
        let mut record = Record::new(options.trace_points, event.duration_s(), options.mesh_history);
        record.begin(&plant, &branches, &start);
        let mut run = Self {
            field: Field { plant, ..Field::default() },
            guards: Guards::default(),
            per_allowed: scales::of(truck).map(|scale| 1.0 / (scale * tolerance)),
            last_error: 1.0,
            system,
            event: *event,
            max_steps: options.max_steps,
            segments,
            segment: 0,
            start,
            time_s: 0.0,
            width_s: FIRST_STEP_S,
            longest_s: LONGEST_STEP_S * tolerance.powf(0.25),
            fast_rad_s: 0.0,
            is_stiff: false,
            explicit_steps: 0,
            landing: None,
            idle_events: 0,
            branches,
            effort: Effort { runs: 1, ..Effort::default() },
            record,
        };
        run.command(&start);
        run
    }

    /// State at the start.
    pub fn start(&self) -> &State {
        &self.start
    }

    /// Rates at a state on the present branches.
    pub fn rates(&mut self, s: &State) -> Rates {
        self.effort.evaluations += 1;
        self.field.rates(s)
    }

    /// How the next step is to be taken.
    pub fn next_step(&mut self) -> Result<NextStep, DrivelineError> {
        if self.effort.steps + self.effort.rejected >= self.max_steps || self.idle_events > MAX_IDLE_EVENTS {
            return Err(self.too_many_steps());
        }
        let width_s = self.landing.map_or(self.width_s.min(self.until_s() - self.time_s), |landing| landing.width_s);
        self.effort.taken += 1;
        self.effort.evaluations += 6;
        self.is_stiff = width_s * self.fast_rad_s > STIFF_RAD && self.explicit_steps == 0;
        self.explicit_steps = self.explicit_steps.saturating_sub(1);
        Ok(NextStep { width_s, is_stiff: self.is_stiff })
    }

    /// Judges a step that was taken; the loads and the step itself are asked for where they are needed.
    pub fn judge(&mut self, look: &Look, width_s: f64, glance: impl Fn() -> Glance, step: impl Fn() -> Curve) -> Fate {
        if self.landing.is_none() {
            if !self.accepts(look, width_s) {
                return Fate::Retaken;
            }
            if look.crosses {
                let step = step();
                if let Some((part, guard)) = first_event(&self.guards, &self.field.plant, &step) {
                    return self.meet(part, guard, &step);
                }
            }
        }
        if look.rises || self.record.keeps_all() {
            let span = Span { start_s: self.time_s, width_s };
            self.record.step(&self.field, &glance(), span, step);
        }
        self.effort.steps += 1;
        let (end_s, until_s) = (self.time_s + width_s, self.until_s());
        self.time_s = if until_s - end_s <= f64::EPSILON * until_s { until_s } else { end_s };
        Fate::Advances
    }

    /// An event within a step: at its very start it is passed at once, else the next step ends there.
    fn meet(&mut self, part: f64, guard: usize, step: &Curve) -> Fate {
        if part > NO_PART {
            self.landing = Some(Landing { width_s: step.width_s * part, guard });
            self.idle_events = 0;
            return Fate::Retaken;
        }
        self.idle_events += 1;
        self.pass(guard, &step.start);
        Fate::Restarted
    }

    /// Judges a step by its error and sets the width of the next one.
    fn accepts(&mut self, look: &Look, width_s: f64) -> bool {
        if look.error <= 1.0 {
            self.width_s = (width_s * look.factor.clamp(SHRINK, GROW)).min(self.longest_s);
            self.last_error = look.error.max(LEAST_ERROR);
            return true;
        }
        self.effort.rejected += 1;
        if self.is_stiff && width_s * look.factor * self.fast_rad_s < STIFF_RAD {
            self.explicit_steps = EXPLICIT_STEPS;
        }
        self.width_s = width_s * if look.error.is_finite() { look.factor.clamp(SHRINK, 1.0) } else { SHRINK };
        false
    }

    /// Whether something is due at the end of the step just accepted.
    pub fn is_due(&self) -> bool {
        self.landing.is_some() || self.time_s >= self.until_s()
    }

    /// Does what is due at the end of an accepted step: whether the branches or the command changed.
    pub fn arrives(&mut self, s: &State) -> bool {
        let landing = self.landing.take();
        if let Some(landing) = landing {
            self.pass(landing.guard, s);
        }
        if self.time_s < self.until_s() {
            return landing.is_some();
        }
        self.segment += 1;
        self.command(s);
        !self.is_over()
    }

    /// Whether the event has come to its end.
    pub fn is_over(&self) -> bool {
        self.segments.get(self.segment).is_none_or(Option::is_none)
    }

    fn until_s(&self) -> f64 {
        self.segments.get(self.segment).copied().flatten().map_or(0.0, |segment| segment.until_s)
    }

    /// Begins a segment.
    fn command(&mut self, s: &State) {
        let Some(segment) = self.segments.get(self.segment).copied().flatten() else { return };
        self.branches.command(&self.system, segment.command, s);
        self.field.wheels = WheelRule::new(&self.system, segment.wheels);
        self.settle_branches(segment.command);
    }

    fn pass(&mut self, guard: usize, s: &State) {
        let before = self.branches;
        self.branches.pass(guard, &self.system, s);
        self.record.branch(&self.field.plant, &before, &self.branches, s);
        self.effort.events += 1;
        if let Some(segment) = self.segments.get(self.segment).copied().flatten() {
            self.settle_branches(segment.command);
        }
        if self.branches.mesh != before.mesh || self.branches.shaft != before.shaft {
            self.width_s = self.width_s.min(STEP_AFTER_EVENT_RAD / self.fast_rad_s.max(self.system.shaft_rad_s));
        }
    }

    fn settle_branches(&mut self, command: Command) {
        self.field.pieces = self.branches.pieces(&self.system, command);
        self.guards = self.branches.guards(&self.system, command);
        self.fast_rad_s = self.branches.fast_rad_s(&self.system);
    }

    fn too_many_steps(&self) -> DrivelineError {
        DrivelineError::TooManySteps {
            case: self.event.case,
            max_steps: self.max_steps,
            reached_s: self.time_s,
            duration_s: self.event.duration_s(),
        }
    }

    /// The result, from the state and the sums at the end.
    pub fn outcome(self, end: &State, sums: &Sums) -> Outcome {
        let [drive, coast, shaft, ground, current] = self.record.peaks;
        Outcome {
            peak_drive_flank: drive,
            peak_coast_flank: coast,
            peak_shaft_torque_n_m: shaft.force_n,
            peak_ground_force_n: ground.force_n,
            peak_current_a: current.force_n,
            impacts: self.record.impacts,
            largest_closing_speed_m_s: self.record.largest_closing_speed_m_s,
            energy: EnergyBook::close(&self.system, &self.start, end, sums),
            final_truck_speed_m_s: end[state::TRUCK_SPEED],
            final_wheel_speed_rad_s: end[state::WHEEL_SPEED],
            final_rotor_speed_rad_s: end[state::ROTOR_SPEED],
            wheel_turn_rad: sums[equations::WHEEL_TURN],
            clutch_slip_rad: sums[equations::CLUTCH_SLIP],
            trace: self.record.trace,
            mesh_history: self.record.mesh_history,
            settled: None,
            effort: self.effort,
        }
    }
}
