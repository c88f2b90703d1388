//! The motor's figures for machines.

use super::Told;
use serde_json::{Map, Value, json};
use toothsayer_mechanics::motor::{Heated, LaunchLimit};
use toothsayer_quantity::Unit;
use toothsayer_verdict::{BearingSpeed, MakersLimit, Stopping};

impl Told {
    /// Every figure, its unit at the end of its key; temperatures in degC.
    pub(super) fn as_json(&self) -> Value {
        let (motor, top) = (&self.speeds.motor, &self.speeds.at_top_speed);
        let mut map = Map::new();
        let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
        put("no_load_motor_speed_rad_s", json!(motor.no_load_speed().to_rad_per_s()));
        put("wheels_in_the_air_rad_s", json!(self.speeds.wheels_in_the_air.to_rad_per_s()));
        put("no_load_top_speed_m_s", json!(self.speeds.no_load_top_speed.to_m_per_s()));
        put("top_speed_m_s", json!(self.speeds.top_speed.to_m_per_s()));
        put("top_speed_current_a", json!(top.current.to_a()));
        put("top_speed_pack_current_a", json!(top.pack_current.to_a()));
        put("top_speed_torque_n_m", json!(top.torque.to_n_m()));
        put("top_speed_shaft_power_w", json!(top.shaft_power_w));
        put("top_speed_efficiency", json!(top.efficiency));
        put("stall_current_a", json!(motor.stall_current().to_a()));
        put("stall_torque_n_m", json!(motor.stall_torque().to_n_m()));
        put("limited_current_a", json!(motor.limited_current().to_a()));
        put("limited_torque_n_m", json!(motor.limited_torque().to_n_m()));
        let best = motor.best_efficiency();
        put("best_efficiency", json!(best.map(|best| best.efficiency)));
        put("best_efficiency_current_a", json!(best.map(|best| best.current.to_a())));
        put("launch", self.launch_json());
        put("run", self.run_json());
        put("brake_from_m_s", json!(self.as_set.from.to_m_per_s()));
        put("stopping_as_set", stop_json(self.build.controller.brake_strength, &self.as_set));
        put("stopping", self.at_strengths.iter().map(|(strength, stop)| stop_json(*strength, stop)).collect());
        put("bearings", self.bearings.iter().map(bearing_json).collect());
        put("makers_limits", self.limits.iter().map(limit_json).collect());
        Value::Object(map)
    }

    fn launch_json(&self) -> Value {
        let launch = &self.speeds.launch;
        json!({
            "motor_current_a": launch.motor_current.to_a(),
            "grip_current_a": launch.grip_current.to_a(),
            "clutch_current_a": launch.clutch_current.map(|current| current.to_a()),
            "ruled_by": limit_word(launch.ruled_by),
            "tread_force_n": launch.force.to_n(),
        })
    }

    fn run_json(&self) -> Value {
        let (heat, driver) = (&self.heat, &self.build.driver);
        let (winding, case, burns_out) = match heat.end {
            Heated::To { winding, case } => (Some(celsius(winding.to_k())), Some(celsius(case.to_k())), None),
            Heated::BurnsOut { after } => (None, None, Some(after.to_s())),
        };
        json!({
            "run_s": driver.run.to_s(),
            "full_throttle_current_a": heat.full_current.to_a(),
            "part_load_current_a": heat.part_current.to_a(),
            "air_temperature_degc": celsius(driver.air_temperature.to_k()),
            "winding_temperature_degc": winding,
            "case_temperature_degc": case,
            "winding_limit_degc": celsius(self.build.motor.temperature_limit.to_k()),
            "burns_out_after_s": burns_out,
            "runs_away": heat.runs_away,
        })
    }
}

fn limit_word(limit: LaunchLimit) -> &'static str {
    match limit {
        LaunchLimit::Grip => "grip",
        LaunchLimit::Motor => "motor",
        LaunchLimit::Clutch => "clutch",
    }
}

fn stop_json(strength: f64, stop: &Stopping) -> Value {
    json!({
        "brake_strength": strength,
        "distance_m": stop.distance.map(|way| way.to_m()),
        "time_s": stop.time.map(|time| time.to_s()),
    })
}

fn limit_json(row: &MakersLimit) -> Value {
    let suffix = row.kind.key_suffix();
    let key = |name: &str| if suffix.is_empty() { name.to_owned() } else { format!("{name}_{suffix}") };
    let mut map = Map::new();
    map.insert("what".into(), json!(row.what));
    map.insert("key".into(), json!(row.key));
    map.insert(key("value"), json!(row.value));
    map.insert(key("limit"), json!(row.limit));
    map.insert("passed".into(), json!(row.passed()));
    Value::Object(map)
}

fn bearing_json(row: &BearingSpeed) -> Value {
    json!({
        "part": row.part,
        "size": row.size,
        "speed_factor_mm_per_min": row.speed_factor_mm_per_min,
        "grease": row.grease.name(),
    })
}

fn celsius(kelvin: f64) -> f64 {
    Unit::find("degC").map_or(kelvin, |unit| unit.from_si(kelvin))
}
