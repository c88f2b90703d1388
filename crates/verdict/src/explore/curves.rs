//! Margin curves: the least margin over one value alone, each point computed in full.

use super::ground::Ground;
use crate::Error;
use crate::margin::Margin;
use toothsayer_job::{Entry, Origin, Sheet};
use toothsayer_quantity::Kind;

/// One point.
#[derive(Clone, Debug)]
pub struct CurvePoint {
    /// The value, in SI.
    pub at: f64,
    /// The least margin of those that the combinations move; none where the mechanics refuse the truck.
    pub least: Option<Margin>,
}

/// The least margin over one value.
#[derive(Clone, Debug)]
pub struct Curve {
    /// What is varied, in words.
    pub what: &'static str,
    /// Its registry key.
    pub key: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// What the truck has, in SI.
    pub now: f64,
    /// The points, in the order of the value.
    pub points: Vec<CurvePoint>,
}

/// Values of one curve, from those of the truck.
struct Row {
    what: &'static str,
    key: &'static str,
    kind: Kind,
    values: fn(f64) -> Vec<f64>,
}

static ROWS: [Row; 4] = [
    Row {
        what: "brake strength",
        key: "controller.brake_strength",
        kind: Kind::Fraction,
        values: |_| (4..=10).map(|tenth| f64::from(tenth) / 10.0).collect(),
    },
    Row { what: "mass of a wheel", key: "wheels.mass", kind: Kind::Mass, values: |now| shares(now, &SHARES) },
    Row {
        what: "height of the drop",
        key: "driver.drop_height",
        kind: Kind::Length,
        values: |now| shares(now, &SHARES),
    },
    Row {
        what: "centre distance",
        key: "gears.centre_distance",
        kind: Kind::Length,
        values: |now| OFFSETS_MM.iter().map(|offset_mm| now + offset_mm * 1e-3).collect(),
    },
];
const SHARES: [f64; 7] = [0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0];
/// A tenth of a millimetre nearer to four tenths wider: what a mesh is set wrong by.
const OFFSETS_MM: [f64; 7] = [-0.1, -0.05, 0.0, 0.1, 0.2, 0.3, 0.4];

fn shares(now: f64, shares: &[f64]) -> Vec<f64> {
    shares.iter().map(|share| share * now).collect()
}

/// Trucks that all curves take.
pub(super) const TRUCKS: u32 = 28;

/// Every curve.
pub(super) fn curves(ground: &Ground<'_>) -> Result<Vec<Curve>, Error> {
    ROWS.iter()
        .filter_map(|row| Some((row, ground.truck.fields.number(row.key)?)))
        .map(|(row, now)| row.curve(now, ground))
        .collect()
}

impl Row {
    fn curve(&self, now: f64, ground: &Ground<'_>) -> Result<Curve, Error> {
        let values = (self.values)(now);
        let made = values.iter().map(|value| ground.fitted_sheet(&self.set(ground.truck, *value)).ok());
        let made: Vec<_> = made.collect();
        let places: Vec<usize> = (0..made.len()).filter(|place| made[*place].is_some()).collect();
        let trucks: Vec<_> = made.into_iter().flatten().collect();
        let mut points: Vec<CurvePoint> = values.into_iter().map(|at| CurvePoint { at, least: None }).collect();
        for (place, score) in places.into_iter().zip(ground.simulated(&trucks)?) {
            points[place].least = score.map(|score| score.moved);
        }
        Ok(Curve { what: self.what, key: self.key, kind: self.kind, now, points })
    }

    /// The truck with this value alone changed.
    fn set(&self, truck: &Sheet, value: f64) -> Sheet {
        let mut sheet = truck.clone();
        sheet.fields.numbers.insert(self.key, Entry::exact(value, Origin::Change(self.what.into())));
        sheet
    }
}
