//! Basic rating life and the life that other shares of all bearings reach (ISO 281).

use super::{Bearing, Load, SPEED, UNLOADED_SHARE};
use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{AngularSpeed, Force, Time};

static RATING: Range = Range { what: "dynamic load rating", min: 10.0, max: 1e7, unit: "N" };
static LOAD_SHARE: Range = Range { what: "load over dynamic rating P/C", min: 0.0, max: 0.5, unit: "" };
static RELIABILITY: Range = Range { what: "reliability", min: 0.9, max: 0.9995, unit: "" };

impl Bearing {
    /// Basic rating life under a load; none where it is not loaded.
    pub fn life(&self, load: &Load) -> Result<Option<Life>, OutOfRange> {
        Life::basic(LifeParameters { rating: self.dynamic_rating, load: self.equivalent_dynamic(load)? })
    }
}

/// What a life is computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LifeParameters {
    /// Dynamic load rating C, 10 N to 10 MN.
    pub rating: Force,
    /// Equivalent dynamic load P, at most half of C.
    pub load: Force,
}

/// A rating life.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Life {
    million_revolutions: f64,
}

impl Life {
    /// Basic rating life L10 = (C/P)³ million revolutions, which 90 % reach (ISO 281:2007, clause 7); valid for
    /// P <= 0.5 C. None for P below a millionth of C: without load nothing wears out by fatigue.
    pub fn basic(parameters: LifeParameters) -> Result<Option<Self>, OutOfRange> {
        let rating_n = RATING.check(parameters.rating.to_n())?;
        let share = LOAD_SHARE.check(parameters.load.to_n() / rating_n)?;
        Ok((share > UNLOADED_SHARE).then(|| Self { million_revolutions: share.powi(-3) }))
    }

    /// In million revolutions.
    pub fn million_revolutions(&self) -> f64 {
        self.million_revolutions
    }

    /// Running time at a speed of 0.001 to 300 000 rpm.
    pub fn at(&self, speed: AngularSpeed) -> Result<Time, OutOfRange> {
        let revolutions_per_min = SPEED.check(speed.to_rpm())?;
        Ok(Time::min_(self.million_revolutions * 1e6 / revolutions_per_min))
    }

    /// The life that a share of 0.9 to 0.9995 of all bearings reaches, a1 L10.
    pub fn reached_by(&self, reliability: f64) -> Result<Self, OutOfRange> {
        Ok(Self { million_revolutions: self.million_revolutions * reliability_factor(reliability)? })
    }
}

/// Life adjustment factor a1 = 0.05 + 0.95 (ln(1/R)/ln(1/0.9))^(2/3) for a reliability R of 0.9 to 0.9995.
///
/// The three-parameter Weibull curve behind ISO 281:2007, table 12, which prints 0.64, 0.55, 0.47, 0.37, 0.25
/// for 95 to 99 %; the 1990 edition had smaller factors.
pub fn reliability_factor(reliability: f64) -> Result<f64, OutOfRange> {
    let reliability = RELIABILITY.check(reliability)?;
    Ok(0.05 + 0.95 * (reliability.ln() / 0.9_f64.ln()).powf(2.0 / 3.0))
}
