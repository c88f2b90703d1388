//! Set screws: how firmly a cup point holds the pinion on its shaft.

use super::{ScrewError, SetScrewTool, Spread, limits};
use toothsayer_quantity::{Force, Length, Torque};

/// Holding force of one size at its seating torque.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetScrewRow {
    /// Size, first as results show it, then as it may also be written.
    pub names: &'static [&'static str],
    /// Seating torque of the row.
    pub torque: Torque,
    /// Axial holding force of a cup point at that torque on a round shaft.
    pub force: Force,
}

/// Published charts differ by two to three times, mostly downward: factor on the holding force.
pub const HOLDING_SCATTER: Spread = Spread { value: 1.0, low: 0.4, high: 1.2 };

/// Gain of a flat over the round shaft (common practice, no source).
const FLAT_FACTOR: f64 = 1.5;

const fn metric(names: &'static [&'static str], torque_n_m: f64, force_n: f64) -> SetScrewRow {
    SetScrewRow { names, torque: Torque::n_m(torque_n_m), force: Force::n(force_n) }
}

const fn inch(names: &'static [&'static str], torque_lbf_in: f64, force_lbf: f64) -> SetScrewRow {
    const LBF_N: f64 = 4.448_221_615_260_5;
    metric(names, torque_lbf_in * LBF_N * 0.0254, force_lbf * LBF_N)
}

/// Cup points, alloy steel, against a shaft at least 10 HRC softer. Inch rows: Shigley's Mechanical
/// Engineering Design, table 7-4 (holding forces from memory). Metric rows: the same chart's metric form.
pub static SET_SCREWS: &[SetScrewRow] = &[
    metric(&["M3"], 1.1, 700.0),
    metric(&["M4"], 2.2, 1700.0),
    metric(&["M5"], 4.0, 2400.0),
    metric(&["M6"], 9.8, 4450.0),
    inch(&["0-80", "0"], 1.0, 50.0),
    inch(&["1-72", "1-64", "1"], 1.8, 65.0),
    inch(&["2-56", "2"], 1.8, 85.0),
    inch(&["3-48", "3"], 5.0, 120.0),
    inch(&["4-40", "4"], 5.0, 160.0),
    inch(&["5-40", "5"], 10.0, 200.0),
    inch(&["6-32", "6"], 10.0, 250.0),
    inch(&["8-32", "8"], 20.0, 385.0),
    inch(&["10-32", "10-24", "10"], 36.0, 540.0),
    inch(&["1/4-20", "1/4-28", "1/4"], 87.0, 1000.0),
    inch(&["5/16-18", "5/16-24", "5/16"], 165.0, 1500.0),
    inch(&["3/8-16", "3/8-24", "3/8"], 290.0, 2000.0),
];

impl SetScrewRow {
    /// The row of this size; a leading `#` may be written or left out.
    pub fn find(size: &str) -> Result<&'static SetScrewRow, ScrewError> {
        let wanted = size.trim().trim_start_matches('#');
        let named = |row: &&SetScrewRow| row.names.iter().any(|name| name.eq_ignore_ascii_case(wanted));
        SET_SCREWS.iter().find(named).ok_or_else(|| {
            let names: Vec<_> = SET_SCREWS.iter().filter_map(|row| row.names.first().copied()).collect();
            ScrewError::UnknownSetScrew { size: size.to_owned(), known: names.join(", ") }
        })
    }

    /// Torque that a tool gives: its share of the row's.
    pub fn torque_by(&self, tool: SetScrewTool) -> Torque {
        self.torque * tool.share().value
    }
}

/// Where the point seats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seat {
    /// On a flat ground on the shaft.
    Flat,
    /// On the round shaft.
    Round,
}

impl Seat {
    fn factor(self) -> f64 {
        match self {
            Seat::Flat => FLAT_FACTOR,
            Seat::Round => 1.0,
        }
    }
}

/// How the screw has been kept since it was seated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Securing {
    /// Seated and not yet heated.
    Fresh,
    /// Heated and cooled, no thread locker.
    HeatCycled,
    /// Heated and cooled, with thread locker on clean threads.
    HeatCycledLocked,
}

impl Securing {
    /// Factor on the holding force (common practice, no source).
    pub fn factor(self) -> Spread {
        match self {
            Securing::Fresh => Spread::exact(1.0),
            Securing::HeatCycled => Spread { value: 0.75, low: 0.5, high: 0.95 },
            Securing::HeatCycledLocked => Spread { value: 0.95, low: 0.85, high: 1.0 },
        }
    }
}

/// What a set screw's hold depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetScrewParameters {
    /// Size.
    pub row: &'static SetScrewRow,
    /// Torque it was seated with, 0 to 200 N m.
    pub torque: Torque,
    /// Flat or round.
    pub seat: Seat,
    /// Heat and thread locker.
    pub securing: Securing,
    /// Shaft diameter, 1 to 30 mm.
    pub shaft_diameter: Length,
}

/// A seated set screw, checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetScrew {
    parameters: SetScrewParameters,
}

impl SetScrew {
    /// Checks torque and shaft against their ranges.
    pub fn new(parameters: SetScrewParameters) -> Result<Self, ScrewError> {
        limits::TORQUE.check(parameters.torque.to_n_m())?;
        limits::SHAFT_DIAMETER.check(parameters.shaft_diameter.to_mm())?;
        Ok(Self { parameters })
    }

    /// Holding force: the row's, linear in torque up to the row and constant beyond it, x 1.5 on a flat,
    /// times the factor for heat and thread locker.
    pub fn holding_force(&self) -> Force {
        let SetScrewParameters { row, torque, seat, securing, .. } = self.parameters;
        row.force * ((torque / row.torque).min(1.0) * seat.factor() * securing.factor().value)
    }

    /// Holding torque: force times shaft radius (Shigley, section 7-7).
    pub fn holding_torque(&self) -> Torque {
        Torque::n_m(self.holding_force().to_n() * self.parameters.shaft_diameter.to_m() / 2.0)
    }

    /// Holding torque over a peak torque of 0 to 500 N m; none where nothing is demanded.
    pub fn margin(&self, peak_torque: Torque) -> Result<Option<f64>, ScrewError> {
        let demand_n_m = limits::MOTOR_TORQUE.check(peak_torque.to_n_m())?;
        Ok((demand_n_m > 0.0).then(|| self.holding_torque().to_n_m() / demand_n_m))
    }

    /// Whether the pinion creeps along its shaft: a point that slips round has no grip along either, so it
    /// does as soon as the margin is below 1. How fast is not computed: there is no published law.
    pub fn creeps(&self, peak_torque: Torque) -> Result<bool, ScrewError> {
        Ok(self.margin(peak_torque)?.is_some_and(|margin| margin < 1.0))
    }
}
