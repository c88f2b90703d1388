//! The reference equations solved by a general solver from the registry (diffsol 0.18): Tsitouras' explicit pair of orders 5
//! and 4, without events, so that its tolerance alone finds the blows.

use super::reference::{Peaks, Truck, Y, stretches};
use diffsol::{NalgebraMat, OdeBuilder, OdeSolverMethod, OdeSolverStopReason, VectorCommon};
use toothsayer_mechanics::driveline::{Event, Parameters};

/// Tolerance of the general solver, relative to each state and, absolute, in its SI unit; and how many steps it may take.
#[derive(Clone, Copy)]
pub struct Tolerance {
    pub relative: f64,
    pub absolute: f64,
    pub most_steps: u32,
}

/// Shortest step that the general solver may take at a jump of the contact force, s.
const LEAST_STEP_S: f64 = 1e-18;
/// Places in each of its steps where the loads are looked at.
const LOOKS: u32 = 8;

/// The general solver's peaks; none where it does not come to the end within its steps.
pub fn peaks(parameters: &Parameters, event: &Event, tolerance: Tolerance) -> Option<Peaks> {
    let truck = Truck::new(parameters);
    let mut y = truck.start(event);
    let (mut begin, mut peaks, mut steps_left) = (0.0, [0.0; 5], tolerance.most_steps);
    for (until, command, rate) in stretches(event, &y) {
        y = stretch(&truck, tolerance, [begin, until], y, (command, rate), &mut peaks, &mut steps_left)?;
        begin = until;
    }
    Some(peaks)
}

fn stretch(
    truck: &Truck<'_>,
    tolerance: Tolerance,
    [begin, until]: [f64; 2],
    start: Y,
    (command, rate): (char, Option<f64>),
    peaks: &mut Peaks,
    steps_left: &mut u32,
) -> Option<Y> {
    let state = |at: &[f64]| -> Y { std::array::from_fn(|place| at[place]) };
    let mut problem = OdeBuilder::<NalgebraMat<f64>>::new()
        .t0(begin)
        .rtol(tolerance.relative)
        .atol([tolerance.absolute; 14])
        .rhs(|x, _, _, slopes| {
            let now: Y = std::array::from_fn(|place| x[place]);
            let rates = truck.slopes(&now, command, rate);
            rates.iter().enumerate().for_each(|(place, rate)| slopes[place] = *rate);
        })
        .init(|_, _, y| start.iter().enumerate().for_each(|(place, value)| y[place] = *value), 14)
        .build()
        .unwrap();
    problem.ode_options.min_timestep = LEAST_STEP_S;
    let mut solver = problem.tsit45().unwrap();
    solver.set_stop_time(until).unwrap();
    let mut last = begin;
    loop {
        *steps_left = steps_left.checked_sub(1)?;
        let reason = solver.step().ok()?;
        let now = solver.state().t;
        for look in 1..=LOOKS {
            let at = last + (now - last) * f64::from(look) / f64::from(LOOKS);
            let y = solver.interpolate(at.min(now)).unwrap();
            truck.raise(peaks, &state(y.inner().as_slice()));
        }
        last = now;
        if matches!(reason, OdeSolverStopReason::TstopReached) {
            return Some(state(solver.state().y.inner().as_slice()));
        }
    }
}
