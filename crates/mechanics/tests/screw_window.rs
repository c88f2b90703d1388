//! Tightening windows: their ends, what opens an empty one, and the bench's words for tight.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test's helper fails by panicking")]

mod screw_fixture;

use screw_fixture::{Case, check};
use toothsayer_mechanics::screw::{
    Friction, Joint, JointParameters, Remedy, StrengthEnd, Tightness, TorqueVerdict, Weakest, Window,
};
use toothsayer_quantity::{Force, Length, Torque};

/// Doubles over a handful of operations, relative.
const ROUNDING: f64 = 1e-12;
const NEEDED: Force = Force::n(300.0);

const PLASTIC: Case = Case {
    size: "M4",
    class: "8.8",
    length_mm: 10.0,
    clamped_mm: 4.0,
    hole_mm: 12.0,
    washer: false,
    boss: "pa66-gf30",
    part: "pa66-gf30",
};

fn window(case: &Case) -> Window {
    case.joint().window(NEEDED).unwrap()
}

fn width_n_m(case: &Case) -> f64 {
    (window(case).high - window(case).low).to_n_m()
}

#[test]
fn the_ends_clamp_enough_at_high_friction_and_strip_nothing_at_low() {
    let (joint, window) = (PLASTIC.joint(), window(&PLASTIC));
    assert!(window.is_open() && window.openings.is_empty());
    check(joint.preload(window.low, Friction::HIGH).unwrap() / NEEDED, 1.0, ROUNDING);
    let (weakest, force) = joint.capacities(StrengthEnd::Weak).least();
    assert_eq!(weakest, window.limited_by);
    check(joint.preload(window.high, Friction::LOW).unwrap() / force, 0.9, ROUNDING);
    check(joint.preload(window.low_if_dry, Friction::DRY).unwrap() / NEEDED, 1.0, ROUNDING);
    assert!(window.low_if_dry > window.low);
    check((window.middle() - window.low) / (window.high - window.low), 0.5, ROUNDING);
}

// Guides for plastic bosses: assembly at no more than 70 % of the torque that fails the joint.
#[test]
fn on_plastic_the_upper_end_keeps_the_boss_guides_distance() {
    for boss in ["pa66", "pa66-gf30"] {
        for part in ["pa66", "pa66-gf30", "aluminium"] {
            for washer in [false, true] {
                let case = Case { boss, part, washer, ..PLASTIC };
                let share = window(&case).high / case.joint().torque_to_strip();
                assert!(share < 0.7 && share > 0.2, "{case:?}: {share}");
            }
        }
    }
}

// Common practice, no source.
#[test]
fn a_washer_with_a_correspondingly_longer_screw_widens_the_window_on_plastic() {
    for size in ["M3", "M4", "M5"] {
        for boss in ["aluminium", "pa66-gf30"] {
            let plain = Case { size, boss, ..PLASTIC };
            let with = Case { washer: true, length_mm: plain.length_mm + 2.0, ..plain };
            assert_eq!(window(&plain).limited_by, Weakest::Head, "{size}");
            assert!(width_n_m(&with) > 1.2 * width_n_m(&plain), "{size} in {boss}: {}", width_n_m(&with));
        }
    }
}

// Common practice, no source.
#[test]
fn a_washer_without_a_longer_screw_loses_thread() {
    let plain = Case { length_mm: 7.0, boss: "pa66", ..PLASTIC };
    let with = Case { washer: true, ..plain };
    let thread_n = |case: &Case| case.joint().capacities(StrengthEnd::Nominal).thread.to_n();
    check(thread_n(&with) / thread_n(&plain), (3.0 - 0.8) / 3.0, ROUNDING * 10.0);
    assert_eq!(window(&with).limited_by, Weakest::Thread);
    assert!(width_n_m(&with) < width_n_m(&plain));
}

#[test]
fn an_empty_window_names_what_opens_it() {
    let case = Case { length_mm: 7.0, boss: "pa66", ..PLASTIC };
    let worn = JointParameters { removals: 8, ..case.parameters() };
    let window = Joint::new(worn).unwrap().window(Force::n(900.0)).unwrap();
    assert!(!window.is_open());
    assert_eq!(window.limited_by, Weakest::Thread);
    let opens = |remedy| window.openings.iter().find(|opening| opening.remedy == remedy).map(|o| (o.opens, o.length));
    assert_eq!(opens(Remedy::Washer), Some((false, Length::mm(7.0))));
    assert_eq!(opens(Remedy::ScrewLength), Some((true, Length::mm(16.0))));
    assert_eq!(opens(Remedy::WasherAndScrewLength), Some((true, Length::mm(16.0))));
    assert_eq!(opens(Remedy::Insert), Some((true, Length::mm(16.0))));
    assert!(opens(Remedy::NewPart).is_some());
}

#[test]
fn every_remedy_is_the_changed_joints_own_window() {
    let case = Case { length_mm: 30.0, ..PLASTIC };
    let window = case.joint().window(NEEDED).unwrap();
    assert_eq!(window.limited_by, Weakest::Bottoms);
    assert_eq!(window.high, Torque::ZERO);
    assert!(!window.openings.is_empty());
    for opening in &window.openings {
        let washer = matches!(opening.remedy, Remedy::Washer | Remedy::WasherAndScrewLength);
        if opening.remedy == Remedy::Insert {
            continue;
        }
        let changed = Case { washer, length_mm: opening.length.to_mm(), ..case }.joint().window(NEEDED).unwrap();
        assert_eq!((opening.low, opening.high, opening.opens), (changed.low, changed.high, changed.is_open()));
    }
}

#[test]
fn a_printed_torque_is_judged_against_the_window() {
    let window = window(&PLASTIC);
    for (torque, verdict) in [
        (window.low * 0.99, TorqueVerdict::Below),
        (window.low, TorqueVerdict::Within),
        (window.middle(), TorqueVerdict::Within),
        (window.high, TorqueVerdict::Within),
        (window.high * 1.01, TorqueVerdict::Above),
        (Torque::n_m(3.4), TorqueVerdict::Above),
    ] {
        assert_eq!(window.judge(torque), verdict, "{torque:?}");
    }
}

#[test]
fn the_window_narrows_with_the_needed_clamp_and_with_every_removal() {
    let mut before = f64::INFINITY;
    for needed_n in (0..=2000).step_by(50) {
        let window = PLASTIC.joint().window(Force::n(f64::from(needed_n))).unwrap();
        let width = (window.high - window.low).to_n_m();
        assert!(width < before, "{needed_n} N");
        before = width;
    }
    let thread_limited = Case { length_mm: 7.0, boss: "pa66", ..PLASTIC };
    let high = |removals| {
        let parameters = JointParameters { removals, ..thread_limited.parameters() };
        Joint::new(parameters).unwrap().window(NEEDED).unwrap().high
    };
    assert!((0..30).all(|removals| high(removals + 1) < high(removals)));
}

// Common practice, no source: loose 10 %, hand 50 (25 to 80) %, set 100 (70 to 130) % of the window's middle.
#[test]
fn the_benchs_words_stand_for_shares_of_the_middle() {
    let window = window(&PLASTIC);
    let rows = [(Tightness::Loose, 0.1, 0.1, 0.1), (Tightness::Hand, 0.5, 0.25, 0.8), (Tightness::Set, 1.0, 0.7, 1.3)];
    for (word, share, low, high) in rows {
        check(word.torque(&window) / window.middle(), share, ROUNDING);
        assert_eq!((word.share().low, word.share().high), (low, high));
        assert_eq!(Tightness::parse(word.name()), Some(word));
    }
    assert_eq!(Tightness::parse("tight"), None);
}
