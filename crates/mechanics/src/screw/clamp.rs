//! Clamp force over the runs after tightening: embedding first, creep on top.

use super::{Joint, ScrewError, limits};
use toothsayer_quantity::Force;

/// Share of the embedding that a re-tightened joint still has before it (common practice, no source).
pub const RETIGHTENED_EMBEDDING_SHARE: f64 = 0.2;

/// Runs after tightening for which the clamp is shown.
pub const REPORTED_RUNS: [f64; 5] = [1.0, 2.0, 5.0, 20.0, 50.0];

/// Reference time of the creep law, in runs.
const CREEP_TIME_RUNS: f64 = 1.0;

/// One tightening of one screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamp {
    preload_n: f64,
    embedding_n: f64,
    creep_exponent: f64,
    age_runs: f64,
}

impl Clamp {
    /// A joint put together anew, with the preload (0 to 1 MN) it was tightened to.
    pub fn fresh(joint: &Joint, preload: Force) -> Result<Self, ScrewError> {
        let preload_n = limits::FORCE.check(preload.to_n())?;
        let embedding_n = joint.embedding_loss().to_n();
        Ok(Self { preload_n, embedding_n, creep_exponent: joint.creep_exponent(), age_runs: 0.0 })
    }

    /// A joint tightened again `age_runs` (0 to 10 000) after it was put together: embedding is x 0.2 and
    /// creep goes on from that age.
    pub fn retightened(joint: &Joint, preload: Force, age_runs: f64) -> Result<Self, ScrewError> {
        let age_runs = limits::RUNS.check(age_runs)?;
        let fresh = Self::fresh(joint, preload)?;
        Ok(Self { embedding_n: fresh.embedding_n * RETIGHTENED_EMBEDDING_SHARE, age_runs, ..fresh })
    }

    /// Clamp after t runs (0 to 10 000) since this tightening.
    ///
    /// F = max(0, F0 - FZ min(t, 1)) ((t0 + r + t)/(t0 + r))^-n: F0 preload, FZ embedding, which grows
    /// linearly over the first run and then stays (x 0.2 when re-tightened), r age of the joint at this
    /// tightening (0 when fresh), t0 one run, n the larger creep exponent of boss and clamped part. Embedding
    /// by VDI 2230; the creep law is the power law of creep moduli (ISO 899-1) for a stiff screw.
    pub fn after(&self, runs: f64) -> Result<Force, ScrewError> {
        let runs = limits::RUNS.check(runs)?;
        let settled_n = (self.preload_n - self.embedding_n * runs.min(1.0)).max(0.0);
        let start = CREEP_TIME_RUNS + self.age_runs;
        Ok(Force::n(settled_n * ((start + runs) / start).powf(-self.creep_exponent)))
    }

    /// The last of whole runs 0 to `horizon_runs` (at most 10 000) after which the clamp is still the needed
    /// one; none when the preload itself is not. The clamp never rises, so this is the care interval.
    pub fn runs_above(&self, needed_clamp: Force, horizon_runs: u32) -> Result<Option<u32>, ScrewError> {
        limits::RUNS.check(f64::from(horizon_runs))?;
        limits::FORCE.check(needed_clamp.to_n())?;
        let mut last = None;
        for run in 0..=horizon_runs {
            if self.after(f64::from(run))? < needed_clamp {
                break;
            }
            last = Some(run);
        }
        Ok(last)
    }
}
