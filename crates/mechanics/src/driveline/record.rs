//! Watches the steps go by: peaks, impacts, traces.

use super::branches::{Branches, Motion};
use super::contact::Touch;
use super::curve::Curve;
use super::equations::{Field, Loads, Plant};
use super::outcome::{Blow, MeshPoint, TracePoint};
use super::real::Real;
use super::state::{self, State};

/// Quantities whose peaks are kept: drive flank, coast flank, shaft, ground, current.
pub(super) const WATCHED: usize = 5;

/// Half width of the second look at a peak, as a part of the step.
const CLOSE_LOOK: f64 = 0.05;

/// Where a step is looked at: its start, middle and end.
const PARTS: [f64; 3] = [0.0, 0.5, 1.0];

/// The watched loads and the current at start, middle and end of a step.
pub(super) struct Glance {
    pub loads: [[f64; WATCHED]; 3],
    pub currents_a: [f64; 3],
}

/// When a step starts and how long it takes.
#[derive(Clone, Copy)]
pub(super) struct Span {
    pub start_s: f64,
    pub width_s: f64,
}

impl Span {
    fn at(&self, part: f64) -> f64 {
        self.start_s + part * self.width_s
    }
}

/// What was seen up to now.
pub(super) struct Record {
    pub peaks: [Blow; WATCHED],
    pub impacts: u32,
    pub largest_closing_speed_m_s: f64,
    pub trace: Vec<TracePoint>,
    pub mesh_history: Vec<MeshPoint>,
    keeps_history: bool,
    trace_step_s: f64,
    lowest_n: f64,
    highest_n: f64,
}

impl Record {
    /// Keeps `trace_points` points over the duration (none if 0).
    pub fn new(trace_points: u32, duration_s: f64, keeps_history: bool) -> Self {
        let trace_step_s = if trace_points > 1 { duration_s / f64::from(trace_points - 1) } else { f64::INFINITY };
        Self {
            peaks: [Blow::default(); WATCHED],
            impacts: 0,
            largest_closing_speed_m_s: 0.0,
            trace: Vec::with_capacity(trace_points as usize),
            mesh_history: Vec::new(),
            keeps_history,
            trace_step_s,
            lowest_n: 0.0,
            highest_n: 0.0,
        }
    }

    /// Whether every step has to be shown.
    pub fn keeps_all(&self) -> bool {
        self.keeps_history || self.trace_step_s.is_finite()
    }

    /// Notes how the event begins.
    pub fn begin(&mut self, plant: &Plant, branches: &Branches, s: &State) {
        if branches.mesh.is_closed() {
            self.closes(plant, s);
        }
    }

    /// Looks at an accepted step that starts at a time; `step` gives it where it has to be looked into.
    pub fn step(&mut self, field: &Field, seen: &Glance, span: Span, step: impl Fn() -> Curve) {
        for quantity in 0..WATCHED {
            self.peak(field, quantity, seen, span, &step);
        }
        if self.keeps_all() {
            self.keep_all(field, &step(), span.start_s);
        }
    }

    fn keep_all(&mut self, field: &Field, step: &Curve, time_s: f64) {
        let loads = [step.start, step.at(0.5), step.end].map(|s| field.loads(&s));
        if self.keeps_history {
            for (loads, part) in loads.iter().zip(PARTS) {
                let time_s = time_s + part * step.width_s;
                self.mesh_history.push(MeshPoint { time_s, force_n: loads.mesh_n, current_a: loads.current_a });
            }
        }
        if self.trace_step_s.is_finite() {
            self.trace_through(field, step, time_s, &loads);
        }
    }

    /// Notes a change of the mesh's branch at a state.
    pub fn branch(&mut self, plant: &Plant, before: &Branches, after: &Branches, s: &State) {
        let was_open = before.mesh == Touch::Open;
        if was_open && after.mesh.is_closed() {
            self.closes(plant, s);
        }
    }

    fn closes(&mut self, plant: &Plant, s: &State) {
        let (_, closing_m_s) = Motion::of(plant, s).mesh;
        self.impacts += 1;
        self.largest_closing_speed_m_s = self.largest_closing_speed_m_s.max(closing_m_s.abs());
    }

    /// Keeps a quantity's peak in a step.
    fn peak(&mut self, field: &Field, quantity: usize, seen: &Glance, span: Span, step: &impl Fn() -> Curve) {
        let values = seen.loads.map(|loads| loads[quantity]);
        if highest(values[0], values[1], values[2]) <= self.peaks[quantity].force_n {
            return;
        }
        for ((value, current_a), part) in values.into_iter().zip(seen.currents_a).zip(PARTS) {
            self.keep(quantity, value, current_a, span.at(part));
        }
        let Some((top, height)) = vertex(PARTS, values) else { return };
        if height <= self.peaks[quantity].force_n {
            return;
        }
        let step = step();
        let at = |part: f64| watched(&field.loads(&step.at(part)))[quantity];
        let mut keep = |value, part: f64| self.keep(quantity, value, step.at(part)[state::CURRENT], span.at(part));
        let parts = [(top - CLOSE_LOOK).max(0.0), top, (top + CLOSE_LOOK).min(1.0)];
        let values = parts.map(at);
        keep(values[1], top);
        if let Some((top, _)) = vertex(parts, values) {
            keep(at(top), top);
        }
    }

    fn keep(&mut self, quantity: usize, force_n: f64, current_a: f64, time_s: f64) {
        if force_n > self.peaks[quantity].force_n {
            let impacts_before = self.impacts.saturating_sub(1);
            self.peaks[quantity] = Blow { force_n, time_s, current_a, impacts_before };
        }
    }

    fn trace_through(&mut self, field: &Field, step: &Curve, time_s: f64, loads: &[Loads; 3]) {
        for loads in loads {
            self.lowest_n = self.lowest_n.min(loads.mesh_n);
            self.highest_n = self.highest_n.max(loads.mesh_n);
        }
        loop {
            let next_s = self.trace.len() as f64 * self.trace_step_s;
            let part = (next_s - time_s) / step.width_s;
            if part > 1.0 || self.trace.len() == self.trace.capacity() {
                return;
            }
            let s = step.at(part.max(0.0));
            let point = self.point(&field.loads(&s), &s, next_s);
            self.trace.push(point);
            (self.lowest_n, self.highest_n) = (point.mesh_force_n, point.mesh_force_n);
        }
    }

    fn point(&self, loads: &Loads, s: &State, time_s: f64) -> TracePoint {
        TracePoint {
            time_s,
            mesh_force_n: loads.mesh_n,
            mesh_force_max_n: self.highest_n.max(loads.mesh_n),
            mesh_force_min_n: self.lowest_n.min(loads.mesh_n),
            shaft_torque_n_m: loads.shaft_n_m,
            ground_force_n: loads.ground_n,
            tyre_force_n: s[state::TYRE_FORCE],
            current_a: loads.current_a,
            rotor_speed_rad_s: s[state::ROTOR_SPEED],
            wheel_speed_rad_s: s[state::WHEEL_SPEED],
            truck_speed_m_s: s[state::TRUCK_SPEED],
            sprung_height_m: s[state::SPRUNG_HEIGHT],
            unsprung_height_m: s[state::UNSPRUNG_HEIGHT],
        }
    }
}

/// What a load may reach in a step by its values at start, middle and end: the parabola through them rises above the
/// highest by at most an eighth of its second difference.
#[inline(always)]
pub(super) fn highest<T: Real>(start: T, middle: T, end: T) -> T {
    start.larger(middle).larger(end) + start.of(0.125) * (start - start.of(2.0) * middle + end).abs()
}

/// The quantities whose peaks are kept, as magnitudes.
#[inline(always)]
pub(super) fn watched<T: Real>(loads: &Loads<T>) -> [T; WATCHED] {
    [loads.mesh_n, -loads.mesh_n, loads.shaft_n_m.abs(), loads.ground_n, loads.current_a.abs()]
}

/// Place and height of the top of the parabola through three points, if it has one between the outer two.
fn vertex(x: [f64; 3], y: [f64; 3]) -> Option<(f64, f64)> {
    let first = (y[1] - y[0]) / (x[1] - x[0]);
    let second = (y[2] - y[1]) / (x[2] - x[1]);
    let bend = (second - first) / (x[2] - x[0]);
    if bend.is_nan() || bend >= 0.0 {
        return None;
    }
    let top = 0.5 * (x[0] + x[1]) - 0.5 * first / bend;
    let height = y[0] + first * (top - x[0]) + bend * (top - x[0]) * (top - x[1]);
    (top > x[0] && top < x[2]).then_some((top, height))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_vertex_of_a_parabola_is_found_and_a_valley_is_not() {
        let curve = |x: f64| 3.0 - 4.0 * (x - 0.3) * (x - 0.3);
        let (top, height) = vertex([0.0, 0.5, 1.0], [curve(0.0), curve(0.5), curve(1.0)]).unwrap();
        assert!((top - 0.3).abs() < 1e-12 && (height - 3.0).abs() < 1e-12, "{top} {height}");
        assert_eq!(vertex([0.0, 0.5, 1.0], [1.0, 0.0, 1.0]), None);
        assert_eq!(vertex([0.0, 0.5, 1.0], [0.0, 0.9, 1.7]), None, "its top lies beyond the step");
    }
}
