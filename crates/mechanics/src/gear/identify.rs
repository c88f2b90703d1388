//! Which gear is this? Module or diametral pitch from a tooth count and a caliper.

use std::f64::consts::PI;

use toothsayer_quantity::{Angle, Length};

use super::involute::inv_rad;
use super::limits;
use crate::Error;

/// What a caliper reading and a turned tip circle may be off together (common practice, no source).
pub const TIP_READING_TOLERANCE: Length = Length::mm(0.1);

/// Modules that the trade uses, in mm.
const MODULES_MM: [f64; 6] = [0.4, 0.5, 0.6, 0.8, 1.0, 1.5];
/// Diametral pitches that the trade uses, per inch.
const DIAMETRAL_PITCHES: [f64; 5] = [64.0, 48.0, 32.0, 24.0, 20.0];

/// A gear on the bench: teeth counted, tips measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearReading {
    /// Tooth count.
    pub teeth: u32,
    /// Diameter over the tips.
    pub tip_diameter: Length,
    /// Span over several teeth, where it was measured.
    pub span: Option<SpanReading>,
    /// How far the tip diameter and the span may be off; [`TIP_READING_TOLERANCE`] unless known better.
    pub tolerance: Length,
}

/// A span reading; `teeth` absent means the number that handbooks give, z/9 + 0.5 rounded at 20 deg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpanReading {
    /// Teeth between the jaws.
    pub teeth: Option<u32>,
    /// The reading.
    pub length: Length,
}

/// One pitch that the gear may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// Module.
    pub module: Length,
    /// Diametral pitch per inch, where the pitch is of that family.
    pub diametral_pitch: Option<f64>,
    /// Tip diameter that a standard gear of this pitch has.
    pub tip_diameter: Length,
    /// (standard tip diameter - reading)/reading.
    pub error: f64,
    /// The same for the span.
    pub span_error: Option<f64>,
    /// Whether every reading agrees within its tolerance.
    pub fits: bool,
    /// Whether this and another candidate both fit, so that the readings cannot tell them apart.
    pub not_told_apart: bool,
}

/// The trade's pitches, nearest first (by the larger of the two errors where a span was given).
///
/// Standard full-depth gears of 20 deg without shift: da = m (z + 2), Wk = m cos 20 (pi (k - 0.5) + z inv 20).
/// A shifted gear reads off by 2 x m; none then fits. Errors: a reading out of range.
pub fn identify(reading: &GearReading) -> Result<Vec<Candidate>, Error> {
    limits::TEETH.check(f64::from(reading.teeth))?;
    limits::TIP_READING_MM.check(reading.tip_diameter.to_mm())?;
    limits::READING_TOLERANCE_MM.check(reading.tolerance.to_mm())?;
    if let Some(span) = reading.span {
        limits::SPAN_READING_MM.check(span.length.to_mm())?;
    }
    let modules = MODULES_MM.iter().map(|mm| (Length::mm(*mm), None));
    let pitches = DIAMETRAL_PITCHES.iter().map(|pitch| (Length::inch(1.0 / pitch), Some(*pitch)));
    let mut candidates: Vec<Candidate> = modules.chain(pitches).map(|pitch| candidate(reading, pitch)).collect();
    candidates.sort_by(|a, b| worst(a).total_cmp(&worst(b)));
    let fitting = candidates.iter().filter(|candidate| candidate.fits).count();
    for candidate in &mut candidates {
        candidate.not_told_apart = candidate.fits && fitting > 1;
    }
    Ok(candidates)
}

fn candidate(reading: &GearReading, (module, diametral_pitch): (Length, Option<f64>)) -> Candidate {
    let z = f64::from(reading.teeth);
    let tip_diameter = module * (z + 2.0);
    let span_off = reading.span.map(|span| (standard_span(module, z, span.teeth) - span.length, span.length));
    let near = |off: Length| off.abs() <= reading.tolerance;
    Candidate {
        module,
        diametral_pitch,
        tip_diameter,
        error: (tip_diameter - reading.tip_diameter) / reading.tip_diameter,
        span_error: span_off.map(|(off, length)| off / length),
        fits: near(tip_diameter - reading.tip_diameter) && span_off.is_none_or(|(off, _)| near(off)),
        not_told_apart: false,
    }
}

fn standard_span(module: Length, z: f64, teeth: Option<u32>) -> Length {
    let alpha = Angle::deg(20.0).to_rad();
    let k = teeth.map_or((z / 9.0 + 0.5 + 1e-9).round(), f64::from);
    module * (alpha.cos() * (PI * (k - 0.5) + z * inv_rad(alpha)))
}

fn worst(candidate: &Candidate) -> f64 {
    candidate.error.abs().max(candidate.span_error.unwrap_or(0.0).abs())
}
