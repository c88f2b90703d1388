//! The ranges that the screw formulas are used in.

use crate::range::Range;

const fn range(what: &'static str, min: f64, max: f64, unit: &'static str) -> Range {
    Range { what, min, max, unit }
}

pub(super) static LENGTH: Range = range("screw length", 1.0, 200.0, "mm");
pub(super) static CLAMPED: Range = range("clamped length", 0.2, 150.0, "mm");
pub(super) static HOLE_DEPTH: Range = range("hole depth", 0.0, 200.0, "mm");
pub(super) static PROOF_STRESS: Range = range("proof stress", 20.0, 2000.0, "MPa");
pub(super) static STRENGTH: Range = range("strength of the joint's material", 1.0, 2000.0, "MPa");
pub(super) static MODULUS: Range = range("modulus of elasticity", 100.0, 700_000.0, "MPa");
pub(super) static CREEP_EXPONENT: Range = range("creep exponent", 0.0, 0.5, "");
pub(super) static REMOVALS: Range = range("number of removals", 0.0, 100.0, "");
pub(super) static FRICTION: Range = range("friction coefficient", 0.02, 0.6, "");
pub(super) static TORQUE: Range = range("tightening torque", 0.0, 200.0, "N*m");
pub(super) static FORCE: Range = range("force", 0.0, 1e6, "N");
pub(super) static MOTOR_TORQUE: Range = range("motor torque", 0.0, 500.0, "N*m");
pub(super) static RUNS: Range = range("number of runs", 0.0, 10_000.0, "");
pub(super) static EVENTS: Range = range("events per run", 0.0, 100_000.0, "");
pub(super) static EVENT_LOSS: Range = range("clamp lost per slip event", 0.0, 0.5, "");
pub(super) static SCREWS: Range = range("number of screws", 1.0, 24.0, "");
pub(super) static CIRCLE: Range = range("bolt circle", 2.0, 500.0, "mm");
pub(super) static LEVER: Range = range("lever of the tooth force", 0.0, 300.0, "mm");
pub(super) static SHAFT_DIAMETER: Range = range("shaft diameter", 1.0, 30.0, "mm");
pub(super) static BLOCK_MASS: Range = range("mass of the sliding part", 0.001, 50.0, "kg");
pub(super) static PRESSURE_ANGLE: Range = range("working pressure angle", 0.0, 60.0, "deg");
pub(super) static CLEARANCE: Range = range("hole clearance", 0.0, 10.0, "mm");
pub(super) static TRACE_FORCE: Range = range("tooth force of the trace", -1e6, 1e6, "N");
pub(super) static TRACE_TIME: Range = range("time of the trace", -1e6, 1e6, "s");
