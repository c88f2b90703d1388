//! Rolling bearings by ISO dimension: ratings from the ball set, life (ISO 281), static safety (ISO 76), rubbing.
//!
//! Single-row radial deep-groove ball bearings with steel balls; lengths in mm and forces in N inside the
//! formulas, as the standards print them.

pub mod rub;

mod duty;
mod life;
mod load;
mod rating;

pub use duty::{DutyStep, MeanDuty, mean_duty};
pub use life::{Life, LifeParameters, reliability_factor};
pub use load::{AxialFactors, Load};
pub use rating::{
    BEARINGS, BallSet, Bearing, ORDINARY_GREASE_LIMIT_MM_PER_MIN, Origin, SPECIAL_GREASE_LIMIT_MM_PER_MIN, find,
};

use crate::range::Range;

static LOAD: Range = Range { what: "bearing load", min: 0.0, max: 1e6, unit: "N" };
static SPEED: Range = Range { what: "bearing speed", min: 1e-3, max: 300_000.0, unit: "rpm" };

/// Loads below this share of the dynamic rating count as none.
const UNLOADED_SHARE: f64 = 1e-6;

/// Linear between the rows, the first or last row's value outside them.
fn interpolate(rows: &[[f64; 2]], at: f64) -> f64 {
    rows.windows(2).fold(rows[0][1], |value, pair| {
        let ([from, low], [to, high]) = (pair[0], pair[1]);
        if at > from { low + (high - low) * ((at - from) / (to - from)).min(1.0) } else { value }
    })
}
