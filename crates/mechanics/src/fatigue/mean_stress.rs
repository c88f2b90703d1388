//! Mean stress: what a cycle that does not begin at zero counts for (ISO 6336-3, annex B).

use super::limits;
use crate::Error;
use crate::material::Treatment;

/// A cycle's maximum counts as it is, whatever its mean: for materials of which the annex does not tell.
const NOT_TOLD: f64 = 1.0;

/// Mean stress ratio M by treatment (ISO 6336-3, annex B, table B.1, endurance, from memory): 0.8 - 0.15 YS case
/// hardened, 0.4 induction hardened, 0.3 nitrided and steels not hardened in the skin; 1, which gives a cycle no
/// credit for its mean, for sintered steels, plastics and what is not known.
///
/// YS is the stress correction factor of the root; a sharp one is held at 0.
pub fn mean_ratio(treatment: Treatment, stress_factor: f64) -> f64 {
    match treatment {
        Treatment::CaseHardened => (0.8 - 0.15 * stress_factor).clamp(0.0, NOT_TOLD),
        Treatment::InductionHardened => 0.4,
        Treatment::Nitrided
        | Treatment::Normalised
        | Treatment::ThroughHardenedCarbon
        | Treatment::ThroughHardenedAlloy => 0.3,
        Treatment::Sintered | Treatment::Plastic | Treatment::Unknown => NOT_TOLD,
    }
}

/// YM = 1/(1 - R (1 - M)/(1 + M)), R the least over the largest stress of the cycle (-1.2 to 1), M the mean stress
/// ratio (0 to 1): the largest stress that is borne, over that of a cycle from zero.
///
/// ISO 6336-3, annex B gives it for R from -1.2 to 0, from memory. It is the straight line of amplitude over mean with
/// slope M (Goodman's form) through the cycle from zero, and is used along the same line up to R = 1: amplitudes beyond
/// R = 0 fall less steeply in truth, so that this is on the safe side.
pub fn mean_stress_factor(stress_ratio: f64, mean_ratio: f64) -> Result<f64, Error> {
    let r = limits::STRESS_RATIO.check(stress_ratio)?;
    let m = limits::MEAN_RATIO.check(mean_ratio)?;
    // At R = 1 and M = 0 the line has no end; the factor is then held at what double precision resolves.
    Ok(1.0 / (1.0 - r * (1.0 - m) / (1.0 + m)).max(f64::EPSILON))
}
