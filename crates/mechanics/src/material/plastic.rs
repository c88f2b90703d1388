//! Strength of plastic teeth over temperature and load cycles (VDI 2736-2).

use serde::Deserialize;
use toothsayer_quantity::{Pressure, Temperature};

use super::sn_line::{CYCLES, FACTOR, Lasts};
use crate::Error;
use crate::range::Range;

const TEMPERATURE_C: Range = Range { what: "tooth temperature of a plastic gear", min: 0.0, max: 100.0, unit: "degC" };
/// 0 degC in K.
const ZERO_C_K: f64 = 273.15;
/// Where the lines begin: below, the strength is held, as a plastic's single blow is not in them.
const FIRST_CYCLES: f64 = 1e5;
/// Where the lines end; beyond, the strength is held.
const LAST_CYCLES: f64 = 1e8;
/// The cycles that life factors of all materials are counted from.
const REFERENCE_CYCLES: f64 = 3e6;

/// One strength over temperature T in degC and cycles N:
/// base - fall T^fall_power + (life - life_fall T^life_fall_power) N^-life_exponent, in N/mm2.
///
/// Held constant below 1e5 and above 1e8 cycles. Valid from 0 to 100 degC.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlasticLine {
    base_mpa: f64,
    fall_mpa: f64,
    fall_power: f64,
    life_mpa: f64,
    life_fall_mpa: f64,
    life_fall_power: f64,
    life_exponent: f64,
}

/// When a plastic's strength is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlasticDuty {
    /// Tooth temperature in degC, 0 to 100.
    pub temperature_c: f64,
    /// Load cycles.
    pub cycles: f64,
}

impl PlasticLine {
    /// The limit at a temperature and a number of cycles; a range error outside.
    pub fn limit(&self, duty: PlasticDuty) -> Result<Pressure, Error> {
        let t = TEMPERATURE_C.check(duty.temperature_c)?;
        let n = CYCLES.check(duty.cycles)?.clamp(FIRST_CYCLES, LAST_CYCLES);
        let steady = self.base_mpa - self.fall_mpa * t.powf(self.fall_power);
        let lasting = self.life_mpa - self.life_fall_mpa * t.powf(self.life_fall_power);
        // At the hot end the fitted terms would cross 0 on their own.
        Ok(Pressure::mpa(steady.max(0.0) + lasting.max(0.0) * n.powf(-self.life_exponent)))
    }
}

/// A plastic's two strengths.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlasticStrength {
    /// Temperature at which the limits count where none is given, degC.
    pub usual_temperature_c: f64,
    /// Root limit sigmaFlimN.
    pub root: PlasticLine,
    /// Flank limit sigmaHlimN.
    pub flank: PlasticLine,
}

impl PlasticStrength {
    /// Temperature at which the limits count where none is given.
    pub fn usual_temperature(&self) -> Temperature {
        Temperature::k(self.usual_temperature_c + ZERO_C_K)
    }

    /// A line's limit at the usual temperature and the reference cycles.
    pub(super) fn reference(&self, line: &PlasticLine) -> Result<Pressure, Error> {
        self.at(line, REFERENCE_CYCLES)
    }

    /// A line's limit at `cycles` over the one at the reference cycles.
    pub(super) fn factor(&self, line: &PlasticLine, cycles: f64) -> Result<f64, Error> {
        Ok(self.at(line, cycles)? / self.reference(line)?)
    }

    /// How long `factor` times the reference limit is borne: the line read backwards, by bisection.
    pub(super) fn lasts(&self, line: &PlasticLine, factor: f64) -> Result<Lasts, Error> {
        let factor = FACTOR.check(factor)?;
        if factor > self.factor(line, FIRST_CYCLES)? {
            return Ok(Lasts::NotOnce);
        }
        if factor <= self.factor(line, LAST_CYCLES)? {
            return Ok(Lasts::Forever);
        }
        let (mut low, mut high) = (FIRST_CYCLES.ln(), LAST_CYCLES.ln());
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            *(if self.factor(line, middle.exp())? > factor { &mut low } else { &mut high }) = middle;
        }
        Ok(Lasts::Cycles((0.5 * (low + high)).exp()))
    }

    fn at(&self, line: &PlasticLine, cycles: f64) -> Result<Pressure, Error> {
        line.limit(PlasticDuty { temperature_c: self.usual_temperature_c, cycles })
    }
}
