//! Motor constants.

use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::driveline::Parameters;
use toothsayer_quantity::MotorConstant;

const SUBJECT: &str = "Motor";

pub(super) fn rows() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "torque constant Kt = 60/(2π Kv), encyclopaedia article on motor constants",
        status: Status::Printed,
        unit: "N·m/A",
        tolerance: 1e-4,
        because: "printed to four or five digits",
    };
    let constant = |rpm_per_v: f64| {
        let motor_kv_rad_s_v = MotorConstant::rpm_per_v(rpm_per_v).to_rad_per_s_v();
        Parameters { motor_kv_rad_s_v, ..super::shock::truck() }.motor_constant()
    };
    let ok = |value: f64| Ok::<f64, std::fmt::Error>(value);
    let rows = [(580.0, 0.016464), (650.0, 0.014691), (800.0, 0.011937), (1000.0, 0.0095493), (2000.0, 0.0047746)];
    let mut out: Vec<Check> =
        rows.iter().map(|(kv, kt)| table.share(format!("{kv} rpm/V"), *kt, ok(constant(*kv)))).collect();
    let speed = Printed {
        source: "the same article's no-load speed: 5700 rpm/V at 11.1 V",
        unit: "rpm",
        tolerance: 1.0,
        because: "whole revolutions",
        ..table
    };
    let rpm = |kv: f64, volts: f64| MotorConstant::rpm_per_v(kv).to_rpm_per_v() * volts;
    out.push(speed.sure("no-load speed", 63_270.0, rpm(5700.0, 11.1)));
    out
}
