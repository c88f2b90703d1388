//! What a bearing feels of its loads: equivalent loads (ISO 281, ISO 76) and static safety.

use super::{Bearing, LOAD, UNLOADED_SHARE, interpolate};
use crate::range::{OutOfRange, Range};
use toothsayer_quantity::Force;

/// X of radial contact bearings where the axial load counts (ISO 281:2007, table 3).
const RADIAL_FACTOR: f64 = 0.56;

static AXIAL: Range = Range { what: "relative axial load f0 Fa/C0", min: 0.0, max: 6.89, unit: "" };

/// Limit e and factor Y by f0 Fa/C0 (ISO 281:2007, table 3, from memory).
static AXIAL_LIMITS: &[[f64; 2]] = &[
    [0.172, 0.19],
    [0.345, 0.22],
    [0.689, 0.26],
    [1.03, 0.28],
    [1.38, 0.30],
    [2.07, 0.34],
    [3.45, 0.38],
    [5.17, 0.42],
    [6.89, 0.44],
];
static AXIAL_FACTORS: &[[f64; 2]] = &[
    [0.172, 2.30],
    [0.345, 1.99],
    [0.689, 1.71],
    [1.03, 1.55],
    [1.38, 1.45],
    [2.07, 1.31],
    [3.45, 1.15],
    [5.17, 1.04],
    [6.89, 1.00],
];
/// Radial and axial load, each 0 to 1 MN.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Fr.
    pub radial: Force,
    /// Fa, without its sign.
    pub axial: Force,
}

impl Load {
    fn checked_n(&self) -> Result<(f64, f64), OutOfRange> {
        Ok((LOAD.check(self.radial.to_n())?, LOAD.check(self.axial.to_n())?))
    }

    /// Equivalent static load P0 = max(Fr, 0.6 Fr + 0.5 Fa) (ISO 76, clause 6).
    pub fn equivalent_static(&self) -> Result<Force, OutOfRange> {
        let (radial_n, axial_n) = self.checked_n()?;
        Ok(Force::n(radial_n.max(0.6 * radial_n + 0.5 * axial_n)))
    }
}

/// Factors of the equivalent dynamic load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxialFactors {
    /// Fa/Fr up to which the axial load does not count.
    pub limit: f64,
    /// Y.
    pub axial: f64,
}

impl AxialFactors {
    /// e and Y for f0 Fa/C0 of 0 to 6.89, linear between the rows of ISO 281:2007, table 3; below the first
    /// row its values.
    pub fn of(relative_axial_load: f64) -> Result<Self, OutOfRange> {
        let relative = AXIAL.check(relative_axial_load)?;
        Ok(Self { limit: interpolate(AXIAL_LIMITS, relative), axial: interpolate(AXIAL_FACTORS, relative) })
    }

    /// P = Fr, or X Fr + Y Fa where Fa/Fr > e; X = 0.56 (ISO 281:2007, clause 6). The rounded factors would
    /// let P dip below Fr at e, which is cut off.
    pub fn equivalent_dynamic(&self, load: &Load) -> Result<Force, OutOfRange> {
        let (radial_n, axial_n) = load.checked_n()?;
        let combined_n = RADIAL_FACTOR * radial_n + self.axial * axial_n;
        Ok(Force::n(if axial_n > self.limit * radial_n { combined_n.max(radial_n) } else { radial_n }))
    }
}

impl Bearing {
    /// Equivalent dynamic load P by this bearing's f0 and C0 ([`AxialFactors::equivalent_dynamic`]); axial load
    /// up to f0 Fa/C0 = 6.89, about half of C0.
    pub fn equivalent_dynamic(&self, load: &Load) -> Result<Force, OutOfRange> {
        let (_, axial_n) = load.checked_n()?;
        let relative = self.balls.static_factor()? * axial_n / self.static_rating.to_n();
        AxialFactors::of(relative)?.equivalent_dynamic(load)
    }

    /// Static safety s0 = C0/P0 (ISO 76, clause 7); none where it is not loaded.
    pub fn static_safety(&self, load: &Load) -> Result<Option<f64>, OutOfRange> {
        let load_n = load.equivalent_static()?.to_n();
        Ok((load_n > UNLOADED_SHARE * self.static_rating.to_n()).then(|| self.static_rating.to_n() / load_n))
    }
}
