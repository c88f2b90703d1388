//! Deep-groove ball bearings by ISO dimension, and what their ball sets are rated for.

use super::interpolate;
use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{AngularSpeed, Force, Length};

/// n dm that ordinary grease stands, mm/min (rule of thumb, weak source).
pub const ORDINARY_GREASE_LIMIT_MM_PER_MIN: f64 = 150_000.0;

/// n dm beyond which grease is no longer the usual lubricant, mm/min (rule of thumb, weak source).
pub const SPECIAL_GREASE_LIMIT_MM_PER_MIN: f64 = 400_000.0;

/// Rating factor bm of deep-groove bearings of today's steel (ISO 281:2007, table 1).
const STEEL_FACTOR: f64 = 1.3;

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
    row("12x24x6", [12.0, 24.0, 6.0], (3.175, 10), [2890.0, 1460.0], Origin::Published),
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

impl Bearing {
    /// n dm in mm/min with dm = (d + D)/2, for the grease limits; speed 0.001 to 300 000 rpm.
    pub fn speed_factor_mm_per_min(&self, speed: AngularSpeed) -> Result<f64, OutOfRange> {
        let speed_rpm = super::SPEED.check(speed.to_rpm())?;
        Ok(speed_rpm * (self.bore + self.outside).to_mm() / 2.0)
    }
}
