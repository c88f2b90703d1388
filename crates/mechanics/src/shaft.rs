//! The motor shaft under the tooth force: overhung, or propped by an outer support.

use crate::range::{OutOfRange, Range};
use std::f64::consts::PI;
use toothsayer_quantity::{Angle, Force, Length, LinearStiffness, Pressure, Torque};

/// Modulus of elasticity of the shaft's steel.
pub const SHAFT_MODULUS: Pressure = Pressure::gpa(206.0);

/// Stiffness of a bearing in a plastic seat, where none is measured (estimate, no source).
pub const PLASTIC_SEAT_STIFFNESS: LinearStiffness = LinearStiffness::n_per_mm(2000.0);

/// Notch factor at a set screw's pocket on a flat.
const POCKET_NOTCH_FACTOR: f64 = 2.0;

static DIAMETER: Range = Range { what: "shaft diameter", min: 1.0, max: 30.0, unit: "mm" };
static OVERHANG: Range = Range { what: "shaft overhang to mid-face", min: 0.5, max: 200.0, unit: "mm" };
static SUPPORT_DISTANCE: Range = Range { what: "distance to the outer support", min: 0.5, max: 300.0, unit: "mm" };
static SUPPORT_STIFFNESS: Range = Range { what: "outer support's stiffness", min: 1.0, max: 1e7, unit: "N/mm" };
static TOOTH_FORCE: Range = Range { what: "tooth force", min: 0.0, max: 1e6, unit: "N" };

/// Where the set screw presses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pocket {
    /// On a flat with a pocket: stress counts twice.
    OnFlat,
    /// Nothing cut into the shaft.
    None,
}

/// An outer bearing that the shaft leans on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OuterSupport {
    /// Motor's front bearing to the support, 0.5 to 300 mm; inside or outside of the load.
    pub distance: Length,
    /// Stiffness of bearing and seat, 1 N/mm to 10 kN/µm.
    pub stiffness: LinearStiffness,
}

/// A round shaft built in at the motor's front bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftParameters {
    /// Diameter, 1 to 30 mm.
    pub diameter: Length,
    /// Motor's front bearing to mid-face, 0.5 to 200 mm.
    pub overhang: Length,
    /// Outer support, if it does its work.
    pub support: Option<OuterSupport>,
    /// Set screw pocket.
    pub pocket: Pocket,
}

/// What a tooth force does to the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bending {
    /// Deflection at mid-face along the force.
    pub deflection: Length,
    /// Slope at mid-face, positive as of a free overhung shaft; a stiff support can turn it.
    pub slope: Angle,
    /// Force on the outer support, zero without one.
    pub support_reaction: Force,
    /// Moment at the motor's bearing, with its sign.
    pub fixed_end_moment: Torque,
    /// Moment at the inner of load and support, with its sign; zero without a support.
    pub span_moment: Torque,
    /// Bending stress of the larger moment, with the notch factor.
    pub stress: Pressure,
}

impl Bending {
    /// What the deflection opens the centre distance by: deflection times sin aw.
    pub fn centre_distance_opening(&self, working_pressure_angle: Angle) -> Length {
        self.deflection * working_pressure_angle.to_rad().sin()
    }
}

/// A shaft, checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shaft {
    parameters: ShaftParameters,
}

impl Shaft {
    /// Checks every number against its range.
    pub fn new(parameters: ShaftParameters) -> Result<Self, OutOfRange> {
        DIAMETER.check(parameters.diameter.to_mm())?;
        OVERHANG.check(parameters.overhang.to_mm())?;
        if let Some(support) = parameters.support {
            SUPPORT_DISTANCE.check(support.distance.to_mm())?;
            SUPPORT_STIFFNESS.check(support.stiffness.to_n_per_mm())?;
        }
        Ok(Self { parameters })
    }

    /// Deflection, slope, reaction, moments and stress under a tooth force of 0 to 1 MN at mid-face.
    ///
    /// Cantilever of length L with force F at L and, at D, a support of stiffness ks, by superposition:
    /// c_ij = a² (3 b - a)/(6 E I) with a, b the smaller and larger of i, j; R = F c_LD/(c_DD + 1/ks);
    /// y = F c_LL - R c_LD; slope = F L²/(2 E I) - R g, g = D²/(2 E I) for D <= L, (D L - L²/2)/(E I) else;
    /// M = F L - R D at the bearing and F (L - D) or -R (D - L) at the inner of support and load;
    /// sigma = kf |M|max/(π d³/32), kf = 2 with a pocket on a flat, else 1: as if the pocket sat at the
    /// largest moment. I = π d⁴/64, E = 206 GPa. Euler-Bernoulli beam (handbook formulas), shear left out.
    pub fn bend(&self, tooth_force: Force) -> Result<Bending, OutOfRange> {
        let force_n = TOOTH_FORCE.check(tooth_force.to_n())?;
        let unit = self.per_newton();
        let largest_n_mm = unit.fixed_end_mm.abs().max(unit.span_mm.abs()) * force_n;
        let section_mm3 = PI * self.parameters.diameter.to_mm().powi(3) / 32.0;
        let notch_factor = match self.parameters.pocket {
            Pocket::OnFlat => POCKET_NOTCH_FACTOR,
            Pocket::None => 1.0,
        };
        Ok(Bending {
            deflection: Length::mm(unit.deflection_mm * force_n),
            slope: Angle::rad(unit.slope_rad * force_n),
            support_reaction: Force::n(unit.reaction * force_n),
            fixed_end_moment: Torque::n_mm(unit.fixed_end_mm * force_n),
            span_moment: Torque::n_mm(unit.span_mm * force_n),
            stress: Pressure::mpa(notch_factor * largest_n_mm / section_mm3),
        })
    }

    /// Stiffness at mid-face, force over deflection, with the support.
    pub fn stiffness(&self) -> LinearStiffness {
        LinearStiffness::n_per_mm(1.0 / self.per_newton().deflection_mm)
    }

    fn per_newton(&self) -> PerNewton {
        let load_mm = self.parameters.overhang.to_mm();
        let bending_n_mm2 = SHAFT_MODULUS.to_mpa() * PI * self.parameters.diameter.to_mm().powi(4) / 64.0;
        let free = PerNewton {
            deflection_mm: influence_mm3(load_mm, load_mm) / bending_n_mm2,
            slope_rad: load_mm * load_mm / (2.0 * bending_n_mm2),
            reaction: 0.0,
            fixed_end_mm: load_mm,
            span_mm: 0.0,
        };
        self.parameters.support.map_or(free, |support| free.propped(support, load_mm, bending_n_mm2))
    }
}

/// Results of one newton.
#[derive(Clone, Copy)]
struct PerNewton {
    deflection_mm: f64,
    slope_rad: f64,
    reaction: f64,
    fixed_end_mm: f64,
    span_mm: f64,
}

impl PerNewton {
    fn propped(self, support: OuterSupport, load_mm: f64, bending_n_mm2: f64) -> Self {
        let support_mm = support.distance.to_mm();
        let cross_mm = influence_mm3(load_mm, support_mm) / bending_n_mm2;
        let own_mm = influence_mm3(support_mm, support_mm) / bending_n_mm2;
        let reaction = cross_mm / (own_mm + 1.0 / support.stiffness.to_n_per_mm());
        let outside = support_mm > load_mm;
        let slope_mm2 = if outside { support_mm * load_mm - load_mm * load_mm / 2.0 } else { support_mm.powi(2) / 2.0 };
        let span_mm = if outside { -reaction * (support_mm - load_mm) } else { load_mm - support_mm };
        Self {
            deflection_mm: self.deflection_mm - reaction * cross_mm,
            slope_rad: self.slope_rad - reaction * slope_mm2 / bending_n_mm2,
            reaction,
            fixed_end_mm: load_mm - reaction * support_mm,
            span_mm,
        }
    }
}

/// E I times the deflection of a cantilever at one place by a unit force at the other.
fn influence_mm3(at_mm: f64, by_mm: f64) -> f64 {
    let (inner_mm, outer_mm) = (at_mm.min(by_mm), at_mm.max(by_mm));
    inner_mm * inner_mm * (3.0 * outer_mm - inner_mm) / 6.0
}
