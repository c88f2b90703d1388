//! One gear's tooth: its circles, its thickness, whether it is pointed or undercut.

use std::f64::consts::PI;

use toothsayer_quantity::{Angle, Length};

use super::fillet::root_of;
use super::involute::inv_rad;
use super::{GearError, Rack, limits};
use crate::Error;

/// A tip narrower than this many modules is called pointed (handbook limit, from memory).
const POINTED_MODULES: f64 = 0.2;
/// Slack of the undercut condition, in modules of shift, so that a gear exactly at the limit is not called undercut.
const UNDERCUT_SLACK: f64 = 1e-6;

/// What one gear adds to the pair's module, pressure angle and rack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gear {
    /// Tooth count z, 5 to 500.
    pub teeth: u32,
    /// Profile shift coefficient x.
    pub shift: f64,
    /// Thinning As of the tooth at the reference circle, by wear or tolerance.
    pub thinning: Length,
    /// Tip shortening k, in modules.
    pub tip_shortening: f64,
}

/// One gear with all that its tooth follows from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothSpec {
    /// Module m (25.4 mm over the diametral pitch).
    pub module: Length,
    /// Pressure angle alpha of the rack.
    pub pressure_angle: Angle,
    /// Basic rack.
    pub rack: Rack,
    /// The gear.
    pub gear: Gear,
}

/// The tooth of one gear (ISO 21771, 4 and 5).
///
/// d = m z, db = d cos alpha, da = d + 2 m (haP* + x - k), df = d - 2 m (hfP* - x).
/// Thickness at radius r: s = 2 r (s_ref/(2 r_ref) + inv alpha - inv t), cos t = rb/r,
/// s_ref = m (pi/2 + 2 x tan alpha) - As.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tooth {
    pub(super) spec: ToothSpec,
    pub(super) module_m: f64,
    pub(super) alpha_rad: f64,
    pub(super) reference_m: f64,
    pub(super) base_m: f64,
    pub(super) tip_m: f64,
    pub(super) root_m: f64,
    pub(super) form_m: f64,
    /// Half of the tooth's angle at the base circle.
    pub(super) base_half_angle_rad: f64,
    pub(super) tip_thickness_m: f64,
}

impl Tooth {
    /// The tooth of a gear. Errors: a value out of its range, no involute flank (none outside the base
    /// circle, or none left by the fillet), flanks that meet inside the tip.
    pub fn new(spec: ToothSpec) -> Result<Self, Error> {
        check_ranges(&spec)?;
        let (m, alpha_rad) = (spec.module.to_m(), spec.pressure_angle.to_rad());
        let (gear, rack) = (spec.gear, spec.rack);
        let reference_m = 0.5 * m * f64::from(gear.teeth);
        let reference_thickness_m = m * (PI / 2.0 + 2.0 * gear.shift * alpha_rad.tan()) - gear.thinning.to_m();
        let mut tooth = Self {
            spec,
            module_m: m,
            alpha_rad,
            reference_m,
            base_m: reference_m * alpha_rad.cos(),
            tip_m: reference_m + m * (rack.addendum + gear.shift - gear.tip_shortening),
            root_m: reference_m - m * (rack.dedendum - gear.shift),
            form_m: 0.0,
            base_half_angle_rad: reference_thickness_m / (2.0 * reference_m) + inv_rad(alpha_rad),
            tip_thickness_m: 0.0,
        };
        tooth.check_flank()?;
        tooth.tip_thickness_m = tooth.thickness_m_at(tooth.tip_m);
        tooth.check_tip()?;
        tooth.form_m = root_of(&tooth).form.radius_m;
        tooth.check_form()?;
        Ok(tooth)
    }

    /// What the tooth was made from.
    pub fn spec(&self) -> &ToothSpec {
        &self.spec
    }
    /// Tooth count z.
    pub fn teeth(&self) -> u32 {
        self.spec.gear.teeth
    }
    /// Reference radius d/2.
    pub fn reference_radius(&self) -> Length {
        Length::m(self.reference_m)
    }
    /// Base radius db/2.
    pub fn base_radius(&self) -> Length {
        Length::m(self.base_m)
    }
    /// Tip radius da/2.
    pub fn tip_radius(&self) -> Length {
        Length::m(self.tip_m)
    }
    /// Root radius df/2.
    pub fn root_radius(&self) -> Length {
        Length::m(self.root_m)
    }
    /// Form radius: where the fillet ends and the involute begins, undercut counted.
    pub fn form_radius(&self) -> Length {
        Length::m(self.form_m)
    }
    /// Thickness along the arc of the tip circle.
    pub fn tip_thickness(&self) -> Length {
        Length::m(self.tip_thickness_m)
    }
    /// Thickness along the arc of the reference circle.
    pub fn reference_thickness(&self) -> Length {
        Length::m(self.thickness_m_at(self.reference_m))
    }
    /// Whether the tip is narrower than 0.2 modules.
    pub fn pointed(&self) -> bool {
        self.tip_thickness_m < POINTED_MODULES * self.module_m
    }
    /// Whether the tool undercuts the flank: x < hfP* - rhofP* (1 - sin alpha) - z sin^2(alpha)/2.
    pub fn undercut(&self) -> bool {
        self.spec.gear.shift < self.least_shift_without_undercut() - UNDERCUT_SLACK
    }
    /// The shift below which the tool undercuts: hfP* - rhofP* (1 - sin alpha) - z sin^2(alpha)/2.
    pub fn least_shift_without_undercut(&self) -> f64 {
        self.spec.rack.straight_depth(self.alpha_rad) - self.z() * self.alpha_rad.sin().powi(2) / 2.0
    }

    /// Thickness along the arc at a radius between base and tip circle; an error outside.
    pub fn thickness_at(&self, radius: Length) -> Result<Length, Error> {
        let radius_m = radius.to_m();
        if !(self.base_m..=self.tip_m).contains(&radius_m) {
            return Err(GearError::OffFlank { radius_m, from_m: self.base_m, to_m: self.tip_m }.into());
        }
        Ok(Length::m(self.thickness_m_at(radius_m)))
    }

    /// Half of the angle over the thickness at the reference circle (Table 10-1 of handbooks: 90 deg/z at x = 0).
    pub fn reference_half_angle(&self) -> Angle {
        Angle::rad(self.half_angle_at(self.reference_m))
    }
    /// Chordal thickness at the reference circle, d sin(half angle): what a tooth caliper reads.
    pub fn chordal_thickness(&self) -> Length {
        Length::m(2.0 * self.reference_m * self.half_angle_at(self.reference_m).sin())
    }
    /// Height of the tip above the reference chord: where the tooth caliper is set.
    pub fn chordal_addendum(&self) -> Length {
        Length::m(self.tip_m - self.reference_m * self.half_angle_at(self.reference_m).cos())
    }

    pub(super) fn z(&self) -> f64 {
        f64::from(self.spec.gear.teeth)
    }
    pub(super) fn thinning_m(&self) -> f64 {
        self.spec.gear.thinning.to_m()
    }
    /// Distance along the line of action from the base tangent point to the tip circle.
    pub(super) fn tip_line_m(&self) -> f64 {
        line_m(self.tip_m, self.base_m)
    }
    /// The same to the form circle.
    pub(super) fn form_line_m(&self) -> f64 {
        line_m(self.form_m, self.base_m)
    }
    pub(super) fn half_angle_at(&self, radius_m: f64) -> f64 {
        self.base_half_angle_rad - inv_rad((self.base_m / radius_m).min(1.0).acos())
    }
    fn thickness_m_at(&self, radius_m: f64) -> f64 {
        2.0 * radius_m * self.half_angle_at(radius_m)
    }

    fn check_flank(&self) -> Result<(), GearError> {
        let inner_m = self.base_m.max(self.root_m);
        if self.tip_m > inner_m && self.root_m > 0.0 {
            return Ok(());
        }
        let teeth = self.teeth();
        Err(GearError::NoFlank { teeth, tip_m: self.tip_m, base_m: self.base_m, root_m: self.root_m })
    }

    fn check_form(&self) -> Result<(), GearError> {
        if self.form_m < self.tip_m {
            return Ok(());
        }
        Err(GearError::FilletToTip { teeth: self.teeth(), form_m: self.form_m, tip_m: self.tip_m })
    }

    fn check_tip(&self) -> Result<(), GearError> {
        if self.tip_thickness_m >= 0.0 {
            return Ok(());
        }
        Err(GearError::PointedTooth { teeth: self.teeth(), tip_thickness_m: self.tip_thickness_m })
    }
}

/// sqrt(r^2 - rb^2), 0 inside the base circle.
pub(super) fn line_m(radius_m: f64, base_m: f64) -> f64 {
    ((radius_m - base_m) * (radius_m + base_m)).max(0.0).sqrt()
}

fn check_ranges(spec: &ToothSpec) -> Result<(), Error> {
    limits::MODULE_MM.check(spec.module.to_mm())?;
    limits::PRESSURE_ANGLE_DEG.check(spec.pressure_angle.to_deg())?;
    spec.rack.check()?;
    limits::TEETH.check(f64::from(spec.gear.teeth))?;
    limits::SHIFT.check(spec.gear.shift)?;
    limits::THINNING_MODULES.check(spec.gear.thinning / spec.module)?;
    limits::TIP_SHORTENING.check(spec.gear.tip_shortening)?;
    Ok(())
}
