//! Gear bays are true to scale: read back and measured.

use crate::builds::{bay_of, examples, extremes, stages};
use crate::read::{by_id, corners, find, number, px_per_mm};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use roxmltree::{Document, Node};
use toothsayer_figures::{self as figures, Frame, Look};
use toothsayer_mechanics::gear::{Engagement, Member};
use toothsayer_quantity::{Length, System};
use toothsayer_verdict::{Bay, Loaded, Memo, Staged, windows};

/// How far a drawing may be off, mm: what a caliper reads.
const DRAWN_MM: f64 = 0.01;
/// Area that two drawn gears in contact may share by their chords, mm²: 8 µm deep on a flank of a tooth's height.
const TOUCHING_MM2: f64 = 0.02;

#[track_caller]
fn check(what: &str, got_mm: f64, expected_mm: f64) {
    assert!((got_mm - expected_mm).abs() <= DRAWN_MM, "{what}: drawn {got_mm} mm, computed {expected_mm} mm");
}

fn everything() -> Vec<(String, Staged)> {
    let named = examples().into_iter().chain(extremes().into_iter().map(|(name, text)| (name.to_owned(), text)));
    named.flat_map(|(name, text)| stages(&text).into_iter().map(move |stage| (name.clone(), stage))).collect()
}

fn bay(stage: &Staged) -> Bay {
    Bay::new(&stage.sheet.build().unwrap(), stage.run_in).unwrap()
}

fn middle(circle: Node<'_, '_>) -> [f64; 2] {
    [number(circle, "cx"), number(circle, "cy")]
}

fn distance([x, y]: [f64; 2], [a, b]: [f64; 2]) -> f64 {
    (x - a).hypot(y - b)
}

#[test]
fn radii_and_centre_distance_are_to_scale() {
    for (name, stage) in everything() {
        let (bay, figure) = (bay(&stage), bay_of(&stage, 960.0));
        let document = Document::parse(&figure.svg).unwrap();
        let id = |part: &str| format!("gear-bay-{}-{part}", stage.state.name());
        let axes = ["pinion", "spur"].map(|gear| middle(by_id(&document, &id(&format!("{gear}-axis")))));
        for (member, gear, axis) in [(Member::Pinion, "pinion", axes[0]), (Member::Spur, "spur", axes[1])] {
            let outline = by_id(&document, &id(&format!("{gear}-outline")));
            let scale = px_per_mm(outline);
            let radii: Vec<f64> = corners(outline).iter().map(|corner| distance(*corner, axis) / scale).collect();
            let tooth = bay.pair.tooth(member);
            check(&name, radii.iter().copied().fold(0.0, f64::max), tooth.tip_radius().to_mm());
            check(&name, radii.iter().copied().fold(f64::MAX, f64::min), tooth.root_radius().to_mm());
        }
        let scale = px_per_mm(by_id(&document, &id("spur-outline")));
        check(&name, distance(axes[0], axes[1]) / scale, bay.pair.spec().centre_distance.to_mm());
    }
}

#[test]
fn overlap_and_gap_of_the_section_are_to_scale() {
    for (name, stage) in everything() {
        let build = stage.sheet.build().unwrap();
        let figure = bay_of(&stage, 960.0);
        let document = Document::parse(&figure.svg).unwrap();
        let id = |part: &str| format!("gear-bay-{}-{part}", stage.state.name());
        let ends = |part: &str| {
            let rect = by_id(&document, &id(part));
            let (x, width, scale) = (number(rect, "x"), number(rect, "width"), px_per_mm(rect));
            [x / scale, (x + width) / scale]
        };
        let (pinion, spur) = (ends("section-face"), ends("section-spur"));
        let overlap = (pinion[1].min(spur[1]) - pinion[0].max(spur[0])).max(0.0);
        check(&name, overlap, build.stack.overlap.max(Length::ZERO).to_mm());
        let bearing = by_id(&document, &id("section-bearing"));
        let race = bearing.children().find(|child| child.has_tag_name("rect")).unwrap();
        let gap = number(race, "x") / px_per_mm(race) - ends("section-pinion")[1];
        check(&name, gap, build.stack.gap.to_mm());
    }
}

/// Where a line through `from` along `way` leaves or enters a polygon, by the distance from `from`, px.
fn crossings(polygon: &[[f64; 2]], from: [f64; 2], way: [f64; 2]) -> Vec<f64> {
    let off = |[x, y]: [f64; 2]| (x - from[0]) * way[1] - (y - from[1]) * way[0];
    let along = |[x, y]: [f64; 2]| (x - from[0]) * way[0] + (y - from[1]) * way[1];
    let next = polygon.iter().cycle().skip(1);
    let cut = polygon.iter().zip(next).filter_map(|(a, b)| {
        let (one, other) = (off(*a), off(*b));
        (one.signum() != other.signum()).then(|| along(*a) + (along(*b) - along(*a)) * one / (one - other))
    });
    cut.collect()
}

#[test]
fn the_gap_between_the_drawn_flanks_is_the_backlash() {
    for (name, stage) in everything() {
        let bay = bay(&stage);
        if bay.pair.engagement() != Engagement::Runs {
            continue;
        }
        let figure = bay_of(&stage, 960.0);
        let document = Document::parse(&figure.svg).unwrap();
        let id = |part: &str| format!("gear-bay-{}-{part}", stage.state.name());
        let lens = by_id(&document, &id("lens"));
        let teeth: Vec<Vec<[f64; 2]>> =
            lens.children().filter(|child| child.has_tag_name("path")).take(2).map(corners).collect();
        let scale = number(lens, "data-px-per-mm");
        let mark = corners(by_id(&document, &id("gap")));
        let length = distance(mark[0], mark[1]);
        check(&name, length / scale, bay.pair.normal_backlash().to_mm());
        let way = [(mark[1][0] - mark[0][0]) / length, (mark[1][1] - mark[0][1]) / length];
        let nearest = |polygon: &[[f64; 2]], to: f64| {
            crossings(polygon, mark[0], way).into_iter().map(|s| (s - to).abs()).fold(f64::MAX, f64::min) / scale
        };
        // The spur is drawn first; the mark leads from the pinion's flank to the spur's.
        check(&name, nearest(&teeth[1], 0.0), 0.0);
        check(&name, nearest(&teeth[0], length), 0.0);
    }
}

#[test]
fn teeth_that_run_do_not_cut_into_each_other_and_teeth_that_bind_do() {
    for (name, stage) in everything() {
        let bay = bay(&stage);
        let figure = bay_of(&stage, 960.0);
        let document = Document::parse(&figure.svg).unwrap();
        let polygons = ["pinion", "spur"].map(|gear| {
            let outline = by_id(&document, &format!("gear-bay-{}-{gear}-outline", stage.state.name()));
            let scale = px_per_mm(outline);
            corners(outline).into_iter().map(|[x, y]| [x / scale, y / scale]).collect::<Vec<[f64; 2]>>()
        });
        let [pinion, spur] = &polygons;
        let shared = pinion.overlay(spur, OverlayRule::Intersect, FillRule::NonZero);
        let shared: f64 = shared.iter().flatten().map(|contour| area(contour)).sum();
        let binds = matches!(bay.pair.engagement(), Engagement::Binds { .. });
        assert_eq!(shared.abs() > TOUCHING_MM2, binds, "{name}, {}: {shared} mm² shared", stage.state.name());
    }
}

#[test]
fn teeth_do_not_cut_into_each_other_at_any_moment_of_the_cycle() {
    for (name, stage) in everything() {
        let bay = bay(&stage);
        if matches!(bay.pair.engagement(), Engagement::Binds { .. }) {
            continue;
        }
        let figure = figures::mesh_cycle(&name, &stage, &frame()).unwrap();
        let document = Document::parse(&figure.svg).unwrap();
        let moments: Vec<_> = (1..).map_while(|place| find(&document, &format!("mesh-cycle-moment-{place}"))).collect();
        assert!(!moments.is_empty(), "{name}");
        for moment in moments {
            let scale = px_per_mm(moment);
            let teeth: Vec<Vec<[f64; 2]>> = moment
                .children()
                .filter(|child| child.has_tag_name("path"))
                .take(2)
                .map(|path| corners(path).into_iter().map(|[x, y]| [x / scale, y / scale]).collect())
                .collect();
            let shared = teeth[0].overlay(&teeth[1], OverlayRule::Intersect, FillRule::NonZero);
            let shared: f64 = shared.iter().flatten().map(|contour| area(contour)).sum();
            assert!(shared.abs() < TOUCHING_MM2, "{name}: {shared} mm² shared");
        }
    }
}

#[test]
fn screws_are_as_long_and_as_deep_as_the_file_says() {
    for (name, text) in extremes().into_iter().map(|(name, text)| (name.to_owned(), text)).chain(examples()) {
        for stage in stages(&text) {
            let loaded = Loaded::new(&stage.sheet, stage.run_in, &Memo::default()).unwrap();
            let windows = windows(&loaded).unwrap();
            let figure = figures::screw_map(&name, stage.state, &loaded, &windows, &frame()).unwrap();
            let document = Document::parse(&figure.svg).unwrap();
            let stems: Vec<_> = document
                .descendants()
                .filter(|node| node.attribute("id").is_some_and(|id| id.starts_with("screws-stem-")))
                .collect();
            assert_eq!(stems.len(), loaded.build.joints.len(), "{name}");
            for (stem, joint) in stems.into_iter().zip(&loaded.build.joints) {
                check(&name, number(stem, "width") / px_per_mm(stem), joint.length.to_mm());
            }
        }
    }
}

fn frame() -> Frame {
    Frame::new(700.0, Look::Print, System::Metric).unwrap()
}

fn area(contour: &[[f64; 2]]) -> f64 {
    let next = contour.iter().cycle().skip(1);
    contour.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

#[test]
fn extreme_builds_say_what_is_wrong() {
    for (name, words) in [
        ("set too close", "The mesh binds by"),
        ("no spacer", "none fitted"),
        ("pinion presses the bearing", "The pinion presses the cover's bearing by 0.8 mm"),
        ("pinion far from the bearing", "The pinion can wander by 3.3 mm."),
    ] {
        let (_, text) = extremes().into_iter().find(|(other, _)| *other == name).unwrap();
        let figure = bay_of(&stages(&text)[0], 700.0);
        let document = Document::parse(&figure.svg).unwrap();
        let told: Vec<&str> =
            document.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
        assert!(told.join(" ").replace('\n', "").contains(words), "{name}: {told:?}");
        assert!(find(&document, "gear-bay-title").is_some());
    }
}
