//! The range of every parameter: a truck outside it is refused, by name.
//!
//! Wide enough for trucks from 0.1 kg to 200 kg with parts far off their usual values; narrow enough that the
//! solver's equations stay finite.

use super::Parameters;
use crate::range::Range;

/// One parameter: its range, and how it is read.
pub struct Limit {
    /// Name, limits and unit.
    pub range: Range,
    /// The value; none where the truck has no such part.
    pub read: fn(&Parameters) -> Option<f64>,
}

/// How many parameters there are.
pub const PARAMETER_COUNT: usize = 43;

const fn row(range: Range, read: fn(&Parameters) -> Option<f64>) -> Limit {
    Limit { range, read }
}

/// Every parameter once.
#[rustfmt::skip]
pub static LIMITS: [Limit; PARAMETER_COUNT] = [
    row(Range { what: "truck mass", min: 0.1, max: 200.0, unit: "kg" }, |p| Some(p.truck_mass_kg)),
    row(Range { what: "wheel count", min: 1.0, max: 16.0, unit: "" }, |p| Some(f64::from(p.wheel_count))),
    row(Range { what: "driven wheels", min: 1.0, max: 16.0, unit: "" }, |p| Some(f64::from(p.driven_wheels))),
    row(Range { what: "driven wheels' share of the load", min: 0.05, max: 1.0, unit: "" }, |p| Some(p.driven_load_share)),
    row(Range { what: "wheel mass", min: 0.001, max: 20.0, unit: "kg" }, |p| Some(p.wheel_mass_kg)),
    row(Range { what: "tyre radius", min: 0.005, max: 0.5, unit: "m" }, |p| Some(p.tyre_radius_m)),
    row(Range { what: "gyration ratio", min: 0.1, max: 1.0, unit: "" }, |p| Some(p.gyration_ratio)),
    row(Range { what: "grip", min: 0.0, max: 3.0, unit: "" }, |p| Some(p.grip)),
    row(Range { what: "drag area", min: 0.0, max: 2.0, unit: "m^2" }, |p| Some(p.drag_area_m2)),
    row(Range { what: "battery voltage", min: 0.5, max: 200.0, unit: "V" }, |p| Some(p.battery_voltage_v)),
    row(Range { what: "battery resistance", min: 0.0, max: 10.0, unit: "ohm" }, |p| Some(p.battery_resistance_ohm)),
    row(Range { what: "motor speed per volt", min: 1.0, max: 5000.0, unit: "rad/s/V" }, |p| Some(p.motor_kv_rad_s_v)),
    row(Range { what: "motor resistance", min: 0.0001, max: 20.0, unit: "ohm" }, |p| Some(p.motor_resistance_ohm)),
    row(Range { what: "no-load current", min: 0.0, max: 200.0, unit: "A" }, |p| Some(p.no_load_current_a)),
    row(Range { what: "rotor inertia", min: 1e-09, max: 0.1, unit: "kg*m^2" }, |p| Some(p.rotor_inertia_kg_m2)),
    row(Range { what: "current lag", min: 1e-05, max: 0.2, unit: "s" }, |p| Some(p.current_lag_s)),
    row(Range { what: "drive current", min: 0.0, max: 5000.0, unit: "A" }, |p| Some(p.drive_current_a)),
    row(Range { what: "brake current", min: 0.0, max: 5000.0, unit: "A" }, |p| Some(p.brake_current_a)),
    row(Range { what: "brake strength", min: 0.0, max: 1.0, unit: "" }, |p| Some(p.brake_strength)),
    row(Range { what: "throttle strength", min: 0.0, max: 1.0, unit: "" }, |p| Some(p.throttle_strength)),
    row(Range { what: "pinion base radius", min: 0.0005, max: 0.5, unit: "m" }, |p| Some(p.pinion_base_radius_m)),
    row(Range { what: "spur base radius", min: 0.0005, max: 1.0, unit: "m" }, |p| Some(p.spur_base_radius_m)),
    row(Range { what: "normal backlash", min: 0.0, max: 0.02, unit: "m" }, |p| Some(p.normal_backlash_m)),
    row(Range { what: "mesh stiffness", min: 10000.0, max: 10000000000.0, unit: "N/m" }, |p| Some(p.mesh_stiffness_n_m)),
    row(Range { what: "mesh damping ratio", min: 0.0, max: 1.0, unit: "" }, |p| Some(p.mesh_damping_ratio)),
    row(Range { what: "spur inertia", min: 1e-09, max: 1.0, unit: "kg*m^2" }, |p| Some(p.spur_inertia_kg_m2)),
    row(Range { what: "ratio after the spur", min: 0.1, max: 100.0, unit: "" }, |p| Some(p.ratio_after_spur)),
    row(Range { what: "driveline stiffness at the spur", min: 0.01, max: 1000000.0, unit: "N*m/rad" }, |p| Some(p.shaft_stiffness_n_m_rad)),
    row(Range { what: "driveline damping ratio", min: 0.0, max: 1.0, unit: "" }, |p| Some(p.shaft_damping_ratio)),
    row(Range { what: "lash at the wheels", min: 0.0, max: 3.2, unit: "rad" }, |p| Some(p.lash_rad)),
    row(Range { what: "clutch torque", min: 0.001, max: 100000.0, unit: "N*m" }, |p| p.clutch_torque_n_m),
    row(Range { what: "suspension stiffness", min: 1.0, max: 10000000.0, unit: "N/m" }, |p| Some(p.suspension_stiffness_n_m)),
    row(Range { what: "suspension damping", min: 0.0, max: 100000.0, unit: "N*s/m" }, |p| Some(p.suspension_damping_n_s_m)),
    row(Range { what: "suspension travel", min: 0.0, max: 1.0, unit: "m" }, |p| Some(p.suspension_travel_m)),
    row(Range { what: "stop stiffness", min: 10.0, max: 100000000.0, unit: "N/m" }, |p| Some(p.stop_stiffness_n_m)),
    row(Range { what: "vertical stiffness of a tyre", min: 10.0, max: 10000000.0, unit: "N/m" }, |p| Some(p.tyre_stiffness_n_m)),
    row(Range { what: "vertical damping of a tyre", min: 0.0, max: 100000.0, unit: "N*s/m" }, |p| Some(p.tyre_damping_n_s_m)),
    row(Range { what: "chassis clearance", min: 0.0, max: 5.0, unit: "m" }, |p| p.chassis_clearance_m),
    row(Range { what: "slap stiffness", min: 0.0, max: 100000000.0, unit: "N/m" }, |p| Some(p.slap_stiffness_n_m)),
    row(Range { what: "slap damping", min: 0.0, max: 100000.0, unit: "N*s/m" }, |p| Some(p.slap_damping_n_s_m)),
    row(Range { what: "tyre curve factor B", min: 0.1, max: 100.0, unit: "" }, |p| Some(p.tyre_slip_stiffness)),
    row(Range { what: "tyre curve factor C", min: 0.5, max: 2.5, unit: "" }, |p| Some(p.tyre_slip_shape)),
    row(Range { what: "relaxation length", min: 0.001, max: 5.0, unit: "m" }, |p| Some(p.relaxation_length_m)),
];

/// Height of a landing's fall.
pub(super) const DROP_HEIGHT: Range = Range { what: "drop height", min: 0.0, max: 50.0, unit: "m" };
/// Forward speed of a landing.
pub(super) const LANDING_SPEED: Range = Range { what: "landing speed", min: 0.0, max: 60.0, unit: "m/s" };
/// Speed that braking starts from.
pub(super) const START_SPEED: Range = Range { what: "start speed", min: 0.0, max: 100.0, unit: "m/s" };
/// How far the lash stands open against the blow.
pub(super) const LASH_PHASE: Range = Range { what: "lash phase", min: 0.0, max: 1.0, unit: "" };
/// Simulated time.
pub(super) const DURATION: Range = Range { what: "duration", min: 0.001, max: 5.0, unit: "s" };
/// Local tolerance of the solver.
pub(super) const TOLERANCE: Range = Range { what: "solver tolerance", min: 1e-09, max: 0.1, unit: "" };
