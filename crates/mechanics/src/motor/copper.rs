//! A copper winding's resistance and loss over its temperature.

use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{Current, Resistance, Temperature};

/// Temperature coefficient of the resistance of annealed copper at 20 °C, 1/K (IEC 60028).
pub const COPPER_PER_K: f64 = 0.00393;

/// Temperature that resistances are stated at.
pub(super) const REFERENCE_K: f64 = 293.15;

static WINDING: Range = Range { what: "winding temperature", min: 220.0, max: 600.0, unit: "K" };

/// Resistance at a temperature of 220 to 600 K of a winding that has `cold` at 20 °C: R (1 + alpha (T - 20 °C)).
pub fn resistance_at(cold: Resistance, temperature: Temperature) -> Result<Resistance, OutOfRange> {
    Ok(cold * (1.0 + COPPER_PER_K * (WINDING.check(temperature.to_k())? - REFERENCE_K)))
}

/// Loss I² R of a winding at a temperature, W.
pub fn loss_w(cold: Resistance, current: Current, temperature: Temperature) -> Result<f64, OutOfRange> {
    Ok(current.to_a().powi(2) * resistance_at(cold, temperature)?.to_ohm())
}
