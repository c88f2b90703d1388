//! A line of strength over load cycles, straight in log-log (ISO 6336-2, -3 and -6).

use serde::Deserialize;

use crate::Error;
use crate::range::Range;

/// Cycles that a life factor may be asked for.
pub(super) const CYCLES: Range = Range { what: "load cycles", min: 0.0, max: 1e15, unit: "" };
/// Life factors that cycles may be asked for.
pub(super) const FACTOR: Range = Range { what: "stress over endurance limit", min: 0.0, max: 1e6, unit: "" };

/// The life factor (YNT, ZNT): `static_factor` up to `static_cycles`, 1 from `endurance_cycles` on.
///
/// The standard lets the factor fall to 0.85 at 1e10 cycles where scuffing or pitting is not watched for; hobby
/// machines do not come near, and the line stays at 1.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SnLine {
    /// Cycles up to which the static strength holds, N0.
    pub static_cycles: f64,
    /// Static strength over endurance limit.
    pub static_factor: f64,
    /// Cycles from which the endurance limit holds.
    pub endurance_cycles: f64,
}

/// How long a stress can be borne.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lasts {
    /// Above the static strength: it breaks at the first blow.
    NotOnce,
    /// For so many cycles.
    Cycles(f64),
    /// At or below the endurance limit: no damage by the elementary Miner rule.
    Forever,
}

impl SnLine {
    /// The exponent p of N stress^p = constant between the two ends.
    pub fn exponent(&self) -> f64 {
        (self.endurance_cycles / self.static_cycles).ln() / self.static_factor.ln()
    }

    /// The life factor at a number of cycles; error for what is no count.
    pub fn factor(&self, cycles: f64) -> Result<f64, Error> {
        let cycles = CYCLES.check(cycles)?;
        let on_line = cycles.clamp(self.static_cycles, self.endurance_cycles);
        Ok((self.endurance_cycles / on_line).powf(1.0 / self.exponent()))
    }

    /// How long a stress of `factor` times the endurance limit is borne.
    pub fn lasts(&self, factor: f64) -> Result<Lasts, Error> {
        let factor = FACTOR.check(factor)?;
        Ok(if factor > self.static_factor {
            Lasts::NotOnce
        } else if factor <= 1.0 {
            Lasts::Forever
        } else {
            Lasts::Cycles(self.endurance_cycles * factor.powf(-self.exponent()))
        })
    }
}
