//! Form and stress correction of the tooth root (ISO 6336-3, method B).

use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_6, PI};

use toothsayer_quantity::{Angle, Length};

use super::involute::inv_rad;
use super::{GearError, Member, Pair, Tooth, limits};
use crate::Error;

/// Where the load that bends the tooth most stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadPoint {
    /// At the tip: with a contact ratio of 1 or less a single tooth carries all the way out.
    Tip,
    /// At the outer point of single tooth contact.
    OuterSingleContact,
}

/// The root of one tooth under its worst load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothRoot {
    /// Form factor YF.
    pub form_factor: f64,
    /// Stress correction factor YS.
    pub stress_factor: f64,
    /// Chord between the 30 degree tangents, sFn.
    pub root_chord: Length,
    /// Bending lever hFe.
    pub bending_lever: Length,
    /// Fillet radius at the 30 degree tangent, rhoF.
    pub fillet_radius: Length,
    /// Notch parameter qs = sFn/(2 rhoF).
    pub notch: f64,
    /// Angle of the load at the tooth's centre line, alpha_Fe.
    pub load_angle: Angle,
    /// Where the load stands.
    pub load_point: LoadPoint,
}

/// The root of one gear of a pair, loaded at the outer point of single contact, at the tip when eps <= 1.
///
/// E = pi/4 m - hfP tan a - (1 - sin a) rhofP/cos a; G = (rhofP - hfP)/m + x; H = (2/z)(pi/2 - E/m) - pi/3;
/// theta = (2G/z) tan theta - H; sFn/m = z sin(pi/3 - theta) + sqrt3 (G/cos theta - rhofP/m);
/// rhoF/m = rhofP/m + 2G^2/(cos theta (z cos^2 theta - 2G));
/// de/2 = sqrt((sqrt(ra^2 - rb^2) - pi m cos a (eps - 1))^2 + rb^2); ae = arccos(db/de);
/// gamma = (pi/2 + 2 x tan a)/z + inv a - inv ae; aFe = ae - gamma;
/// hFe/m = ((cos gamma - sin gamma tan aFe) de/m - z cos(pi/3 - theta) - G/cos theta + rhofP/m)/2;
/// YF = 6 (hFe/m) cos aFe/((sFn/m)^2 cos a); YS = (1.2 + 0.13 L) qs^(1/(1.21 + 2.3/L)), L = sFn/hFe.
///
/// 2006 edition; the load distribution factor f_eps that the 2019 edition adds is 1 for spur pairs with eps < 2.
/// No protuberance (spr = 0). Thinning moves the flanks and not the root, so that it is not counted.
/// Valid for eps below 2.5 and 1 <= qs < 8; outside a range error.
pub fn tooth_root(pair: &Pair, member: Member) -> Result<ToothRoot, Error> {
    limits::STRENGTH_CONTACT_RATIO.check(pair.contact_ratio())?;
    let tooth = pair.tooth(member);
    let section = Section::new(tooth)?;
    let load_point = if pair.contact_ratio() > 1.0 { LoadPoint::OuterSingleContact } else { LoadPoint::Tip };
    let load = Load::new(tooth, load_radius(pair, tooth, load_point)?);
    let lever = section.lever(&load);
    let notch = limits::NOTCH.check(section.chord / (2.0 * section.fillet_radius))?;
    let slenderness = positive(section.chord / lever, tooth, "the load's line passes below the root chord")?;
    let form_factor = 6.0 * lever * load.angle_rad.cos() / (section.chord.powi(2) * tooth.alpha_rad.cos());
    let stress_factor = (1.2 + 0.13 * slenderness) * notch.powf(1.0 / (1.21 + 2.3 / slenderness));
    let m = tooth.module_m;
    Ok(ToothRoot {
        form_factor,
        stress_factor,
        root_chord: Length::m(section.chord * m),
        bending_lever: Length::m(lever * m),
        fillet_radius: Length::m(section.fillet_radius * m),
        notch,
        load_angle: Angle::rad(load.angle_rad),
        load_point,
    })
}

/// The critical section, in modules.
struct Section {
    z: f64,
    g: f64,
    theta_rad: f64,
    tool_radius: f64,
    chord: f64,
    fillet_radius: f64,
}

impl Section {
    fn new(tooth: &Tooth) -> Result<Self, GearError> {
        let (z, rack) = (tooth.z(), tooth.spec().rack);
        let tool_radius = rack.root_radius;
        let g = tool_radius - rack.dedendum + tooth.spec().gear.shift;
        let h = 2.0 / z * (FRAC_PI_2 - rack.fillet_centre(tooth.alpha_rad)) - FRAC_PI_3;
        let theta_rad = tangent_angle(2.0 * g / z, h);
        let inside = (0.0..FRAC_PI_2).contains(&theta_rad);
        let cos = positive(if inside { theta_rad.cos() } else { -1.0 }, tooth, "theta leaves 0 to 90 deg")?;
        let chord = z * (FRAC_PI_3 - theta_rad).sin() + 3f64.sqrt() * (g / cos - tool_radius);
        let slope = positive(z * cos * cos - 2.0 * g, tooth, "z cos^2 theta does not exceed 2G")?;
        positive(chord, tooth, "the root chord vanishes")?;
        Ok(Self { z, g, theta_rad, tool_radius, chord, fillet_radius: tool_radius + 2.0 * g * g / (cos * slope) })
    }

    fn lever(&self, load: &Load) -> f64 {
        let reach = (load.gamma_rad.cos() - load.gamma_rad.sin() * load.angle_rad.tan()) * load.diameter;
        0.5 * (reach - self.z * (FRAC_PI_3 - self.theta_rad).cos() - self.g / self.theta_rad.cos() + self.tool_radius)
    }
}

/// The load's place: diameter in modules, its angle and that of the tooth's half there.
struct Load {
    diameter: f64,
    gamma_rad: f64,
    angle_rad: f64,
}

impl Load {
    fn new(tooth: &Tooth, radius_m: f64) -> Self {
        let (alpha, shift) = (tooth.alpha_rad, tooth.spec().gear.shift);
        let flank_rad = (tooth.base_m / radius_m).min(1.0).acos();
        let gamma_rad = (FRAC_PI_2 + 2.0 * shift * alpha.tan()) / tooth.z() + inv_rad(alpha) - inv_rad(flank_rad);
        Self { diameter: 2.0 * radius_m / tooth.module_m, gamma_rad, angle_rad: flank_rad - gamma_rad }
    }
}

fn load_radius(pair: &Pair, tooth: &Tooth, point: LoadPoint) -> Result<f64, GearError> {
    let line_m = match point {
        LoadPoint::Tip => return Ok(tooth.tip_m),
        LoadPoint::OuterSingleContact => {
            tooth.tip_line_m() - PI * tooth.module_m * tooth.alpha_rad.cos() * (pair.contact_ratio() - 1.0)
        }
    };
    positive(line_m, tooth, "the outer point of single contact lies inside the base circle")?;
    Ok(tooth.base_m.hypot(line_m))
}

/// theta = c tan theta - H by Newton's method from 30 deg; c < 1 makes the left side's surplus monotone.
fn tangent_angle(c: f64, h: f64) -> f64 {
    let mut theta = FRAC_PI_6;
    for _ in 0..40 {
        let tan = theta.tan();
        let step = (theta - c * tan + h) / (1.0 - c * (1.0 + tan * tan));
        theta -= step;
        if step.abs() < 1e-15 {
            break;
        }
    }
    theta
}

/// The value, or the reason why the construction does not close; also for what is no number.
fn positive(value: f64, tooth: &Tooth, why: &'static str) -> Result<f64, GearError> {
    if value > 0.0 && value.is_finite() {
        return Ok(value);
    }
    Err(GearError::NoRootTangent { teeth: tooth.teeth(), shift: tooth.spec().gear.shift, why })
}
