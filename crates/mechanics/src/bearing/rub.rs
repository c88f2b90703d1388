//! A bearing that a stack set too long presses axially: its friction, and how warm its plastic seat becomes.

use super::{Bearing, LOAD, SPEED};
use crate::range::{OutOfRange, Range};
use std::f64::consts::PI;
use toothsayer_quantity::{AngularSpeed, Force, Length, LinearStiffness, Temperature, Torque};

/// Friction coefficient of a deep-groove ball bearing at its bore (handbook value, from memory).
pub const FRICTION: f64 = 0.0015;

/// Stiffness of a plastic cover pressed outwards at its bearing: usual, with its range [50..800] (estimate, no source).
pub const COVER_STIFFNESS: LinearStiffness = LinearStiffness::n_per_mm(200.0);

/// Heat conductivity of gearbox plastics, W/m/K: 0.25 to 0.35 (handbooks, from memory).
const WALL_W_M_K: f64 = 0.3;
/// Film of the air on the wall, W/m²/K (estimate, no source).
const FILM_W_M2_K: f64 = 15.0;
/// Heat conductivity of the shaft's steel, W/m/K (handbook, from memory).
const STEEL_W_M_K: f64 = 45.0;

static PRESSED: Range = Range { what: "how far the stack presses the bearing", min: 0.0, max: 50.0, unit: "mm" };
static STIFFNESS: Range = Range { what: "cover's stiffness", min: 0.1, max: 1e6, unit: "N/mm" };
static WALL: Range = Range { what: "wall about the bearing", min: 0.5, max: 50.0, unit: "mm" };
static SHAFT: Range = Range { what: "shaft to the next heat sink", min: 1.0, max: 500.0, unit: "mm" };

/// What a plastic seat stands, and where that comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeatLimit {
    /// Its name among the joint materials.
    pub material: &'static str,
    /// Temperature at which it gives way under load.
    pub limit: Temperature,
    /// Source.
    pub source: &'static str,
}

const TABLE: &str =
    "deflection temperature under load; Encyclopedia of Physical Science and Technology, Plastics Engineering, table I";

/// Deflection temperatures of the plastics of gear covers.
pub static SEAT_LIMITS: [SeatLimit; 4] = [
    SeatLimit { material: "pa66", limit: Temperature::k(273.15 + 77.0), source: TABLE },
    SeatLimit { material: "pa66-gf30", limit: Temperature::k(273.15 + 249.0), source: TABLE },
    SeatLimit { material: "pom", limit: Temperature::k(273.15 + 110.0), source: TABLE },
    SeatLimit { material: "abs", limit: Temperature::k(273.15 + 90.0), source: "handbooks, from memory" },
];

/// What a seat of a material stands; none where it is no plastic of the table.
pub fn seat_limit(material: &str) -> Option<&'static SeatLimit> {
    SEAT_LIMITS.iter().find(|row| row.material == material)
}

/// Axial force of a stack that is longer than its room by 0 to 50 mm against a cover of 0.1 N/mm to 1 kN/µm.
pub fn press(too_long: Length, stiffness: LinearStiffness) -> Result<Force, OutOfRange> {
    Ok(Force::n(PRESSED.check(too_long.to_mm())? * STIFFNESS.check(stiffness.to_n_per_mm())?))
}

/// A pressed bearing in its seat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressed<'a> {
    /// The bearing.
    pub bearing: &'a Bearing,
    /// Axial force, 0 to 1 MN.
    pub force: Force,
    /// Mean speed over the run, 0.001 to 300 000 rpm.
    pub speed: AngularSpeed,
    /// Plastic about the bearing's outer ring, 0.5 to 50 mm thick.
    pub wall: Length,
    /// Shaft from the bearing to the next part that takes heat up, 1 to 500 mm.
    pub shaft: Length,
}

/// How a pressed bearing warms its seat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rub {
    /// Friction moment of the axial force alone.
    pub moment: Torque,
    /// Its heat, W.
    pub heat_w: f64,
    /// Conductance of wall and shaft to the air, W/K.
    pub conductance_w_k: f64,
    /// Steady rise of the seat over the air, K.
    pub rise_k: f64,
}

impl Pressed<'_> {
    /// Friction, heat and steady rise.
    ///
    /// M = mu F d/2, d the bore; P = M w; G = 1/(ln(Do/D)/(2 pi k B) + 1/(h pi Do B)) through a ring of plastic of the
    /// bearing's width with outer diameter Do = D + 2 wall, plus k_s (pi d²/4)/L along the shaft; rise = P/G. The grease's
    /// drag, which is there without pressing too, is left out; so are a motor that warms the shaft, and a hub that rubs
    /// on a shield or outer ring, which is far worse.
    pub fn rub(&self) -> Result<Rub, OutOfRange> {
        let force_n = LOAD.check(self.force.to_n())?;
        let speed_rad_s = AngularSpeed::rpm(SPEED.check(self.speed.to_rpm())?).to_rad_per_s();
        WALL.check(self.wall.to_mm())?;
        SHAFT.check(self.shaft.to_mm())?;
        let moment_n_m = FRICTION * force_n * self.bearing.bore.to_m() / 2.0;
        let heat_w = moment_n_m * speed_rad_s;
        let conductance_w_k = self.wall_w_k() + self.shaft_w_k();
        Ok(Rub { moment: Torque::n_m(moment_n_m), heat_w, conductance_w_k, rise_k: heat_w / conductance_w_k })
    }

    fn wall_w_k(&self) -> f64 {
        let (inner_m, width_m) = (self.bearing.outside.to_m(), self.bearing.width.to_m());
        let outer_m = inner_m + 2.0 * self.wall.to_m();
        let ring_k_w = (outer_m / inner_m).ln() / (2.0 * PI * WALL_W_M_K * width_m);
        let film_k_w = 1.0 / (FILM_W_M2_K * PI * outer_m * width_m);
        1.0 / (ring_k_w + film_k_w)
    }

    fn shaft_w_k(&self) -> f64 {
        STEEL_W_M_K * PI / 4.0 * self.bearing.bore.to_m().powi(2) / self.shaft.to_m()
    }
}
