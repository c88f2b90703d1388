//! The root fillet that the tool's tip radius leaves: a trochoid, and the circle where the involute begins.
//!
//! Polar coordinates of a half tooth: radius, and angle from the tooth's centre line (0) to the gap's (pi/z).

use super::tooth::Tooth;

/// A point of the half tooth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Polar {
    pub radius_m: f64,
    pub angle_rad: f64,
}

/// A tool corner of radius `rho_m` whose centre lies `across_m` beside the tool tooth's middle and `up_m` above the
/// rolling line, rolling on the reference circle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corner {
    pub across_m: f64,
    pub up_m: f64,
    pub rho_m: f64,
    reference_m: f64,
    gap_angle_rad: f64,
}

impl Corner {
    /// The point that the corner cuts where its normal leans `lean_rad` from the vertical.
    ///
    /// The normal runs through the rolling point, so the tool has moved by s = -across - up tan(lean) and the gear has
    /// turned by s/r.
    pub fn point(&self, lean_rad: f64) -> Polar {
        let (sin, cos) = lean_rad.sin_cos();
        let tan = sin / cos;
        let turn_rad = -(self.across_m + self.up_m * tan) / self.reference_m;
        let x = -self.up_m * tan + self.rho_m * sin;
        let y = self.reference_m + self.up_m - self.rho_m * cos;
        Polar { radius_m: x.hypot(y), angle_rad: self.gap_angle_rad - (x.atan2(y) - turn_rad) }
    }
}

/// The parts of a root, from the middle of the gap outward.
#[derive(Clone, Copy, Debug)]
pub(super) struct Root {
    /// The tool's point, where it has no room for its radius; leans from 0 to `lean_from_rad`.
    pub point: Option<Corner>,
    /// The tool's tip radius; leans from `lean_from_rad` to `lean_to_rad`.
    pub arc: Corner,
    pub lean_from_rad: f64,
    pub lean_to_rad: f64,
    /// Where the involute begins.
    pub form: Polar,
}

/// The tool's tip for a tooth; thinning widens the tool's tooth by half of itself on each side.
pub(super) fn root_of(tooth: &Tooth) -> Root {
    let rounded = tool_corner(tooth);
    let flank_end_m = rounded.across_m + rounded.rho_m * tooth.alpha_rad.cos();
    let arc = if flank_end_m > 0.0 { rounded } else { sharp_tip(tooth, rounded) };
    let (point, lean_from_rad) = tool_point(&arc);
    let lean_end_rad = std::f64::consts::FRAC_PI_2 - tooth.alpha_rad;
    let lean_to_rad = if tooth.undercut() { crossing(tooth, &arc, lean_from_rad, lean_end_rad) } else { lean_end_rad };
    Root { point, arc, lean_from_rad, lean_to_rad, form: form_point(tooth, &arc, lean_to_rad) }
}

fn tool_corner(tooth: &Tooth) -> Corner {
    let rack = tooth.spec.rack;
    let m = tooth.module_m;
    Corner {
        across_m: m * rack.fillet_centre(tooth.alpha_rad) + tooth.thinning_m() / 2.0,
        up_m: m * (tooth.spec.gear.shift - rack.dedendum + rack.root_radius),
        rho_m: m * rack.root_radius,
        reference_m: tooth.reference_m,
        gap_angle_rad: std::f64::consts::PI / tooth.z(),
    }
}

/// Where even the straight flanks of the tool cross before its radius begins, the tool ends in their corner.
fn sharp_tip(tooth: &Tooth, rounded: Corner) -> Corner {
    let half_m = tooth.module_m * std::f64::consts::FRAC_PI_4 + tooth.thinning_m() / 2.0;
    let up_m = tooth.module_m * tooth.spec.gear.shift - half_m / tooth.alpha_rad.tan();
    Corner { across_m: 0.0, up_m, rho_m: 0.0, ..rounded }
}

/// Where the two tip radii cross each other before they reach full depth, the tool ends in a point.
fn tool_point(arc: &Corner) -> (Option<Corner>, f64) {
    if arc.across_m >= 0.0 {
        return (None, 0.0);
    }
    let lean_rad = (-arc.across_m / arc.rho_m).min(1.0).asin();
    let up_m = arc.up_m - arc.rho_m * lean_rad.cos();
    (Some(Corner { across_m: 0.0, up_m, rho_m: 0.0, ..*arc }), lean_rad)
}

/// Beginning of the involute: the tool's straight flank ends there, or the undercut does.
fn form_point(tooth: &Tooth, arc: &Corner, lean_to_rad: f64) -> Polar {
    let fillet_end = arc.point(lean_to_rad);
    let radius_m = fillet_end.radius_m.max(tooth.base_m);
    Polar { radius_m, angle_rad: tooth.half_angle_at(radius_m) }
}

/// The lean at which an undercutting fillet crosses the involute, searched from the tool's flank inward.
fn crossing(tooth: &Tooth, arc: &Corner, from_rad: f64, to_rad: f64) -> f64 {
    const STEPS: u32 = 96;
    let cuts = |lean_rad: f64| {
        let p = arc.point(lean_rad);
        p.angle_rad < tooth.half_angle_at(p.radius_m.max(tooth.base_m))
    };
    let at = |step: u32| to_rad + (from_rad - to_rad) * f64::from(step) / f64::from(STEPS);
    let Some(step) = (1..=STEPS).find(|step| cuts(at(*step))) else {
        return to_rad;
    };
    let (mut inside, mut outside) = (at(step), at(step - 1));
    for _ in 0..60 {
        let middle = 0.5 * (inside + outside);
        *(if cuts(middle) { &mut inside } else { &mut outside }) = middle;
    }
    outside
}
