//! Watches the steps go by: peaks, impacts, traces.

use super::branches::{Branches, Motion};
use super::contact::Touch;
use super::equations::{Loads, System};
use super::outcome::{Blow, MeshPoint, TracePoint};
use super::state::{self, State};
use super::step::{Field, Step};

/// Quantities whose peaks are kept: drive flank, coast flank, shaft, ground, current.
const WATCHED: usize = 5;

/// Half width of the second look at a peak, as a part of the step.
const CLOSE_LOOK: f64 = 0.05;

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

    /// Notes how the event begins.
    pub fn begin(&mut self, system: &System, branches: &Branches, s: &State) {
        if branches.mesh.is_closed() {
            self.closes(system, s);
        }
    }

    /// Looks at an accepted step that starts at a time.
    pub fn step(&mut self, field: &Field<'_>, step: &Step, middle: &State, time_s: f64) {
        let loads = [&step.start, middle, &step.end].map(|s| field.system.loads(&field.pieces, s));
        let [start, middle, end] = loads.map(|loads| watched(&loads));
        for (quantity, ((start, middle), end)) in start.into_iter().zip(middle).zip(end).enumerate() {
            self.peak(field, step, time_s, quantity, [start, middle, end]);
        }
        if self.keeps_history {
            for (loads, part) in loads.iter().zip([0.0, 0.5, 1.0]) {
                let time_s = time_s + part * step.width_s;
                self.mesh_history.push(MeshPoint { time_s, force_n: loads.mesh_n, current_a: loads.current_a });
            }
        }
        if self.trace_step_s.is_finite() {
            self.trace_through(field, step, time_s, &loads);
        }
    }

    /// Notes a change of the mesh's branch at a state.
    pub fn branch(&mut self, system: &System, before: &Branches, after: &Branches, s: &State) {
        let was_open = before.mesh == Touch::Open;
        if was_open && after.mesh.is_closed() {
            self.closes(system, s);
        }
    }

    fn closes(&mut self, system: &System, s: &State) {
        let (_, closing_m_s) = Motion::of(system, s).mesh;
        self.impacts += 1;
        self.largest_closing_speed_m_s = self.largest_closing_speed_m_s.max(closing_m_s.abs());
    }

    /// Keeps a quantity's peak in a step, given its values at start, middle and end.
    fn peak(&mut self, field: &Field<'_>, step: &Step, time_s: f64, quantity: usize, seen: [f64; 3]) {
        let [start, middle, end] = seen;
        let highest = start.max(middle).max(end);
        // The parabola through the three rises above them by at most an eighth of its second difference.
        if highest + 0.125 * (start - 2.0 * middle + end).abs() <= self.peaks[quantity].force_n {
            return;
        }
        for (value, part) in [(start, 0.0), (middle, 0.5), (end, 1.0)] {
            self.keep(step, time_s, quantity, (value, part));
        }
        let Some((top, height)) = vertex([0.0, 0.5, 1.0], seen) else { return };
        if height <= self.peaks[quantity].force_n {
            return;
        }
        let at = |part: f64| watched(&field.system.loads(&field.pieces, &step.at(part)))[quantity];
        let parts = [(top - CLOSE_LOOK).max(0.0), top, (top + CLOSE_LOOK).min(1.0)];
        let values = parts.map(at);
        self.keep(step, time_s, quantity, (values[1], top));
        if let Some((top, _)) = vertex(parts, values) {
            self.keep(step, time_s, quantity, (at(top), top));
        }
    }

    fn keep(&mut self, step: &Step, time_s: f64, quantity: usize, (value, part): (f64, f64)) {
        if value > self.peaks[quantity].force_n {
            self.peaks[quantity] = Blow {
                force_n: value,
                time_s: time_s + part * step.width_s,
                current_a: step.at(part)[state::CURRENT],
                impacts_before: self.impacts.saturating_sub(1),
            };
        }
    }

    fn trace_through(&mut self, field: &Field<'_>, step: &Step, time_s: f64, loads: &[Loads; 3]) {
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
            let point = self.point(&field.system.loads(&field.pieces, &s), &s, next_s);
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

fn watched(loads: &Loads) -> [f64; WATCHED] {
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
