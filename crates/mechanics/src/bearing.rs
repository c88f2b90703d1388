//! Rolling bearings by ISO dimension: ratings from the ball set, life (ISO 281), static safety (ISO 76).
//!
//! Single-row radial deep-groove ball bearings with steel balls; lengths in mm and forces in N inside the
//! formulas, as the standards print them.

use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{AngularSpeed, Force, Length, Time};

/// n dm that ordinary grease stands, mm/min (rule of thumb, weak source).
pub const ORDINARY_GREASE_LIMIT_MM_PER_MIN: f64 = 150_000.0;

/// n dm beyond which grease is no longer the usual lubricant, mm/min (rule of thumb, weak source).
pub const SPECIAL_GREASE_LIMIT_MM_PER_MIN: f64 = 400_000.0;

/// X of radial contact bearings where the axial load counts (ISO 281:2007, table 3).
const RADIAL_FACTOR: f64 = 0.56;

/// Rating factor bm of deep-groove bearings of today's steel (ISO 281:2007, table 1).
const STEEL_FACTOR: f64 = 1.3;

/// Loads below this share of the dynamic rating count as none.
const UNLOADED_SHARE: f64 = 1e-6;

static LOAD: Range = Range { what: "bearing load", min: 0.0, max: 1e6, unit: "N" };
static RATING: Range = Range { what: "dynamic load rating", min: 10.0, max: 1e7, unit: "N" };
static AXIAL: Range = Range { what: "relative axial load f0 Fa/C0", min: 0.0, max: 6.89, unit: "" };
static LOAD_SHARE: Range = Range { what: "load over dynamic rating P/C", min: 0.0, max: 0.5, unit: "" };
static SPEED: Range = Range { what: "bearing speed", min: 1e-3, max: 300_000.0, unit: "rpm" };
static RELIABILITY: Range = Range { what: "reliability", min: 0.9, max: 0.9995, unit: "" };
static SHARE: Range = Range { what: "share of time", min: 0.0, max: 1.0, unit: "" };
static BALLS: Range = Range { what: "number of balls", min: 3.0, max: 40.0, unit: "" };
static BALL: Range = Range { what: "ball diameter", min: 0.3, max: 25.4, unit: "mm" };
static RATIO: Range = Range { what: "ball over pitch diameter", min: 0.06, max: 0.28, unit: "" };

/// Where a row's ratings come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A published table by ISO dimension; the ball set is inferred from it.
    Published,
    /// The ISO formulas with an assumed ball set, good to about 15 %.
    Estimated,
}

impl Origin {
    /// The words that results carry.
    pub fn words(self) -> &'static str {
        match self {
            Origin::Published => "published table by ISO dimension",
            Origin::Estimated => "ISO 281 and ISO 76 formulas with an assumed ball set, within about 15 %",
        }
    }
}

/// One deep-groove ball bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// Bore x outside diameter x width in mm ("8x16x5").
    pub name: &'static str,
    /// Bore d.
    pub bore: Length,
    /// Outside diameter D.
    pub outside: Length,
    /// Width B.
    pub width: Length,
    /// Balls.
    pub balls: BallSet,
    /// Dynamic load rating C.
    pub dynamic_rating: Force,
    /// Static load rating C0.
    pub static_rating: Force,
    /// Where the ratings come from.
    pub origin: Origin,
}

/// The balls of a bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallSet {
    /// Diameter Dw, 0.3 to 25.4 mm.
    pub diameter: Length,
    /// Number Z, 3 to 40.
    pub count: u32,
    /// Pitch diameter Dpw; Dw/Dpw 0.06 to 0.28.
    pub pitch_diameter: Length,
}

/// Columns: d D B in mm, Dw in mm, Z, C and C0 in N.
const fn row(name: &'static str, size_mm: [f64; 3], balls: (f64, u32), ratings_n: [f64; 2], origin: Origin) -> Bearing {
    let [bore_mm, outside_mm, width_mm] = size_mm;
    let (diameter_mm, count) = balls;
    Bearing {
        name,
        bore: Length::mm(bore_mm),
        outside: Length::mm(outside_mm),
        width: Length::mm(width_mm),
        balls: BallSet {
            diameter: Length::mm(diameter_mm),
            count,
            pitch_diameter: Length::mm((bore_mm + outside_mm) / 2.0),
        },
        dynamic_rating: Force::n(ratings_n[0]),
        static_rating: Force::n(ratings_n[1]),
        origin,
    }
}

/// Sizes that truck gearboxes use, by bore and outside diameter.
pub static BEARINGS: &[Bearing] = &[
    row("5x10x4", [5.0, 10.0, 4.0], (1.2, 8), [430.0, 172.0], Origin::Estimated),
    row("5x11x4", [5.0, 11.0, 4.0], (1.588, 8), [716.0, 283.0], Origin::Estimated),
    row("6x10x3", [6.0, 10.0, 3.0], (1.2, 10), [496.0, 218.0], Origin::Estimated),
    row("6x12x4", [6.0, 12.0, 4.0], (1.588, 8), [715.0, 293.0], Origin::Estimated),
    row("6x13x5", [6.0, 13.0, 5.0], (2.0, 8), [1082.0, 440.0], Origin::Estimated),
    row("8x14x4", [8.0, 14.0, 4.0], (1.588, 10), [818.0, 386.0], Origin::Estimated),
    row("8x16x5", [8.0, 16.0, 5.0], (2.0, 10), [1254.0, 591.0], Origin::Estimated),
    row("8x19x6", [8.0, 19.0, 6.0], (3.175, 7), [2251.0, 926.0], Origin::Estimated),
    row("8x22x7", [8.0, 22.0, 7.0], (3.969, 7), [3296.0, 1368.0], Origin::Estimated),
    row("10x15x3", [10.0, 15.0, 3.0], (1.588, 11), [855.0, 435.0], Origin::Published),
    row("10x15x4", [10.0, 15.0, 4.0], (1.588, 11), [857.0, 435.0], Origin::Estimated),
    row("10x19x5", [10.0, 19.0, 5.0], (2.381, 11), [1830.0, 925.0], Origin::Published),
    row("10x22x6", [10.0, 22.0, 6.0], (3.175, 9), [2700.0, 1270.0], Origin::Published),
    row("10x26x8", [10.0, 26.0, 8.0], (4.762, 7), [4550.0, 1960.0], Origin::Published),
    row("12x18x4", [12.0, 18.0, 4.0], (1.588, 13), [930.0, 530.0], Origin::Published),
    row("12x21x5", [12.0, 21.0, 5.0], (2.381, 12), [1920.0, 1040.0], Origin::Published),
    row("12x24x6", [12.0, 24.0, 6.0], (3.175, 10), [2890.0, 1462.0], Origin::Estimated),
    row("15x21x4", [15.0, 21.0, 4.0], (1.588, 14), [936.0, 581.0], Origin::Estimated),
    row("15x24x5", [15.0, 24.0, 5.0], (2.381, 14), [2076.0, 1258.0], Origin::Estimated),
];

/// The bearing of these dimensions ("8x16x5"); none if the table lacks it.
pub fn find(name: &str) -> Option<&'static Bearing> {
    let wanted = name.trim();
    BEARINGS.iter().find(|row| row.name.eq_ignore_ascii_case(wanted))
}

/// Factor f0 by Dw/Dpw (ISO 76, table 1, from memory; holds against published ratings).
static STATIC_FACTORS: &[[f64; 2]] = &[
    [0.06, 15.9],
    [0.08, 16.3],
    [0.09, 16.5],
    [0.10, 16.4],
    [0.12, 15.9],
    [0.14, 15.4],
    [0.16, 14.9],
    [0.18, 14.4],
    [0.20, 14.0],
    [0.22, 13.5],
    [0.24, 13.0],
    [0.26, 12.5],
    [0.28, 12.1],
];

/// Factor fc by Dw/Dpw (ISO 281:2007, table 2, from memory; holds against published ratings).
static DYNAMIC_FACTORS: &[[f64; 2]] = &[
    [0.05, 46.7],
    [0.06, 49.1],
    [0.08, 52.8],
    [0.10, 55.5],
    [0.12, 57.5],
    [0.14, 58.8],
    [0.16, 59.6],
    [0.18, 59.9],
    [0.20, 59.9],
    [0.22, 59.6],
    [0.24, 59.0],
    [0.26, 58.2],
    [0.28, 57.1],
    [0.30, 56.0],
];

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

impl BallSet {
    /// Dynamic rating C = 1.3 fc Z^(2/3) Dw^1.8, fc by Dw/Dpw (ISO 281:2007, clause 5).
    pub fn dynamic_rating(&self) -> Result<Force, OutOfRange> {
        let (ratio, ball_mm) = self.checked()?;
        let fc = interpolate(DYNAMIC_FACTORS, ratio);
        Ok(Force::n(STEEL_FACTOR * fc * f64::from(self.count).powf(2.0 / 3.0) * ball_mm.powf(1.8)))
    }

    /// Static rating C0 = f0 Z Dw², f0 by Dw/Dpw (ISO 76, clause 5).
    pub fn static_rating(&self) -> Result<Force, OutOfRange> {
        let (_, ball_mm) = self.checked()?;
        Ok(Force::n(self.static_factor()? * f64::from(self.count) * ball_mm * ball_mm))
    }

    /// Factor f0, which also scales the axial load in ISO 281.
    pub fn static_factor(&self) -> Result<f64, OutOfRange> {
        let (ratio, _) = self.checked()?;
        Ok(interpolate(STATIC_FACTORS, ratio))
    }

    /// Dw/Dpw and Dw in mm.
    fn checked(&self) -> Result<(f64, f64), OutOfRange> {
        BALLS.check(f64::from(self.count))?;
        let ball_mm = BALL.check(self.diameter.to_mm())?;
        Ok((RATIO.check(self.diameter / self.pitch_diameter)?, ball_mm))
    }
}

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

    /// Basic rating life under a load; none where it is not loaded.
    pub fn life(&self, load: &Load) -> Result<Option<Life>, OutOfRange> {
        Life::basic(LifeParameters { rating: self.dynamic_rating, load: self.equivalent_dynamic(load)? })
    }

    /// Static safety s0 = C0/P0 (ISO 76, clause 7); none where it is not loaded.
    pub fn static_safety(&self, load: &Load) -> Result<Option<f64>, OutOfRange> {
        let load_n = load.equivalent_static()?.to_n();
        Ok((load_n > UNLOADED_SHARE * self.static_rating.to_n()).then(|| self.static_rating.to_n() / load_n))
    }

    /// n dm in mm/min with dm = (d + D)/2, for the grease limits; speed 0.001 to 300 000 rpm.
    pub fn speed_factor_mm_per_min(&self, speed: AngularSpeed) -> Result<f64, OutOfRange> {
        let speed_rpm = SPEED.check(speed.to_rpm())?;
        Ok(speed_rpm * (self.bore + self.outside).to_mm() / 2.0)
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

/// One part of a duty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DutyStep {
    /// Equivalent load, 0 to 1 MN.
    pub load: Force,
    /// Speed, 0.001 to 300 000 rpm.
    pub speed: AngularSpeed,
    /// Share of the time, 0 to 1.
    pub time_share: f64,
}

/// Load and speed that wear a bearing like the whole duty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanDuty {
    /// Cubic mean load, weighted by revolutions.
    pub load: Force,
    /// Mean speed over the time that the steps cover.
    pub speed: AngularSpeed,
}

/// Cubic mean Pm = (sum Pi³ ni ti/sum ni ti)^(1/3), which has the life that Miner's rule gives the duty
/// (ISO 281's exponent 3); none for a duty without time.
pub fn mean_duty(steps: &[DutyStep]) -> Result<Option<MeanDuty>, OutOfRange> {
    let (mut damage, mut revolutions, mut time) = (0.0, 0.0, 0.0);
    for step in steps {
        let (load_n, speed_rpm) = (LOAD.check(step.load.to_n())?, SPEED.check(step.speed.to_rpm())?);
        let share = SHARE.check(step.time_share)?;
        damage += load_n.powi(3) * speed_rpm * share;
        revolutions += speed_rpm * share;
        time += share;
    }
    Ok((revolutions > 0.0).then(|| MeanDuty {
        load: Force::n((damage / revolutions).cbrt()),
        speed: AngularSpeed::rpm(revolutions / time),
    }))
}

/// Linear between the rows, the first or last row's value outside them.
fn interpolate(rows: &[[f64; 2]], at: f64) -> f64 {
    rows.windows(2).fold(rows[0][1], |value, pair| {
        let ([from, low], [to, high]) = (pair[0], pair[1]);
        if at > from { low + (high - low) * ((at - from) / (to - from)).min(1.0) } else { value }
    })
}
