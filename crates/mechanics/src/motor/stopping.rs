//! The way and the time to a stop with the motor's brake.

use super::road::Road;
use crate::Error;
use crate::driveline::Parameters;
use crate::driveline::motor::Command;
use crate::range::Range;
use toothsayer_quantity::{Length, Speed, Time};

/// Speed below which a truck counts as standing: a resistance brakes ever less and never to a full stop.
pub const STANDING: Speed = Speed::m_per_s(0.1);
/// Way after which a truck counts as one that does not stop.
pub const LONGEST: Length = Length::m(1000.0);

static FROM: Range = Range { what: "speed to brake from", min: 0.0, max: 100.0, unit: "m/s" };
static STRENGTH: Range = Range { what: "brake strength", min: 0.0, max: 1.0, unit: "" };

/// Panels between the speed at the start and standing, even in the logarithm.
const PANELS: u32 = 2000;

/// A braking on the level.
#[derive(Clone, Copy, Debug)]
pub struct Braking<'a> {
    /// The truck; its own brake strength does not count.
    pub truck: &'a Parameters,
    /// Speed at the start, 0 to 100 m/s.
    pub from: Speed,
    /// Brake strength, 0 to 1.
    pub strength: f64,
}

/// How a braking ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stop {
    /// Standing (slower than [`STANDING`]).
    Stands {
        /// Way.
        distance: Length,
        /// Time.
        time: Time,
    },
    /// Still rolling after [`LONGEST`].
    RollsOn {
        /// Speed there.
        speed: Speed,
    },
}

/// Way and time to a stop.
///
/// Rolling, F = K (s min(Ibrake, K w/R) + I0) i/r + D slows the mass m' with the rotating parts. The driven tyres alone
/// are braked; where F asks more of them than mu N, they hold mu N and m a = mu N + D (locked wheels slide some way
/// farther: the tyre curve lies about a tenth lower there). Without reaction time, load transfer and slope. Simpson's
/// rule of m'/F and m' v/F over the logarithm of the speed.
pub fn stop(braking: &Braking<'_>) -> Result<Stop, Error> {
    let road = Road::new(braking.truck)?;
    let from_m_s = FROM.check(braking.from.to_m_per_s())?;
    let strength = STRENGTH.check(braking.strength)?;
    let end_m_s = STANDING.to_m_per_s();
    let (mut way_m, mut time_s) = (0.0, 0.0);
    if from_m_s <= end_m_s {
        return Ok(Stop::Stands { distance: Length::ZERO, time: Time::ZERO });
    }
    let ratio = (end_m_s / from_m_s).powf(1.0 / f64::from(PANELS));
    let mut speed_m_s = from_m_s;
    for _ in 0..PANELS {
        let width = -ratio.ln();
        for (part, weight) in [(0.0, 1.0), (0.5, 4.0), (1.0, 1.0)] {
            let at_m_s = speed_m_s * ratio.powf(part);
            // dv = v d(ln v), so dt = v/a d(ln v).
            let dt_s = weight * width / 6.0 * at_m_s / slowing_m_s2(braking.truck, &road, strength, at_m_s);
            time_s += dt_s;
            way_m += dt_s * at_m_s;
        }
        if way_m > LONGEST.to_m() {
            return Ok(Stop::RollsOn { speed: Speed::m_per_s(speed_m_s) });
        }
        speed_m_s *= ratio;
    }
    Ok(Stop::Stands { distance: Length::m(way_m), time: Time::s(time_s) })
}

/// Deceleration at a speed, m/s².
fn slowing_m_s2(truck: &Parameters, road: &Road<'_>, strength: f64, speed_m_s: f64) -> f64 {
    let mut motor = truck.motor();
    motor.brake_strength = strength;
    let rotor_rad_s = speed_m_s * road.turns_per_m;
    let current_a = -motor.commanded_current_a(Command::Brake, rotor_rad_s);
    let torque_n_m = motor.constant * current_a + motor.no_load_torque_n_m(rotor_rad_s);
    let drag_n = truck.drag_n(speed_m_s);
    let rolling_m_s2 = (torque_n_m * road.turns_per_m + drag_n) / road.effective_mass_kg;
    rolling_m_s2.min((road.grip_n + drag_n) / road.mass_kg)
}
