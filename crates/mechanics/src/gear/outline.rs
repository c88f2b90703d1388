//! The true outline of a gear: involute flanks, the rack's trochoid at the root, tip and root circles, as a polyline.

use std::f64::consts::TAU;

use toothsayer_quantity::Length;

use super::fillet::{Polar, Root, root_of};
use super::{Tooth, limits};
use crate::Error;

/// Halvings of one stretch of curve at most; 2^12 chords of a single flank are past any use.
const MOST_HALVINGS: u32 = 12;

/// A gear as a closed polyline about its axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Corners in m, counter-clockwise; tooth 0 stands on the x axis. The last joins the first.
    pub points_m: Vec<[f64; 2]>,
    /// Corners of each tooth, equal for all: tooth k begins at k times this, in the middle of a gap.
    pub points_per_tooth: usize,
}

impl Outline {
    /// The corners of one tooth from gap to gap.
    pub fn tooth_points_m(&self, tooth: usize) -> &[[f64; 2]] {
        let from = tooth * self.points_per_tooth;
        self.points_m.get(from..from + self.points_per_tooth).unwrap_or(&[])
    }

    /// The corners turned by an angle in rad and then moved along x, for drawing a pair.
    pub fn placed_m(&self, turn_rad: f64, along_x_m: f64) -> Vec<[f64; 2]> {
        let (sin, cos) = turn_rad.sin_cos();
        self.points_m.iter().map(|[x, y]| [along_x_m + x * cos - y * sin, x * sin + y * cos]).collect()
    }
}

/// The outline of a gear; every chord stays within `tolerance` of the true curve.
///
/// Root circle, trochoid of the rack's tip radius, involute, tip circle. Thinning widens the rack's tooth, so that
/// flank and fillet still join. Where the rack has no room for its radius its tooth ends in a point.
/// Valid for tolerances of 1e-9 to 0.2 modules.
pub fn outline(tooth: &Tooth, tolerance: Length) -> Result<Outline, Error> {
    limits::OUTLINE_TOLERANCE_MODULES.check(tolerance.to_m() / tooth.module_m)?;
    let half = half_tooth(tooth, tolerance.to_m());
    let mut points_m = Vec::with_capacity((2 * half.len() - 1) * tooth.teeth() as usize);
    for k in 0..tooth.teeth() {
        let middle_rad = TAU * f64::from(k) / tooth.z();
        points_m.extend(half.iter().map(|p| cartesian(p.radius_m, middle_rad - p.angle_rad)));
        // The far gap's middle opens the next tooth, the tip's middle is already there.
        points_m.extend(half[1..half.len() - 1].iter().rev().map(|p| cartesian(p.radius_m, middle_rad + p.angle_rad)));
    }
    let points_per_tooth = points_m.len() / tooth.teeth() as usize;
    Ok(Outline { points_m, points_per_tooth })
}

/// From the gap's middle to the tip's middle.
fn half_tooth(tooth: &Tooth, tolerance_m: f64) -> Vec<Polar> {
    let root = root_of(tooth);
    let mut points = Vec::new();
    root_bottom(tooth, &root, tolerance_m, &mut points);
    flatten(|lean_rad| root.arc.point(lean_rad), [root.lean_from_rad, root.lean_to_rad], tolerance_m, &mut points);
    let tip_rad = (tooth.base_m / tooth.tip_m).acos();
    let form_rad = (tooth.base_m / root.form.radius_m).min(1.0).acos();
    let involute = |roll: f64| {
        let radius_m = tooth.base_m * 1f64.hypot(roll);
        Polar { radius_m, angle_rad: tooth.base_half_angle_rad - (roll - roll.atan()) }
    };
    flatten(involute, [form_rad.tan(), tip_rad.tan()], tolerance_m, &mut points);
    let at_tip = |angle_rad| Polar { radius_m: tooth.tip_m, angle_rad };
    flatten(at_tip, [tooth.half_angle_at(tooth.tip_m), 0.0], tolerance_m, &mut points);
    points
}

/// The root circle from the gap's middle to the fillet, or the trochoid of the tool's point.
fn root_bottom(tooth: &Tooth, root: &Root, tolerance_m: f64, points: &mut Vec<Polar>) {
    if let Some(point) = root.point {
        flatten(|lean_rad| point.point(lean_rad), [0.0, root.lean_from_rad], tolerance_m, points);
    } else {
        let deepest = root.arc.point(0.0);
        let at_root = |angle_rad| Polar { radius_m: deepest.radius_m, angle_rad };
        let gap_rad = std::f64::consts::PI / tooth.z();
        flatten(at_root, [gap_rad, deepest.angle_rad], tolerance_m, points);
    }
}

/// Appends chords of a curve, halved until their quarter points lie within the tolerance; a point equal to the last
/// one is left out.
fn flatten(curve: impl Fn(f64) -> Polar, [from, to]: [f64; 2], tolerance_m: f64, points: &mut Vec<Polar>) {
    let start = curve(from);
    if points.last().is_none_or(|last| distance_m(*last, start) > 0.01 * tolerance_m) {
        points.push(start);
    }
    halve(&curve, [(from, start), (to, curve(to))], tolerance_m, MOST_HALVINGS, points);
}

fn halve(
    curve: &impl Fn(f64) -> Polar,
    [a, b]: [(f64, Polar); 2],
    tolerance_m: f64,
    halvings: u32,
    points: &mut Vec<Polar>,
) {
    let at = |share: f64| curve(a.0 + share * (b.0 - a.0));
    // Half the tolerance at three points leaves room for what lies between them.
    let flat = [0.25, 0.5, 0.75].iter().all(|share| off_chord_m(at(*share), a.1, b.1) <= 0.5 * tolerance_m);
    if flat || halvings == 0 {
        points.push(b.1);
        return;
    }
    let middle = (0.5 * (a.0 + b.0), at(0.5));
    halve(curve, [a, middle], tolerance_m, halvings - 1, points);
    halve(curve, [middle, b], tolerance_m, halvings - 1, points);
}

fn off_chord_m(p: Polar, a: Polar, b: Polar) -> f64 {
    let ([px, py], [ax, ay], [bx, by]) = (xy(p), xy(a), xy(b));
    let (dx, dy) = (bx - ax, by - ay);
    let length = dx.hypot(dy);
    if length == 0.0 { (px - ax).hypot(py - ay) } else { ((px - ax) * dy - (py - ay) * dx).abs() / length }
}

fn distance_m(a: Polar, b: Polar) -> f64 {
    let ([ax, ay], [bx, by]) = (xy(a), xy(b));
    (ax - bx).hypot(ay - by)
}

fn xy(p: Polar) -> [f64; 2] {
    cartesian(p.radius_m, p.angle_rad)
}

fn cartesian(radius_m: f64, angle_rad: f64) -> [f64; 2] {
    let (sin, cos) = angle_rad.sin_cos();
    [radius_m * cos, radius_m * sin]
}
