//! Teeth worn past a point: the height that is left, against the pointed tooth's own condition.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::gear::{Gear, Rack, Tooth, ToothSpec, worn_tip_shortening};
use toothsayer_quantity::{Angle, Length};

/// The point keeps a billionth of a module, which leaves this much width at a tip of 20 to 70 degrees.
const POINT_MM: f64 = 1e-8;

fn spec(teeth: u32, shift: f64, thinning_mm: f64) -> ToothSpec {
    let gear = Gear { teeth, shift, thinning: Length::mm(thinning_mm), tip_shortening: 0.0 };
    ToothSpec { module: Length::mm(1.0), pressure_angle: Angle::deg(20.0), rack: Rack::ISO_53_A, gear }
}

fn shortened(spec: ToothSpec) -> Tooth {
    let tip_shortening = worn_tip_shortening(&spec).unwrap();
    Tooth::new(ToothSpec { gear: Gear { tip_shortening, ..spec.gear }, ..spec }).unwrap()
}

// The definition itself, no outside source: where the flanks meet the tooth has no width (ISO 21771, 5).
#[track_caller]
fn check(teeth: u32, shift: f64, thinning_mm: f64) {
    let tooth = shortened(spec(teeth, shift, thinning_mm));
    let left_mm = tooth.tip_thickness().to_mm();
    assert!((0.0..POINT_MM).contains(&left_mm), "z {teeth}, x {shift}, As {thinning_mm} mm: {left_mm} mm");
}

#[test]
fn a_worn_tooth_ends_where_its_flanks_meet() {
    for (teeth, shift) in [(19, 0.0), (53, 0.0), (13, 0.3), (100, -0.2)] {
        for thinning_mm in [1.0, 1.2, 1.4] {
            check(teeth, shift, thinning_mm);
        }
    }
}

#[test]
fn more_wear_leaves_a_lower_tooth() {
    let tips_mm = [0.85, 1.0, 1.2, 1.4].map(|thinning_mm| shortened(spec(19, 0.0, thinning_mm)).tip_radius().to_mm());
    assert!(tips_mm.windows(2).all(|pair| pair[1] < pair[0]), "{tips_mm:?}");
}

#[test]
fn a_tooth_with_some_width_keeps_its_height() {
    for thinning_mm in [0.0, 0.1, 0.5] {
        assert_eq!(worn_tip_shortening(&spec(19, 0.0, thinning_mm)).unwrap(), 0.0);
    }
}

#[test]
fn a_gear_that_is_pointed_when_new_is_still_refused() {
    let sharp = spec(7, 1.0, 0.2);
    assert_eq!(worn_tip_shortening(&sharp).unwrap(), 0.0);
    let refused = Tooth::new(sharp).unwrap_err().to_string();
    assert!(refused.contains("is pointed"), "{refused}");
}

#[test]
fn out_of_range_wear_is_refused() {
    for thinning_mm in [1.6, -0.5, f64::NAN] {
        assert!(worn_tip_shortening(&spec(19, 0.0, thinning_mm)).is_err(), "{thinning_mm}");
    }
    // s_ref = 1.571 - 0.364 - 1.5 mm: the flanks cross inside the base circle, and no tooth is left.
    let gone = worn_tip_shortening(&spec(19, -0.5, 1.5)).unwrap_err().to_string();
    assert!(gone.contains("19 teeth"), "{gone}");
}
