//! Miner's sum of the cycles of a tooth's force (ISO 6336-6, clause 5).

use toothsayer_evidence::Cycle;
use toothsayer_quantity::{Force, Pressure};

use super::RootLine;
use crate::Error;

/// What some cycles did to a root.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Damage {
    /// Miner's sum: the root breaks where it reaches 1.
    pub sum: f64,
    /// Largest root stress.
    pub hardest: Pressure,
}

/// D = sum n/N(sigma): `cycles` of the force on one flank in newtons (0 or above), `stress` the root stress under a
/// force, N the line's cycles at the stress from zero that each cycle amounts to (mean stress by ISO 6336-3, annex B).
pub fn damage<E: From<Error>>(
    cycles: &[Cycle],
    line: &RootLine,
    stress: impl Fn(Force) -> Result<Pressure, E>,
) -> Result<Damage, E> {
    let mut out = Damage::default();
    for cycle in cycles {
        let (low, high) = (stress(Force::n(cycle.low))?, stress(Force::n(cycle.high))?);
        out.sum += cycle.count * line.share(line.from_zero(low.min(high), high)?)?;
        out.hardest = out.hardest.max(high);
    }
    Ok(out)
}
