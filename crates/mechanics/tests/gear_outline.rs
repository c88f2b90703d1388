//! The drawn outline against the formulas it was not made from.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use std::f64::consts::{PI, TAU};

use toothsayer_mechanics::gear::{
    Gear, LoadPoint, Member, Outline, Pair, PairSpec, Rack, Tooth, outline, reference_centre_distance, tooth_root,
};
use toothsayer_quantity::{Angle, Length};

/// Tolerance of a fine outline, m.
const FINE_M: f64 = 1e-9;
/// What a fine outline and a numeric search leave, m.
const DRAWN_M: f64 = 1e-8;
/// Backlash from polygons against the formula, m.
const GAP_M: f64 = 1e-6;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn gear(teeth: u32, shift: f64, thinning_mm: f64) -> Gear {
    Gear { teeth, shift, thinning: Length::mm(thinning_mm), tip_shortening: 0.0 }
}

fn spec(pinion: Gear, spur: Gear, open_mm: f64) -> PairSpec {
    let spec = PairSpec {
        module: Length::mm(1.0),
        pressure_angle: Angle::deg(20.0),
        rack: Rack::ISO_53_A,
        pinion,
        spur,
        centre_distance: Length::ZERO,
    };
    PairSpec { centre_distance: reference_centre_distance(&spec) + Length::mm(open_mm), ..spec }
}

/// Teeth of every kind: plain, shifted, worn, undercut, and a steep rack without room for its radius.
fn teeth() -> Vec<Tooth> {
    let plain = spec(gear(19, 0.0, 0.0), gear(53, 0.0, 0.0), 0.0);
    let steep = PairSpec { pressure_angle: Angle::deg(25.0), ..plain };
    let kinds = [
        (plain, gear(19, 0.0, 0.0)),
        (plain, gear(53, 0.0, 0.1)),
        (plain, gear(13, 0.4, 0.02)),
        (plain, gear(9, 0.0, 0.0)),
        (plain, gear(30, -0.6, 0.0)),
        (plain, gear(25, 1.0, 0.0)),
        (steep, gear(24, 0.0, 0.0)),
    ];
    kinds.map(|(pair, pinion)| Tooth::new(PairSpec { pinion, ..pair }.tooth_spec(Member::Pinion)).unwrap()).to_vec()
}

fn draw(tooth: &Tooth, tolerance_m: f64) -> Outline {
    outline(tooth, Length::m(tolerance_m)).unwrap()
}

/// Radius and angle of the corners of tooth 0, from its gap to its middle.
fn half(tooth: &Tooth) -> Vec<(f64, f64)> {
    let drawn = draw(tooth, FINE_M);
    let corners = drawn.tooth_points_m(0);
    corners[..=corners.len() / 2].iter().map(|[x, y]| (x.hypot(*y), -y.atan2(*x))).collect()
}

#[test]
fn the_outline_spans_root_to_tip_and_repeats_for_every_tooth() {
    for tooth in teeth() {
        let drawn = draw(&tooth, 1e-6);
        assert_eq!(drawn.points_m.len(), drawn.points_per_tooth * tooth.teeth() as usize);
        let radii: Vec<f64> = drawn.points_m.iter().map(|[x, y]| x.hypot(*y)).collect();
        check(radii.iter().copied().fold(0.0, f64::max), tooth.tip_radius().to_m(), 1e-12);
        let least = radii.iter().copied().fold(1.0, f64::min);
        // The steep rack's tool comes to a point before it reaches full depth.
        let shallow = if tooth.spec().pressure_angle == Angle::deg(25.0) { 0.05e-3 } else { 1e-12 };
        assert!((-1e-12..=shallow).contains(&(least - tooth.root_radius().to_m())), "{least}");
        let area = signed_area_m2(&drawn.points_m);
        assert!(area > PI * tooth.root_radius().to_m().powi(2), "counter-clockwise");
        for pair in drawn.points_m.windows(2) {
            assert!((pair[0][0] - pair[1][0]).hypot(pair[0][1] - pair[1][1]) > 0.0, "no corner twice");
        }
    }
}

fn signed_area_m2(points: &[[f64; 2]]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| 0.5 * (a[0] * b[1] - b[0] * a[1])).sum()
}

#[test]
fn the_drawn_thickness_is_the_computed_one_along_the_flank() {
    for tooth in teeth() {
        let corners = half(&tooth);
        let (from, to) = (tooth.form_radius().to_m(), tooth.tip_radius().to_m());
        for step in 1..20 {
            let radius = from + (to - from) * f64::from(step) / 20.0;
            let upper = corners.iter().rposition(|(r, _)| *r < radius).unwrap() + 1;
            let ((r0, a0), (r1, a1)) = (corners[upper - 1], corners[upper]);
            let angle = a0 + (radius - r0) / (r1 - r0) * (a1 - a0);
            let expected = tooth.thickness_at(Length::m(radius)).unwrap().to_m();
            check(2.0 * radius * angle, expected, DRAWN_M);
        }
    }
}

// Simpson's rule over the computed thickness, from the form circle outward, against the polygon's area there.
#[test]
fn the_drawn_area_outside_the_form_circle_is_the_integral_of_the_thickness() {
    for tooth in teeth() {
        let (from, to) = (tooth.form_radius().to_m(), tooth.tip_radius().to_m());
        let flank: Vec<(f64, f64)> = half(&tooth).into_iter().skip_while(|(r, _)| *r < from - 1e-12).collect();
        let first = flank.iter().rposition(|(r, _)| *r < from + 1e-12).unwrap_or(0);
        let swept: f64 = flank[first..].windows(2).map(|p| 0.5 * p[0].0 * p[1].0 * (p[0].1 - p[1].1).sin()).sum();
        let drawn = 2.0 * (swept - 0.5 * from * from * flank[first].1);
        const STRIPS: u32 = 4000;
        let width = (to - from) / f64::from(STRIPS);
        let thickness = |i: u32| {
            let radius = if i == STRIPS { to } else { from + f64::from(i) * width };
            tooth.thickness_at(Length::m(radius)).unwrap().to_m()
        };
        let weight = |i: u32| {
            if i == 0 || i == STRIPS {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            }
        };
        let integral: f64 = (0..=STRIPS).map(|i| weight(i) * thickness(i)).sum::<f64>() * width / 3.0;
        // A nanometre along two flanks of a few millimetres.
        check(drawn, integral, 2e-11);
    }
}

// ISO 6336-3 finds the chord where a line at 30 deg to the tooth's middle touches the fillet: so must the drawing.
#[test]
fn the_fillet_has_the_standards_critical_chord_and_radius() {
    for (teeth, shift) in [(17, 0.0), (19, 0.0), (53, 0.0), (13, 0.4), (100, 0.2)] {
        let pair = Pair::measured(spec(gear(teeth, shift, 0.0), gear(53, 0.0, 0.0), 2.0)).unwrap();
        let root = tooth_root(&pair, Member::Pinion).unwrap();
        assert_eq!(root.load_point, LoadPoint::Tip);
        let corners: Vec<[f64; 2]> =
            half(pair.tooth(Member::Pinion)).iter().map(|(r, a)| [r * a.cos(), r * a.sin()]).collect();
        // The tangent's lean grows from the gap to the flank; it is 30 deg where y + x tan 30 is smallest on the root.
        let (sin, cos) = 30f64.to_radians().sin_cos();
        let reach = |p: &[f64; 2]| p[1] * cos + p[0] * sin;
        let form_m = pair.tooth(Member::Pinion).form_radius().to_m();
        let fillet: Vec<[f64; 2]> = corners.into_iter().filter(|p| p[0].hypot(p[1]) < form_m).collect();
        let touch = (0..fillet.len()).min_by(|a, b| reach(&fillet[*a]).total_cmp(&reach(&fillet[*b]))).unwrap();
        check(2.0 * fillet[touch][1], root.root_chord.to_m(), 4e-6);
        let radius = circle_radius(fillet[touch - 6], fillet[touch], fillet[touch + 6]);
        check(radius / root.fillet_radius.to_m(), 1.0, 2e-2);
    }
}

fn circle_radius(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    let side = |p: [f64; 2], q: [f64; 2]| (p[0] - q[0]).hypot(p[1] - q[1]);
    let area = 0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])).abs();
    side(a, b) * side(b, c) * side(c, a) / (4.0 * area)
}

// Fillet and involute must meet, and meet as a tangent unless the tool undercuts.
#[test]
fn fillet_and_involute_join_without_a_step() {
    for tooth in teeth() {
        let corners = half(&tooth);
        let form = tooth.form_radius().to_m();
        let join = corners.iter().rposition(|(r, _)| *r <= form * (1.0 + 1e-12)).unwrap();
        let longest =
            corners.windows(2).map(|p| (p[1].0 - p[0].0).hypot(p[0].0 * (p[1].1 - p[0].1))).fold(0.0, f64::max);
        assert!(longest < 2e-4, "no chord jumps: {longest}");
        let turn = |i: usize| {
            let at = |k: usize| [corners[k].0 * corners[k].1.cos(), corners[k].0 * corners[k].1.sin()];
            let (a, b, c) = (at(i - 1), at(i), at(i + 1));
            let along = |p: [f64; 2], q: [f64; 2]| (q[1] - p[1]).atan2(q[0] - p[0]);
            (along(b, c) - along(a, b)).abs()
        };
        assert_eq!(turn(join) > 0.05, tooth.undercut(), "{} teeth turn by {}", tooth.teeth(), turn(join));
    }
}

#[test]
fn chords_stay_within_the_stated_tolerance() {
    for tooth in teeth() {
        let fine = draw(&tooth, FINE_M);
        for tolerance_m in [20e-6, 5e-6, 1e-6] {
            let coarse = draw(&tooth, tolerance_m);
            let line = &coarse.points_m[..=coarse.points_per_tooth];
            let middle = fine.tooth_points_m(0);
            let off = middle.iter().map(|p| distance_to_line(*p, line)).fold(0.0, f64::max);
            assert!(off <= tolerance_m, "{off} m with {} corners", line.len());
            assert!(line.len() < 200, "{} corners", line.len());
        }
    }
}

fn distance_to_line(p: [f64; 2], line: &[[f64; 2]]) -> f64 {
    line.windows(2).map(|s| distance_to_segment(p, s[0], s[1])).fold(f64::INFINITY, f64::min)
}

fn distance_to_segment(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let share = (((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
    (p[0] - a[0] - share * dx).hypot(p[1] - a[1] - share * dy)
}

// With a pinion tooth in the middle of a spur gap, each flank stands half the normal backlash off its mate.
#[test]
fn the_gap_between_drawn_flanks_is_the_normal_backlash() {
    let cases = [
        spec(gear(19, 0.0, 0.0), gear(53, 0.0, 0.0), 0.05),
        spec(gear(19, 0.0, 0.03), gear(53, 0.0, 0.05), 0.0),
        spec(gear(13, 0.4, 0.0), gear(46, 0.1, 0.02), 0.5),
        spec(gear(12, 0.0, 0.0), gear(36, 0.0, 0.0), 0.12),
        spec(gear(24, 0.0, 0.0), gear(60, 0.0, 0.0), 0.3),
    ];
    for case in cases {
        let pair = Pair::new(case).unwrap();
        let a = case.centre_distance.to_m();
        let near = |points: Vec<[f64; 2]>| -> Vec<[f64; 2]> {
            let pitch_m = pair.working_radius(Member::Pinion).to_m();
            points.into_iter().filter(|p| (p[0] - pitch_m).abs() < 2.6e-3 && p[1].abs() < 4.2e-3).collect()
        };
        let pinion = near(turned_to_x(draw(pair.tooth(Member::Pinion), 2e-8), 0.0, 0.0));
        let half_pitch = PI / f64::from(case.spur.teeth);
        let spur = near(turned_to_x(draw(pair.tooth(Member::Spur), 2e-8), PI + half_pitch, a));
        let gap = pinion.iter().map(|p| distance_to_line(*p, &spur)).fold(f64::INFINITY, f64::min);
        check(2.0 * gap, pair.normal_backlash().to_m(), GAP_M);
    }
}

/// The corners placed, beginning opposite of where the gears meet, so that the filtered part is one line.
fn turned_to_x(drawn: Outline, turn_rad: f64, along_x_m: f64) -> Vec<[f64; 2]> {
    let mut points = drawn.placed_m(turn_rad, along_x_m);
    let facing = if along_x_m > 0.0 { PI } else { 0.0 };
    let away = |p: &[f64; 2]| (p[1].atan2(p[0] - along_x_m) - facing).rem_euclid(TAU);
    points.sort_by(|a, b| (away(a) + PI).rem_euclid(TAU).total_cmp(&(away(b) + PI).rem_euclid(TAU)));
    points
}

#[test]
fn a_tolerance_without_sense_is_refused() {
    let tooth = teeth()[0];
    for tolerance_m in [0.0, f64::NAN, 1e-3] {
        assert!(outline(&tooth, Length::m(tolerance_m)).is_err());
    }
    assert_eq!(draw(&tooth, 1e-6).tooth_points_m(99).len(), 0);
}
