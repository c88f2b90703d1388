//! How far a motor slides in its slots during one event.

use super::{ScrewError, limits};
use toothsayer_quantity::{Angle, Force, Length, Mass, Time};

/// Samples closer than this are taken for the same moment, s.
const SHORTEST_STEP_S: f64 = 1e-12;

/// One sample of a tooth force trace; between samples the force is linear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceSample {
    /// Time, rising from sample to sample by a picosecond or more.
    pub time: Time,
    /// Normal tooth force of either flank, at most 1 MN; its magnitude pushes the motor away.
    pub normal_force: Force,
}

/// A part held by friction alone and pushed away by the radial tooth force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlidingBlock {
    /// What moves, 0.001 to 50 kg.
    pub mass: Mass,
    /// Working pressure angle aw, 0 to 60 deg.
    pub pressure_angle: Angle,
    /// Friction of all screws together, mu sum F, 0 to 1 MN.
    pub friction: Force,
    /// Free travel until the screws meet their holes, 0 to 10 mm.
    pub clearance: Length,
}

/// What a trace did to the block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slide {
    /// Travel away from the spur; the centre distance opens by it.
    pub travel: Length,
    /// When it first moved; none if it held.
    pub first_moved: Option<Time>,
    /// Whether the holes stopped it.
    pub stopped_by_hole: bool,
}

/// Travel, speed and first movement so far; SI.
#[derive(Clone, Copy, Debug, Default)]
struct State {
    travel_m: f64,
    speed_m_s: f64,
    first_moved_s: Option<f64>,
}

/// A piece of the trace over which the acceleration is a + slope t; SI.
#[derive(Clone, Copy)]
struct Piece {
    start_s: f64,
    duration_s: f64,
    acceleration: f64,
    slope: f64,
}

impl SlidingBlock {
    /// Travel over a force trace: m x'' = |Fn| sin aw - mu sum F while it moves.
    ///
    /// It starts when the push exceeds friction, stops when its speed has gone, never comes back (the radial
    /// force only pushes away) and ends at the clearance, where it stays. The acceleration is linear between
    /// samples, so each piece is solved in closed form. Static and sliding friction are taken as equal.
    pub fn slide(&self, trace: &[ForceSample]) -> Result<Slide, ScrewError> {
        let clearance_m = limits::CLEARANCE.check(self.clearance.to_mm())? * 1e-3;
        let samples = self.accelerations(trace)?;
        let mut state = State::default();
        for pair in samples.windows(2) {
            for piece in pieces(pair[0], pair[1]) {
                advance(&mut state, piece);
                if state.travel_m > clearance_m {
                    state.travel_m = clearance_m;
                    return Ok(finish(state, true));
                }
            }
        }
        Ok(finish(state, false))
    }

    /// Checked samples as (time, push, friction), both per mass.
    fn accelerations(&self, trace: &[ForceSample]) -> Result<Vec<Sample>, ScrewError> {
        let mass_kg = limits::BLOCK_MASS.check(self.mass.to_kg())?;
        let radial = limits::PRESSURE_ANGLE.check(self.pressure_angle.to_deg())?.to_radians().sin();
        let friction_n = limits::FORCE.check(self.friction.to_n())?;
        let mut samples: Vec<Sample> = Vec::with_capacity(trace.len());
        for (index, sample) in trace.iter().enumerate() {
            let time_s = limits::TRACE_TIME.check(sample.time.to_s())?;
            let force_n = limits::TRACE_FORCE.check(sample.normal_force.to_n())?;
            if let Some(before) = samples.last().filter(|before| time_s - before.time_s < SHORTEST_STEP_S) {
                return Err(ScrewError::TraceNotRising { index, before_s: before.time_s, after_s: time_s });
            }
            samples.push(Sample { time_s, push: force_n * radial / mass_kg, friction: friction_n / mass_kg });
        }
        Ok(samples)
    }
}

#[derive(Clone, Copy)]
struct Sample {
    time_s: f64,
    push: f64,
    friction: f64,
}

/// The step between two samples, cut where the force changes flank, so that its magnitude is linear.
fn pieces(from: Sample, to: Sample) -> impl Iterator<Item = Piece> {
    let whole_s = to.time_s - from.time_s;
    let cut = if from.push * to.push < 0.0 { from.push / (from.push - to.push) } else { 1.0 };
    let piece = move |start: f64, end: f64, a: f64, b: f64| {
        let duration_s = (end - start) * whole_s;
        let slope = if duration_s > 0.0 { (b.abs() - a.abs()) / duration_s } else { 0.0 };
        Piece { start_s: from.time_s + start * whole_s, duration_s, acceleration: a.abs() - from.friction, slope }
    };
    let first_end = if cut < 1.0 { 0.0 } else { to.push };
    let first = piece(0.0, cut, from.push, first_end);
    let second = (cut < 1.0).then(|| piece(cut, 1.0, 0.0, to.push));
    std::iter::once(first).chain(second)
}

/// Moves the block through one piece: rests until the push wins, then moves until it has stopped. With a
/// linear push it can stop once and start once, so two moves are the most.
fn advance(state: &mut State, piece: Piece) {
    const MOST_MOVES: usize = 2;
    let mut at_s = 0.0;
    for _ in 0..MOST_MOVES {
        let Some(starts_s) = next_move(state, piece, at_s) else { return };
        state.first_moved_s.get_or_insert(piece.start_s + starts_s);
        let acceleration = piece.acceleration + piece.slope * starts_s;
        at_s = starts_s + move_on(state, acceleration, piece.slope, piece.duration_s - starts_s);
    }
}

/// When in the piece the block next moves: at once if it already does or the push wins, else when the
/// rising push wins; none if it rests to the end.
fn next_move(state: &State, piece: Piece, at_s: f64) -> Option<f64> {
    if at_s >= piece.duration_s {
        return None;
    }
    if state.speed_m_s > 0.0 || piece.acceleration + piece.slope * at_s > 0.0 {
        return Some(at_s);
    }
    let wins_s = -piece.acceleration / piece.slope;
    (piece.slope > 0.0 && wins_s >= at_s && wins_s < piece.duration_s).then_some(wins_s)
}

/// Moves for `left_s` or until the speed is gone; returns how long it moved.
fn move_on(state: &mut State, acceleration: f64, slope: f64, left_s: f64) -> f64 {
    let stops_s = stopping_time(state.speed_m_s, acceleration, slope).filter(|&stop_s| stop_s < left_s);
    let t = stops_s.unwrap_or(left_s);
    state.travel_m += t * (state.speed_m_s + t * (acceleration / 2.0 + t * slope / 6.0));
    state.speed_m_s += t * (acceleration + t * slope / 2.0);
    if stops_s.is_some() {
        state.speed_m_s = 0.0;
    }
    t
}

/// First positive root of v + a t + s t²/2.
fn stopping_time(speed: f64, acceleration: f64, slope: f64) -> Option<f64> {
    let discriminant = acceleration * acceleration - 2.0 * slope * speed;
    if discriminant < 0.0 {
        return None;
    }
    // q avoids the cancellation of the textbook root
    let q = -(acceleration + discriminant.sqrt().copysign(acceleration));
    let roots = [2.0 * speed / q, q / slope];
    roots.into_iter().filter(|root| root.is_finite() && *root > 0.0).reduce(f64::min)
}

fn finish(state: State, stopped_by_hole: bool) -> Slide {
    Slide { travel: Length::m(state.travel_m), first_moved: state.first_moved_s.map(Time::s), stopped_by_hole }
}
