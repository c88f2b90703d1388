//! Measuring aids: tooth caliper, span, pins, which gear is this, which gears go together.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    Gear, GearError, GearReading, PitchOf, Rack, Span, SpanReading, TIP_READING_TOLERANCE, Tooth, ToothSpec, best_pin,
    check_same_pitch, identify, size_over_pins, span_measurement, teeth_to_span, thinning_from_pins,
    thinning_from_span,
};
use toothsayer_quantity::{Angle, Length};

/// Rounding in a closed formula and its inverse, mm.
const ROUND_TRIP_MM: f64 = 1e-10;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

fn tooth(module_mm: f64, gear: Gear) -> Tooth {
    let (module, pressure_angle) = (Length::mm(module_mm), Angle::deg(20.0));
    Tooth::new(ToothSpec { module, pressure_angle, rack: Rack::ISO_53_A, gear }).unwrap()
}

fn plain(teeth: u32, shift: f64) -> Gear {
    Gear { teeth, shift, thinning: Length::ZERO, tip_shortening: 0.0 }
}

#[test]
fn shift_and_thinning_change_the_span_by_their_own_term() {
    let span = |gear| span_measurement(&tooth(1.0, gear), 3).unwrap().length.to_mm();
    let sin = 20f64.to_radians().sin();
    check(span(plain(20, 0.2)) - span(plain(20, 0.0)), 2.0 * 0.2 * sin, 1e-12);
    let thin = Gear { thinning: Length::mm(0.05), ..plain(20, 0.0) };
    check(span(plain(20, 0.0)) - span(thin), 0.05 * 20f64.to_radians().cos(), 1e-12);
}

#[test]
fn wear_is_read_back_from_span_and_from_pins() {
    for teeth in [13, 18, 19, 53, 100] {
        for (shift, thinning_mm) in [(0.3, 0.0), (0.25, 0.04), (0.3, 0.12)] {
            let worn = tooth(1.0, Gear { thinning: Length::mm(thinning_mm), ..plain(teeth, shift) });
            let fresh = tooth(1.0, plain(teeth, shift));
            let span = span_measurement(&worn, teeth_to_span(&fresh)).unwrap();
            check(thinning_from_span(&fresh, span).unwrap().to_mm(), thinning_mm, ROUND_TRIP_MM);
            let pin = best_pin(&fresh).unwrap();
            let size = size_over_pins(&worn, pin).unwrap();
            check(thinning_from_pins(&fresh, pin, size).unwrap().to_mm(), thinning_mm, ROUND_TRIP_MM);
        }
    }
}

// Closed form without an inverse: touching at the reference circle, the pin of an even gear without shift has its
// centre at the pressure angle alpha + 90 deg/z.
#[test]
fn best_pin_centres_on_the_gap_at_the_reference_angle_plus_a_quarter_pitch() {
    for teeth in [18, 24, 60] {
        let tooth = tooth(1.0, plain(teeth, 0.0));
        let (z, alpha) = (f64::from(teeth), 20f64.to_radians());
        let phi = alpha + std::f64::consts::FRAC_PI_2 / z;
        let pin_mm = z * alpha.cos() * (phi.tan() - alpha.tan());
        let pin = best_pin(&tooth).unwrap();
        check(pin.to_mm(), pin_mm, ROUND_TRIP_MM);
        let size_mm = z * alpha.cos() / phi.cos() + pin_mm;
        check(size_over_pins(&tooth, pin).unwrap().to_mm(), size_mm, ROUND_TRIP_MM);
    }
}

#[test]
fn tools_that_touch_off_the_flank_are_refused() {
    let nineteen = tooth(1.0, plain(19, 0.0));
    assert!(matches!(span_measurement(&nineteen, 6), Err(Error::Gear(GearError::OffFlank { .. }))));
    assert!(matches!(size_over_pins(&nineteen, Length::mm(4.0)), Err(Error::Gear(GearError::OffFlank { .. }))));
    assert!(matches!(size_over_pins(&nineteen, Length::mm(1.3)), Err(Error::Gear(GearError::PinTooSmall { .. }))));
    assert!(size_over_pins(&nineteen, Length::mm(f64::NAN)).is_err());
    assert!(thinning_from_pins(&nineteen, Length::mm(1.7), Length::mm(5.0)).is_err());
    let tiny = Span { teeth: 3, length: Length::mm(f64::NAN) };
    assert!(thinning_from_span(&nineteen, tiny).is_err());
}

fn reading(teeth: u32, tip_mm: f64) -> GearReading {
    GearReading { teeth, tip_diameter: Length::mm(tip_mm), span: None, tolerance: TIP_READING_TOLERANCE }
}

#[test]
fn each_pitch_of_the_trade_is_named_from_its_own_tip_diameter() {
    let all = identify(&reading(30, 20.0)).unwrap();
    assert_eq!(all.len(), 11);
    for expected in &all {
        let found = identify(&reading(30, expected.tip_diameter.to_mm())).unwrap();
        assert_eq!(found[0].module, expected.module);
        check(found[0].error, 0.0, 1e-12);
        assert!(found[0].fits);
        assert!(found.windows(2).all(|pair| pair[0].error.abs() <= pair[1].error.abs()));
    }
}

#[test]
fn the_error_is_relative_to_the_reading() {
    let found = identify(&reading(19, 21.0)).unwrap();
    check(found[0].module.to_mm(), 1.0, 0.0);
    check(found[0].error, 0.0, 1e-12);
    assert_eq!((found[0].diametral_pitch, found[1].diametral_pitch), (None, Some(24.0)));
    check(found[1].error, (21.0 * 25.4 / 24.0 - 21.0) / 21.0, 1e-12);
    assert!(!found[0].not_told_apart && !found[1].fits);
}

// 32 per inch is module 0.79375: on a 19-tooth gear the tips differ by 0.13 mm, on a 60-tooth gear by 0.39 mm.
#[test]
fn neighbours_that_a_caliper_cannot_tell_apart_are_said() {
    let close = identify(&reading(19, 16.74)).unwrap();
    let unsure: Vec<f64> = close.iter().filter(|c| c.not_told_apart).map(|c| c.module.to_mm()).collect();
    assert_eq!(unsure.len(), 2, "{unsure:?}");
    let clear = identify(&reading(60, 49.6)).unwrap();
    assert!(clear[0].fits && clear.iter().all(|c| !c.not_told_apart));
    check(clear[0].module.to_mm(), 0.8, 0.0);
}

#[test]
fn a_span_reading_counts_and_a_shifted_gear_fits_nothing() {
    let span = SpanReading { teeth: None, length: Length::mm(7.6464) };
    let found = identify(&GearReading { span: Some(span), ..reading(19, 21.0) }).unwrap();
    check(found[0].module.to_mm(), 1.0, 0.0);
    check(found[0].span_error.unwrap(), 0.0, 1e-5);
    let shifted = identify(&reading(19, 21.6)).unwrap();
    assert!(shifted.iter().all(|c| !c.fits));
    for bad in [reading(4, 21.0), reading(19, f64::NAN), reading(19, -1.0)] {
        assert!(identify(&bad).is_err());
    }
}

#[test]
fn gears_of_different_pitch_are_refused_with_both_base_pitches() {
    let metric = PitchOf { module: Length::mm(0.8), pressure_angle: Angle::deg(20.0) };
    let inch = PitchOf { module: Length::inch(1.0 / 32.0), ..metric };
    assert!(check_same_pitch(metric, metric).is_ok());
    let error = check_same_pitch(metric, inch).unwrap_err();
    assert_eq!(
        error.to_string(),
        "pitches differ: base pitch 2.3617 mm against 2.3433 mm, a pitch error of -18.5 um per tooth; \
         both gears must have one module and one pressure angle"
    );
    let steep = PitchOf { pressure_angle: Angle::deg(25.0), ..metric };
    assert!(check_same_pitch(metric, steep).is_err());
    assert!(check_same_pitch(metric, PitchOf { module: Length::mm(f64::NAN), ..metric }).is_err());
}
