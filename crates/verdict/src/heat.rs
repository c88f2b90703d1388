//! How hot the motor gets in one run of this driver.

use crate::Error;
use crate::bay::Bay;
use crate::margin::{Limit, Margin};
use crate::motor::REST_SPEED;
use toothsayer_job::Build;
use toothsayer_mechanics::motor::heat::{BURNT, runs_away};
use toothsayer_mechanics::motor::{Duty, Heated, Stretch, ThermalBody, after_run, run_up};
use toothsayer_quantity::{Current, Temperature, Time};

/// Shortest stretch that the full-throttle current is taken over.
const LEAST_STRETCH: Time = Time::s(1.0);

/// A run's currents and its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunHeat {
    /// Root of the mean square of the motor's current over a stretch at full throttle from rest.
    pub full_current: Current,
    /// Current in the rest of the run.
    pub part_current: Current,
    /// How hot.
    pub end: Heated,
    /// Whether the winding would run away under the whole run's mean heat, however long it takes.
    pub runs_away: bool,
}

/// The heat of one run from the air's temperature: as many times as the driver launches, the rest of the driving at part
/// load, then full throttle from rest; the rest at half of the mean speed at full throttle.
pub fn run_heat(build: &Build, bay: &Bay) -> Result<RunHeat, Error> {
    let (driver, motor) = (&build.driver, &build.motor);
    let repeats = driver.launches.round().max(1.0);
    let full_time = driver.run * driver.full_throttle_share / repeats;
    let rest_time = driver.run * (1.0 - driver.full_throttle_share) / repeats;
    let parameters = bay.parameters(build);
    let run = run_up(&parameters, full_time.max(LEAST_STRETCH))?;
    let part_current = run.rms_current * driver.part_load;
    let loss_per_speed_w = motor.no_load_current.to_a() * parameters.motor_constant();
    let full_loss_w = loss_per_speed_w * run.mean_rotor_speed.to_rad_per_s();
    let stretches = [
        Stretch { current: part_current, no_load_loss_w: REST_SPEED * full_loss_w, time: rest_time },
        Stretch { current: run.rms_current, no_load_loss_w: full_loss_w, time: full_time },
    ];
    let body = ThermalBody::of_mass(motor.mass, motor.cooling)?;
    let duty = Duty {
        resistance: motor.resistance,
        air: driver.air_temperature,
        stretches: &stretches,
        repeats: repeats as u32,
    };
    let end = after_run(&body, &duty)?;
    let mean_square = driver.full_throttle_share + (1.0 - driver.full_throttle_share) * driver.part_load.powi(2);
    let runs_away = runs_away(&body, motor.resistance, run.rms_current * mean_square.sqrt())?;
    Ok(RunHeat { full_current: run.rms_current, part_current, end, runs_away })
}

/// Rise of the winding over the air against what its limit leaves; a winding that burns out has risen at least so far.
pub(crate) fn margin(build: &Build, bay: &Bay) -> Result<Margin, Error> {
    let hottest = match run_heat(build, bay)?.end {
        Heated::To { winding, .. } => winding,
        Heated::BurnsOut { .. } => BURNT,
    };
    let over_air_k = |hot: Temperature| (hot - build.driver.air_temperature).to_k().max(0.0);
    let [rise_k, bears_k] = [hottest, build.motor.temperature_limit].map(over_air_k);
    Ok(Margin::new("motor", Limit::Temperature, "any", rise_k, bears_k))
}
