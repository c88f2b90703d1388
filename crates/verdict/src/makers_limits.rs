//! The makers' limits that a build passes or keeps: cells, motor speed, wheel speed.

use crate::bay::Bay;
use toothsayer_job::Build;
use toothsayer_mechanics::driveline::Parameters;
use toothsayer_quantity::{Kind, Voltage};

/// Voltage of a full lithium cell (IEC 61960-3, from memory); a higher one that the file gives counts instead.
const FULL_CELL: Voltage = Voltage::v(4.2);

/// One limit and what it is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MakersLimit {
    /// What is limited.
    pub what: &'static str,
    /// Registry key of the limit.
    pub key: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// The build's value, in SI.
    pub value: f64,
    /// The maker's limit, in SI; none where the file does not state it.
    pub limit: Option<f64>,
}

impl MakersLimit {
    /// Whether the value passes the limit; none where no limit is stated: then it is not known.
    pub fn passed(&self) -> Option<bool> {
        self.limit.map(|limit| self.value > limit)
    }
}

/// Cells against the controller's, no-load motor and wheel speed of the full pack against theirs.
pub fn makers_limits(build: &Build, bay: &Bay) -> [MakersLimit; 3] {
    let battery = &build.battery;
    let full = battery.voltage.max(FULL_CELL * battery.cells);
    let parameters = Parameters { battery_voltage_v: full.to_v(), ..bay.parameters(build) };
    [
        MakersLimit {
            what: "cells in series",
            key: "controller.max_cells",
            kind: Kind::Number,
            value: battery.cells,
            limit: build.controller.max_cells,
        },
        MakersLimit {
            what: "motor speed without load, pack full",
            key: "motor.max_speed",
            kind: Kind::AngularSpeed,
            value: full.to_v() * build.motor.kv.to_rad_per_s_v(),
            limit: build.motor.max_speed.map(|speed| speed.to_rad_per_s()),
        },
        MakersLimit {
            what: "wheel speed without load, pack full",
            key: "wheels.max_speed",
            kind: Kind::AngularSpeed,
            value: parameters.no_load_wheel_speed_rad_s(),
            limit: build.wheels.max_speed.map(|speed| speed.to_rad_per_s()),
        },
    ]
}
