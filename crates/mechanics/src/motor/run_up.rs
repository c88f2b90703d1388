//! A stretch at full throttle from rest: the current that heats, the speed that it reaches.

use super::road::Road;
use crate::Error;
use crate::driveline::Parameters;
use crate::driveline::motor::Command;
use crate::range::Range;
use toothsayer_quantity::{AngularSpeed, Current, Length, Speed, Time};

static DURATION: Range = Range { what: "stretch at full throttle", min: 0.0, max: 36_000.0, unit: "s" };

/// Steps of the approach.
const STEPS: u32 = 500;
/// Natural logarithm of what is missing of the top speed where the approach is taken as done.
const END_OF_APPROACH: f64 = 12.0;
/// Halvings until a speed is settled to the last bit of a double.
const BISECTIONS: u32 = 100;

/// What a stretch at full throttle from rest does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunUp {
    /// Root of the mean square of the motor's current.
    pub rms_current: Current,
    /// Mean rotor speed.
    pub mean_rotor_speed: AngularSpeed,
    /// Speed at its end.
    pub end_speed: Speed,
    /// Way.
    pub distance: Length,
}

/// Full throttle from rest for 0 to 36 000 s on the level.
///
/// m' v' = K (I - I0) i/r - D with I the least of what controller, tyres and clutch let through; tyres that would spin
/// are held at their grip, as steady spinning draws the same current. Taken over s with v = v_top (1 - e^-s), which is
/// smooth up to the top speed: dt = m' (v_top - v)/F ds, by Simpson's rule.
pub fn run_up(truck: &Parameters, duration: Time) -> Result<RunUp, Error> {
    let road = Road::new(truck)?;
    let duration_s = DURATION.check(duration.to_s())?;
    let approach = Approach { truck, road, top_m_s: top_speed_m_s(truck, &road) };
    let sums = approach.until(duration_s);
    let per_s = if duration_s > 0.0 { 1.0 / duration_s } else { 0.0 };
    Ok(RunUp {
        rms_current: Current::a((sums.squares_a2_s * per_s).sqrt()),
        mean_rotor_speed: AngularSpeed::rad_per_s(sums.way_m * per_s * road.turns_per_m),
        end_speed: Speed::m_per_s(sums.speed_m_s),
        distance: Length::m(sums.way_m),
    })
}

/// What has come together.
#[derive(Clone, Copy, Default)]
struct Sums {
    time_s: f64,
    squares_a2_s: f64,
    way_m: f64,
    speed_m_s: f64,
}

struct Approach<'a> {
    truck: &'a Parameters,
    road: Road<'a>,
    top_m_s: f64,
}

impl Approach<'_> {
    fn until(&self, duration_s: f64) -> Sums {
        let step = END_OF_APPROACH / f64::from(STEPS);
        let mut sums = Sums::default();
        for place in 0..STEPS {
            let from = f64::from(place) * step;
            let next = self.after(&sums, from, step);
            if self.top_m_s > 0.0 && next.time_s < duration_s {
                sums = next;
                continue;
            }
            if self.top_m_s > 0.0 {
                sums = self.after(&sums, from, self.part(&sums, [from, step], duration_s));
            }
            break;
        }
        let left_s = (duration_s - sums.time_s).max(0.0);
        let current_a = current_a(self.truck, &self.road, sums.speed_m_s);
        Sums {
            time_s: duration_s,
            squares_a2_s: sums.squares_a2_s + left_s * current_a * current_a,
            way_m: sums.way_m + left_s * sums.speed_m_s,
            speed_m_s: sums.speed_m_s,
        }
    }

    /// The part of a step at whose end the time is up.
    fn part(&self, sums: &Sums, [from, step]: [f64; 2], duration_s: f64) -> f64 {
        let (mut low, mut high) = (0.0, step);
        for _ in 0..BISECTIONS {
            let middle = 0.5 * (low + high);
            if self.after(sums, from, middle).time_s < duration_s { low = middle } else { high = middle }
        }
        low
    }

    /// One step of Simpson's rule.
    fn after(&self, sums: &Sums, from: f64, step: f64) -> Sums {
        let mut next = Sums { speed_m_s: self.speed_m_s(from + step), ..*sums };
        for (part, weight) in [(0.0, 1.0), (0.5, 4.0), (1.0, 1.0)] {
            let speed_m_s = self.speed_m_s(from + part * step);
            let force_n = surplus_n(self.truck, &self.road, speed_m_s);
            let time_s = weight * step / 6.0 * self.road.effective_mass_kg * (self.top_m_s - speed_m_s) / force_n;
            next.time_s += time_s;
            next.squares_a2_s += time_s * current_a(self.truck, &self.road, speed_m_s).powi(2);
            next.way_m += time_s * speed_m_s;
        }
        next
    }

    fn speed_m_s(&self, s: f64) -> f64 {
        -self.top_m_s * (-s).exp_m1()
    }
}

/// Where the surplus of force ends; 0 for a truck that does not start.
fn top_speed_m_s(truck: &Parameters, road: &Road<'_>) -> f64 {
    let (mut low, mut high) = (0.0, truck.no_load_wheel_speed_rad_s() * truck.tyre_radius_m);
    for _ in 0..BISECTIONS {
        let middle = 0.5 * (low + high);
        if surplus_n(truck, road, middle) > 0.0 { low = middle } else { high = middle }
    }
    low
}

/// Force that speeds the truck up, rotating parts included, N.
fn surplus_n(truck: &Parameters, road: &Road<'_>, speed_m_s: f64) -> f64 {
    road.force_n(current_a(truck, road, speed_m_s)) - truck.drag_n(speed_m_s)
}

/// Current under full throttle at a speed, as motor, tyres and clutch let it be, A.
fn current_a(truck: &Parameters, road: &Road<'_>, speed_m_s: f64) -> f64 {
    let given_a = truck.motor().commanded_current_a(Command::Drive, speed_m_s * road.turns_per_m);
    let gripped_a = road.current_a(road.gripped_force_n(truck.drag_n(speed_m_s)));
    let clutched_a = road.clutch_n().map_or(f64::INFINITY, |force_n| road.current_a(force_n));
    given_a.min(gripped_a).min(clutched_a).max(0.0)
}
