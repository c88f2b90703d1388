//! The reference equations stepped by the classical Runge-Kutta method of order 4 at a small fixed step.

use super::reference::{Peaks, Truck, Y, stretches};
use toothsayer_mechanics::driveline::{Event, Parameters};

/// Peaks of an event, by steps of a fixed width.
pub fn peaks(p: &Parameters, event: &Event, step_s: f64) -> Peaks {
    let truck = Truck::new(p);
    let mut y = truck.start(event);
    let stretches = stretches(event, &y);
    let mut peaks = [0.0_f64; 5];
    let n = (event.duration_s() / step_s).round() as u64;
    for index in 0..n {
        let t = index as f64 * step_s + 0.5 * step_s;
        let now = stretches.iter().find(|(until, ..)| t < *until).unwrap_or(&stretches[stretches.len() - 1]);
        let (_, command, rate) = *now;
        let ahead = |by: f64, d: &Y| -> Y { std::array::from_fn(|k| y[k] + by * d[k]) };
        let k1 = truck.slopes(&y, command, rate);
        let k2 = truck.slopes(&ahead(0.5 * step_s, &k1), command, rate);
        let k3 = truck.slopes(&ahead(0.5 * step_s, &k2), command, rate);
        let k4 = truck.slopes(&ahead(step_s, &k3), command, rate);
        y = std::array::from_fn(|k| y[k] + step_s / 6.0 * (k1[k] + 2.0 * k2[k] + 2.0 * k3[k] + k4[k]));
        truck.raise(&mut peaks, &y);
    }
    peaks
}
