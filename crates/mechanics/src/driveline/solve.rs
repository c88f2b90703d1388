//! The solver: steps of an embedded pair from event to event, at one tolerance.

use super::branches::{Branches, GUARD_COUNT};
use super::case::Segment;
use super::energy::EnergyBook;
use super::equations::{self, SUM_COUNT, Sums, System};
use super::motor::Command;
use super::outcome::{Effort, Outcome};
use super::record::Record;
use super::state::{self, State};
use super::step::{Field, Step};
use super::{DrivelineError, Event, Options, Parameters};

/// Part of the step that the error would allow.
const CAUTION: f64 = 0.9;
/// Exponents of the error of this step and of the last one (a proportional-integral control).
const ERROR_EXPONENT: f64 = 0.17;
const LAST_ERROR_EXPONENT: f64 = 0.04;
/// How much a step may shrink or grow at once.
const SHRINK: f64 = 0.2;
const GROW: f64 = 2.0;
/// Branch changes without progress after which the event is given up.
const MAX_IDLE_EVENTS: u32 = 64;
/// A part of a step that counts as nothing.
const NO_PART: f64 = 1e-13;
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
/// Halvings of a step in search of a dip below zero.
const DIP_HALVINGS: i32 = 24;
/// Halvings and secants until an event is located.
const LOCATE_STEPS: u32 = 60;

struct Run<'a> {
    truck: &'a System,
    event: &'a Event,
    max_steps: u32,
    scales: State,
    state: State,
    time_s: f64,
    width_s: f64,
    longest_s: f64,
    last_error: f64,
    fast_rad_s: f64,
    is_stiff: bool,
    explicit_steps: u32,
    branches: Branches,
    sums: Sums,
    effort: Effort,
    record: Record,
}

/// Simulates a checked event of a checked truck at one tolerance.
pub(super) fn run(
    truck: &Parameters,
    event: &Event,
    options: &Options,
    tolerance: f64,
) -> Result<Outcome, DrivelineError> {
    let start = event.start(truck);
    let system = System::new(truck);
    let run = Run::new(&system, truck, event, options, tolerance, start);
    run.through(&event.segments(&start))
}

impl<'a> Run<'a> {
    fn new(
        system: &'a System,
        truck: &Parameters,
        event: &'a Event,
        options: &Options,
        tolerance: f64,
        start: State,
    ) -> Self {
        let branches = Branches::at(system, Command::Coast, &start);
        let mut record = Record::new(options.trace_points, event.duration_s(), options.mesh_history);
        record.begin(system, &branches, &start);
        Self {
            truck: system,
            event,
            max_steps: options.max_steps,
            scales: scales(truck).map(|scale| scale * tolerance),
            state: start,
            time_s: 0.0,
            width_s: FIRST_STEP_S,
            longest_s: LONGEST_STEP_S * tolerance.powf(0.25),
            last_error: 1.0,
            fast_rad_s: 0.0,
            is_stiff: false,
            explicit_steps: 0,
            branches,
            sums: [0.0; SUM_COUNT],
            effort: Effort { runs: 1, ..Effort::default() },
            record,
        }
    }

    fn through(mut self, segments: &[Option<Segment>]) -> Result<Outcome, DrivelineError> {
        let start = self.state;
        for segment in segments.iter().flatten() {
            self.segment(*segment)?;
        }
        Ok(self.outcome(&start))
    }

    fn segment(&mut self, segment: Segment) -> Result<(), DrivelineError> {
        self.branches.command(self.truck, segment.command, &self.state);
        let mut field = self.field(segment);
        let mut step = Step::at_rest(&self.state, &field.rates(&self.state));
        let mut guards = self.branches.guards(self.truck, segment.command, &self.state);
        let mut idle_events = 0;
        while self.time_s < segment.until_s {
            let width_s = self.width_s.min(segment.until_s - self.time_s);
            self.attempt(&field, &mut step, width_s)?;
            if !self.accepts(&step) {
                continue;
            }
            let middle = step.at(0.5);
            let after = self.branches.guards(self.truck, segment.command, &step.end);
            let Some((part, guard)) = self.next_event(segment.command, &step, &middle, [&guards, &after]) else {
                self.advance(&field, &step, &middle);
                step.go_on();
                guards = after;
                continue;
            };
            if part > NO_PART {
                self.attempt(&field, &mut step, width_s * part)?;
                self.advance(&field, &step, &step.at(0.5));
                idle_events = 0;
            } else {
                idle_events += 1;
            }
            if idle_events > MAX_IDLE_EVENTS {
                return Err(self.too_many_steps());
            }
            self.pass(guard);
            field = self.field(segment);
            step.restart(&field.rates(&self.state));
            guards = self.branches.guards(self.truck, segment.command, &self.state);
        }
        Ok(())
    }

    fn field(&mut self, segment: Segment) -> Field<'a> {
        self.effort.evaluations += 1;
        self.fast_rad_s = self.branches.fast_rad_s(self.truck);
        Field { system: self.truck, pieces: self.branches.pieces(self.truck, segment.command), segment }
    }

    fn attempt(&mut self, field: &Field<'_>, step: &mut Step, width_s: f64) -> Result<(), DrivelineError> {
        if self.effort.steps + self.effort.rejected >= self.max_steps {
            return Err(self.too_many_steps());
        }
        self.effort.evaluations += 6;
        self.is_stiff = width_s * self.fast_rad_s > STIFF_RAD && self.explicit_steps == 0;
        self.explicit_steps = self.explicit_steps.saturating_sub(1);
        if self.is_stiff {
            step.take_stiff(field, &self.state, width_s);
        } else {
            step.take(field, &self.state, width_s);
        }
        Ok(())
    }

    /// Judges a step by its error and sets the width of the next one.
    fn accepts(&mut self, step: &Step) -> bool {
        let error = step.error(&self.scales);
        let factor = CAUTION * error.powf(-ERROR_EXPONENT) * self.last_error.powf(LAST_ERROR_EXPONENT);
        if error <= 1.0 {
            self.width_s = (step.width_s * factor.clamp(SHRINK, GROW)).min(self.longest_s);
            self.last_error = error.max(1e-4);
            return true;
        }
        self.effort.rejected += 1;
        if self.is_stiff && step.width_s * factor * self.fast_rad_s < STIFF_RAD {
            self.explicit_steps = EXPLICIT_STEPS;
        }
        self.width_s = step.width_s * if error.is_finite() { factor.clamp(SHRINK, 1.0) } else { SHRINK };
        false
    }

    fn advance(&mut self, field: &Field<'_>, step: &Step, middle: &State) {
        self.effort.steps += 1;
        self.record.step(field, step, middle, self.time_s);
        for (sum, part) in self.sums.iter_mut().zip(step.sums()) {
            *sum += part;
        }
        self.state = step.end;
        let end_s = self.time_s + step.width_s;
        let until_s = field.segment.until_s;
        self.time_s = if until_s - end_s <= f64::EPSILON * until_s { until_s } else { end_s };
    }

    /// Part of the step and number of the guard that becomes positive first.
    fn next_event(
        &self,
        command: Command,
        step: &Step,
        middle: &State,
        [before, after]: [&[f64; GUARD_COUNT]; 2],
    ) -> Option<(f64, usize)> {
        let halfway = self.branches.guards(self.truck, command, middle);
        let mut earliest: Option<(f64, usize)> = None;
        for guard in 0..GUARD_COUNT {
            let bracket = if halfway[guard] > 0.0 {
                [(0.0, before[guard]), (0.5, halfway[guard])]
            } else if after[guard] > 0.0 {
                [(0.5, halfway[guard]), (1.0, after[guard])]
            } else {
                continue;
            };
            let value = |part: f64| self.branches.guards(self.truck, command, &step.at(part))[guard];
            let part = locate(value, bracket);
            if earliest.is_none_or(|(first, _)| part < first) {
                earliest = Some((part, guard));
            }
        }
        earliest
    }

    fn pass(&mut self, guard: usize) {
        let before = self.branches;
        self.branches.pass(guard, self.truck, &self.state);
        self.record.branch(self.truck, &before, &self.branches, &self.state);
        self.effort.events += 1;
        if self.branches.mesh != before.mesh || self.branches.shaft != before.shaft {
            let fast_rad_s = self.branches.fast_rad_s(self.truck);
            self.width_s = self.width_s.min(STEP_AFTER_EVENT_RAD / fast_rad_s.max(self.truck.shaft_rad_s));
        }
    }

    fn too_many_steps(&self) -> DrivelineError {
        DrivelineError::TooManySteps {
            case: self.event.case,
            max_steps: self.max_steps,
            reached_s: self.time_s,
            duration_s: self.event.duration_s(),
        }
    }

    fn outcome(self, start: &State) -> Outcome {
        let [drive, coast, shaft, ground, current] = self.record.peaks;
        Outcome {
            peak_drive_flank: drive,
            peak_coast_flank: coast,
            peak_shaft_torque_n_m: shaft.force_n,
            peak_ground_force_n: ground.force_n,
            peak_current_a: current.force_n,
            impacts: self.record.impacts,
            largest_closing_speed_m_s: self.record.largest_closing_speed_m_s,
            energy: EnergyBook::close(self.truck, start, &self.state, &self.sums),
            final_truck_speed_m_s: self.state[state::TRUCK_SPEED],
            final_wheel_speed_rad_s: self.state[state::WHEEL_SPEED],
            final_rotor_speed_rad_s: self.state[state::ROTOR_SPEED],
            wheel_turn_rad: self.sums[equations::WHEEL_TURN],
            clutch_slip_rad: self.sums[equations::CLUTCH_SLIP],
            trace: self.record.trace,
            mesh_history: self.record.mesh_history,
            settled: None,
            effort: self.effort,
        }
    }
}

/// Where a function of the part passes zero between two parts of the step (regula falsi, Illinois variant).
fn locate(value_at: impl Fn(f64) -> f64, [mut low, mut high]: [(f64, f64); 2]) -> f64 {
    if low.1 >= 0.0 {
        // At the very edge: passed at once, unless it first falls below zero and comes back within the step.
        let dip = (1..DIP_HALVINGS).map(|halvings| low.0 + (high.0 - low.0) * 0.5_f64.powi(halvings));
        match dip.map(|part| (part, value_at(part))).find(|(_, value)| *value < 0.0) {
            Some(below) => low = below,
            None => return low.0,
        }
    }
    let mut last_was_high = None;
    for _ in 0..LOCATE_STEPS {
        if high.0 - low.0 <= NO_PART {
            break;
        }
        let part = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
        let value = value_at(part);
        if value == 0.0 {
            return part;
        }
        let is_high = value > 0.0;
        let again = last_was_high == Some(is_high);
        if is_high {
            high = (part, value);
            low.1 *= if again { 0.5 } else { 1.0 };
        } else {
            low = (part, value);
            high.1 *= if again { 0.5 } else { 1.0 };
        }
        last_was_high = Some(is_high);
    }
    high.0
}

/// Speed along the line of action by which errors of the turning parts are measured, m/s; blows close at 0.1 to 5.
const CLOSING_SPEED_M_S: f64 = 0.1;

/// Tooth force that a blow at that speed gives, N: the tolerance is a part of it.
pub(super) fn force_scale_n(truck: &Parameters) -> f64 {
    CLOSING_SPEED_M_S * (truck.mesh_stiffness_n_m * truck.mesh_mass_kg()).sqrt()
}

/// Error of each state that weighs as much as a tolerance of 1.
fn scales(truck: &Parameters) -> State {
    let spur_rad_s = CLOSING_SPEED_M_S / truck.spur_base_radius_m;
    let mut scales = [0.0; state::COUNT];
    scales[state::MESH] = CLOSING_SPEED_M_S / truck.mesh_frequency_rad_s();
    scales[state::TWIST] = spur_rad_s / truck.shaft_frequency_rad_s();
    scales[state::ROTOR_SPEED] = CLOSING_SPEED_M_S / truck.pinion_base_radius_m;
    scales[state::SPUR_SPEED] = spur_rad_s;
    scales[state::WHEEL_SPEED] = spur_rad_s / truck.ratio_after_spur;
    scales[state::TRUCK_SPEED] = 0.1;
    scales[state::CURRENT] = 3.0;
    scales[state::TYRE_FORCE] = 0.1 * truck.truck_mass_kg * super::derived::GRAVITY_M_S2;
    scales[state::SPRUNG_HEIGHT] = 1e-4;
    scales[state::SPRUNG_SPEED] = 1e-2;
    scales[state::UNSPRUNG_HEIGHT] = 1e-4;
    scales[state::UNSPRUNG_SPEED] = 1e-2;
    scales
}

#[cfg(test)]
mod tests;
