//! The ranges that the formulas of life are used in.

use crate::range::Range;

const fn range(what: &'static str, min: f64, max: f64, unit: &'static str) -> Range {
    Range { what, min, max, unit }
}

pub(super) static STRESS_RATIO: Range = range("least over largest stress of a cycle", -1.2, 1.0, "");
pub(super) static MEAN_RATIO: Range = range("mean stress ratio", 0.0, 1.0, "");
pub(super) static ENDURANCE: Range = range("endurance of the root", 0.1, 1e5, "MPa");
pub(super) static STRESS: Range = range("root stress", 0.0, 1e6, "MPa");
pub(super) static SLOPE: Range = range("slope of the life line", 1.0, 1e3, "");
pub(super) static GEAR_TURNS: Range = range("turns of the gear for one of the rotor", 1e-3, 1e3, "");
pub(super) static ROTOR_SPEED: Range = range("rotor speed", -1e6, 1e6, "rad/s");
