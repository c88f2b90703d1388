//! Pair geometry against textbook examples and closed forms.

use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    Backlash, Engagement, Gear, GearError, Member, Pair, PairSpec, Rack, Tooth, UpperEnd, Window, WindowLimits,
    centre_distance_for_backlash, centre_distance_for_contact_ratio, lateral_shift, reference_centre_distance,
};
use toothsayer_quantity::{Angle, Length};

/// Half a unit of the fifth decimal.
const DECIMAL_5: f64 = 0.5e-5;
/// Half a unit of the third decimal.
const DECIMAL_3: f64 = 0.5e-3;
/// What bisection and the involute's inverse leave, in mm.
const SOLVED_MM: f64 = 1e-9;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn gear(teeth: u32, shift: f64) -> Gear {
    Gear { teeth, shift, thinning: Length::ZERO, tip_shortening: 0.0 }
}

/// Unit module gears at their reference centre distance.
fn spec(z1: u32, z2: u32, angle_deg: f64) -> PairSpec {
    let spec = PairSpec {
        module: Length::mm(1.0),
        pressure_angle: Angle::deg(angle_deg),
        rack: Rack::ISO_53_A,
        pinion: gear(z1, 0.0),
        spur: gear(z2, 0.0),
        centre_distance: Length::ZERO,
    };
    PairSpec { centre_distance: reference_centre_distance(&spec), ..spec }
}

fn opened(spec: PairSpec, by_mm: f64) -> PairSpec {
    PairSpec { centre_distance: spec.centre_distance + Length::mm(by_mm), ..spec }
}

/// A rack whose tool flank is straight to depth 1, as the textbook's undercut limit 2/sin^2 a supposes.
const SHARP: Rack = Rack { addendum: 1.0, dedendum: 1.0, root_radius: 0.0 };

/// The trade's gears of the invented truck, at the centre distance of the job file.
fn bench_pair() -> PairSpec {
    PairSpec { centre_distance: Length::mm(36.05), ..spec(19, 53, 20.0) }
}

// Shigley, equations 13-10 to 13-13; Norton, Machine Design, tables 12-4 and 12-5 (from memory).
#[test]
fn fewest_teeth_and_largest_mate_without_contact_inside_the_base_circle() {
    let reaches_inside = |z1, z2| {
        let pair = Pair::new(spec(z1, z2, 20.0)).unwrap();
        assert_eq!(
            pair.active_profile_start(Member::Pinion) < Length::ZERO,
            pair.tooth(Member::Spur).tip_radius() > pair.tip_radius_limit(Member::Spur)
        );
        pair.active_profile_start(Member::Pinion) < Length::ZERO
    };
    for (clear, short) in [((13, 13), (12, 12)), ((15, 45), (14, 42)), ((16, 64), (15, 60))] {
        assert!(!reaches_inside(clear.0, clear.1) && reaches_inside(short.0, short.1), "{clear:?} {short:?}");
    }
    for (z1, largest) in [(13, 16), (14, 26), (15, 45), (16, 101)] {
        assert!(!reaches_inside(z1, largest) && reaches_inside(z1, largest + 1), "{z1}");
    }
    assert!(!reaches_inside(17, 500));
}

// Juvinall and Marshek, Fundamentals of Machine Component Design, example 15.1 (from memory): pitch 6/in, 12/36 teeth.
#[test]
fn juvinalls_interfering_gear() {
    let gears = PairSpec { module: Length::inch(1.0 / 6.0), ..spec(12, 36, 20.0) };
    let pair = Pair::new(PairSpec { centre_distance: Length::inch(4.0), ..gears }).unwrap();
    check(pair.tip_radius_limit(Member::Spur).to_inch(), 3.1335, 0.5e-4);
    check(pair.tip_radius_limit(Member::Pinion).to_inch(), 1.6597, 0.5e-4);
    check(pair.tooth(Member::Spur).tip_radius().to_inch(), 3.167, DECIMAL_3);
    assert!(pair.interferes(Member::Pinion) && !pair.interferes(Member::Spur));
}

// z = 2/sin^2 a: 31.9, 17.1, 11.2 (handbooks, from memory), for a tool straight to one module.
#[test]
fn undercut_begins_at_the_handbook_tooth_counts() {
    for (angle_deg, undercut, free) in [(14.5, 31, 32), (20.0, 17, 18), (25.0, 11, 12)] {
        let undercuts = |teeth| {
            let gears = PairSpec { rack: SHARP, ..spec(teeth, 50, angle_deg) };
            Tooth::new(gears.tooth_spec(Member::Pinion)).unwrap().undercut()
        };
        assert!(undercuts(undercut) && !undercuts(free), "{angle_deg} deg");
    }
}

// x = 1 - z sin^2(20)/2, own calculation.
#[test]
fn shift_that_just_avoids_undercut() {
    for (teeth, expected) in [(8, 0.53209), (10, 0.41511), (12, 0.29813), (14, 0.18116), (16, 0.06418)] {
        let at = |shift| {
            let gears = PairSpec { rack: SHARP, pinion: gear(teeth, shift), ..spec(teeth, 50, 20.0) };
            Tooth::new(gears.tooth_spec(Member::Pinion)).unwrap()
        };
        check(at(expected).least_shift_without_undercut(), expected, DECIMAL_5);
        assert!(at(expected - 2e-5).undercut() && !at(expected + 2e-5).undercut(), "{teeth} teeth");
    }
}

// Own calculation of the thickness formula; the limit 0.2 modules is a handbook's, from memory.
#[test]
fn tip_thickness_and_pointed_teeth() {
    for (teeth, shift, expected, pointed) in [
        (20, 0.0, 0.69488, false),
        (17, 0.0, 0.67408, false),
        (12, 0.0, 0.62090, false),
        (12, 0.3, 0.43574, false),
        (10, 0.5, 0.19892, true),
        (8, 0.5, 0.07594, true),
        (11, 0.6, 0.15606, true),
    ] {
        let gears = PairSpec { pinion: gear(teeth, shift), ..spec(teeth, 50, 20.0) };
        let tooth = Tooth::new(gears.tooth_spec(Member::Pinion)).unwrap();
        check(tooth.tip_thickness().to_mm(), expected, DECIMAL_5);
        assert_eq!(tooth.pointed(), pointed, "{teeth} {shift}");
    }
    let twenty = Tooth::new(spec(20, 50, 20.0).tooth_spec(Member::Pinion)).unwrap();
    check(twenty.thickness_at(twenty.base_radius()).unwrap().to_mm(), 1.75618, DECIMAL_5);
    let off = twenty.thickness_at(Length::mm(11.1)).unwrap_err();
    assert_eq!(off.to_string(), "radius 11.1000 mm is off the involute, which runs from 9.3969 to 11.0000 mm");
}

// j = 2 tan(a) da (handbooks, from memory), the slope at the reference centre distance.
#[test]
fn backlash_grows_by_twice_the_tangent() {
    const STEP_MM: f64 = 1e-5;
    for (angle_deg, slope) in [(14.5, 0.517235), (20.0, 0.727940), (25.0, 0.932615)] {
        let pair = Pair::new(opened(spec(24, 60, angle_deg), STEP_MM)).unwrap();
        check(pair.circumferential_backlash().to_mm() / STEP_MM, slope, 1e-5);
    }
}

// Closed form without inverse functions: at the reference centre distance two standard gears have no backlash, and
// thinning both by s opens jt = 2s, jn = 2s cos a.
#[test]
fn thinning_is_backlash_at_the_reference_centre_distance() {
    let thin = Gear { thinning: Length::mm(0.03), ..gear(19, 0.0) };
    let both = PairSpec { pinion: thin, spur: Gear { teeth: 53, ..thin }, ..spec(19, 53, 20.0) };
    let pair = Pair::new(both).unwrap();
    check(pair.circumferential_backlash().to_mm(), 0.06, 1e-12);
    check(pair.normal_backlash().to_mm(), 0.06 * 20f64.to_radians().cos(), 1e-12);
    check(Pair::new(spec(19, 53, 20.0)).unwrap().normal_backlash().to_mm(), 0.0, 1e-12);
}

// jt = p_w - s_w1 - s_w2 with each part computed by itself, against the product's closed form.
#[test]
fn backlash_is_pitch_less_both_thicknesses() {
    let shifted = PairSpec { pinion: gear(13, 0.4), spur: gear(46, 0.1), ..spec(13, 46, 20.0) };
    let pair = Pair::new(opened(shifted, 0.62)).unwrap();
    let working = |member| pair.working_radius(member);
    let thickness = |member| pair.tooth(member).thickness_at(working(member)).unwrap();
    let pitch = working(Member::Pinion) * (std::f64::consts::TAU / 13.0);
    let expected = pitch - thickness(Member::Pinion) - thickness(Member::Spur);
    check(pair.circumferential_backlash().to_mm(), expected.to_mm(), 1e-12);
}

#[test]
fn depths_and_clearances_add_up() {
    let pair = Pair::new(bench_pair()).unwrap();
    check(pair.working_depth().to_mm(), 10.5 + 27.5 - 36.05, 1e-12);
    check(pair.tip_clearance().to_mm(), 0.30, 1e-12);
    let longer = Gear { tip_shortening: 0.1, ..gear(53, 0.0) };
    let uneven = Pair::new(PairSpec { spur: longer, ..bench_pair() }).unwrap();
    check(uneven.tip_clearance_of(Member::Spur).to_mm(), 0.40, 1e-12);
    check(uneven.tip_clearance().to_mm(), 0.30, 1e-12);
    check(pair.ratio(), 53.0 / 19.0, 0.0);
}

#[test]
fn binding_teeth_are_refused_with_the_missing_backlash_or_told_as_found() {
    let tight = opened(spec(19, 53, 20.0), -0.1);
    let Err(Error::Gear(GearError::Binds { by_m, free_from_m, .. })) = Pair::new(tight) else { panic!("must bind") };
    check(free_from_m, 0.036, 1e-12);
    let found = Pair::measured(tight).unwrap();
    check(found.normal_backlash().to_m(), -by_m, 0.0);
    assert_eq!(found.engagement(), Engagement::Binds { by: Length::m(by_m) });
    let text = Pair::new(tight).unwrap_err().to_string();
    assert_eq!(
        text,
        "the teeth bind by 0.0677 mm of normal backlash at centre distance 35.9000 mm; they run free from 36.0000 mm on"
    );
}

#[test]
fn teeth_that_do_not_reach_are_refused_or_told_as_found() {
    for by_mm in [2.0, 2.5] {
        let wide = opened(spec(19, 53, 20.0), by_mm);
        assert!(matches!(Pair::new(wide), Err(Error::Gear(GearError::Apart { .. }))));
        assert_eq!(Pair::measured(wide).unwrap().engagement(), Engagement::Apart);
    }
    let low = Pair::new(opened(spec(19, 53, 20.0), 1.2)).unwrap();
    assert!(low.contact_ratio() < 1.0 && low.contact_ratio() > 0.0, "below 1 is reported, not clamped");
}

#[test]
fn axes_too_close_for_any_contact_are_an_error_also_as_found() {
    let impossible = PairSpec { centre_distance: Length::mm(33.8), ..spec(19, 53, 20.0) };
    let error = Pair::measured(impossible).unwrap_err();
    assert!(matches!(error, Error::Gear(GearError::ContactImpossible { .. })), "{error}");
}

#[test]
fn pointed_and_flankless_teeth_are_errors() {
    let pointed = PairSpec { pinion: gear(8, 0.8), ..spec(8, 50, 20.0) };
    assert!(matches!(Pair::measured(pointed), Err(Error::Gear(GearError::PointedTooth { teeth: 8, .. }))));
    let flat = PairSpec { rack: Rack { addendum: 0.3, ..Rack::ISO_53_A }, pinion: gear(6, -1.0), ..spec(6, 50, 20.0) };
    assert!(matches!(Pair::measured(flat), Err(Error::Gear(GearError::NoFlank { teeth: 6, .. }))));
}

#[test]
fn every_input_out_of_range_is_an_error_that_names_it() {
    let good = bench_pair();
    let nan = f64::NAN;
    let cases = [
        (PairSpec { module: Length::mm(nan), ..good }, "module"),
        (PairSpec { module: Length::ZERO, ..good }, "module"),
        (PairSpec { pressure_angle: Angle::deg(45.0), ..good }, "pressure angle"),
        (PairSpec { pinion: gear(4, 0.0), ..good }, "tooth count"),
        (PairSpec { spur: gear(501, 0.0), ..good }, "tooth count"),
        (PairSpec { pinion: gear(19, nan), ..good }, "profile shift coefficient"),
        (PairSpec { rack: Rack { root_radius: 0.9, ..Rack::ISO_53_A }, ..good }, "rack root radius"),
        (PairSpec { rack: Rack { dedendum: nan, ..Rack::ISO_53_A }, ..good }, "rack dedendum"),
        (PairSpec { rack: Rack { addendum: 0.0, ..Rack::ISO_53_A }, ..good }, "rack addendum"),
        (PairSpec { centre_distance: Length::mm(nan), ..good }, "centre distance"),
        (PairSpec { spur: Gear { thinning: Length::mm(nan), ..good.spur }, ..good }, "tooth thinning"),
        (PairSpec { spur: Gear { tip_shortening: 2.0, ..good.spur }, ..good }, "tip shortening"),
    ];
    for (bad, what) in cases {
        let Err(Error::Range(range)) = Pair::measured(bad) else { panic!("{what} must be out of range") };
        assert_eq!(range.what, what);
    }
}

#[test]
fn a_backlash_gives_back_its_centre_distance() {
    let shifted = PairSpec { pinion: gear(13, 0.4), spur: gear(46, 0.1), ..spec(13, 46, 20.0) };
    for gears in [bench_pair(), opened(shifted, 0.55)] {
        for step in 0..40 {
            let a = gears.centre_distance + Length::mm(0.02 * f64::from(step));
            let pair = Pair::measured(PairSpec { centre_distance: a, ..gears }).unwrap();
            for backlash in
                [Backlash::Normal(pair.normal_backlash()), Backlash::Circumferential(pair.circumferential_backlash())]
            {
                check(centre_distance_for_backlash(&gears, backlash).unwrap().to_mm(), a.to_mm(), SOLVED_MM);
                let shift = lateral_shift(&gears, backlash).unwrap();
                check(shift.to_mm(), 0.02 * f64::from(step), SOLVED_MM);
            }
        }
    }
}

#[test]
fn a_backlash_that_no_centre_distance_gives_is_an_error() {
    for backlash in [Backlash::Normal(Length::mm(-0.9)), Backlash::Circumferential(Length::mm(-0.9))] {
        // The least there is, -2 (rb1 + rb2) inv a, is -0.39 mm here.
        let error = centre_distance_for_backlash(&spec(19, 53, 14.5), backlash).unwrap_err();
        assert!(matches!(error, Error::Gear(GearError::ContactImpossible { .. })), "{error}");
    }
    assert!(centre_distance_for_backlash(&bench_pair(), Backlash::Normal(Length::mm(f64::NAN))).is_err());
}

#[test]
fn a_contact_ratio_gives_back_its_centre_distance() {
    let pair = Pair::new(opened(spec(13, 46, 20.0), 0.3)).unwrap();
    let a = centre_distance_for_contact_ratio(pair.spec(), pair.contact_ratio()).unwrap().unwrap();
    check(a.to_mm(), 29.8, SOLVED_MM);
    assert_eq!(centre_distance_for_contact_ratio(&spec(5, 5, 20.0), 2.4).unwrap(), None);
}

#[test]
fn the_window_keeps_backlash_and_contact_ratio() {
    let bench =
        WindowLimits { least_backlash: Length::mm(0.02), most_backlash: Length::mm(0.20), least_contact_ratio: 1.2 };
    let window = Window::new(&bench_pair(), bench).unwrap();
    let at = |a| Pair::measured(PairSpec { centre_distance: a, ..bench_pair() }).unwrap();
    check(at(window.low).normal_backlash().to_mm(), 0.02, SOLVED_MM);
    check(at(window.high).normal_backlash().to_mm(), 0.20, SOLVED_MM);
    assert_eq!((window.ended_by, window.is_empty()), (UpperEnd::Backlash, false));
    let loose = Window::new(&bench_pair(), WindowLimits { most_backlash: Length::mm(2.0), ..bench }).unwrap();
    assert_eq!(loose.ended_by, UpperEnd::ContactRatio);
    check(at(loose.high).contact_ratio(), 1.2, 1e-12);
    let unreachable = Window::new(&bench_pair(), WindowLimits { least_contact_ratio: 2.2, ..bench }).unwrap();
    assert!(unreachable.is_empty());
}

// Physics that must hold over the whole range: opening the axes lowers the contact ratio and raises the backlash.
#[test]
fn opening_the_axes_is_monotone_and_never_no_number() {
    for z1 in [8, 9, 13, 19, 40] {
        for (z2, angle_deg) in [(20, 14.5), (53, 20.0), (120, 25.0)] {
            for shift in [0.0, 0.25] {
                let gears = PairSpec { pinion: gear(z1, shift), ..spec(z1, z2, angle_deg) };
                let mut last: Option<Pair> = None;
                for step in 0..60 {
                    let pair = Pair::measured(opened(gears, -0.05 + 0.05 * f64::from(step))).unwrap();
                    let (eps, jn) = (pair.contact_ratio(), pair.normal_backlash());
                    assert!(eps.is_finite() && jn.to_m().is_finite());
                    if let Some(before) = last {
                        assert!(eps < before.contact_ratio() && jn > before.normal_backlash());
                        assert!(pair.circumferential_backlash() > before.circumferential_backlash());
                    }
                    last = Some(pair);
                }
            }
        }
    }
}
