//! The stack on the motor shaft: gap, overlap, wander, rocking and the spacer that sets them right.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use toothsayer_mechanics::stack::{
    AxialStop, Dimension, GapVerdict, LEAST_GAP, NEEDED_OVERLAP_SHARE, Stack, StackParameters, WANDER_LIMIT,
};
use toothsayer_quantity::Length;

/// Sums of a few lengths in doubles, mm.
const ROUNDING_MM: f64 = 1e-9;

#[track_caller]
fn check(got: Length, expected_mm: f64) {
    let got_mm = got.to_mm();
    assert!((got_mm - expected_mm).abs() <= ROUNDING_MM, "got {got_mm} mm, expected {expected_mm} mm");
}

fn mm(nominal_mm: f64) -> Dimension {
    Dimension::exact(Length::mm(nominal_mm))
}

fn within(nominal_mm: f64, plus_minus_mm: f64) -> Dimension {
    Dimension { nominal: Length::mm(nominal_mm), plus_minus: Length::mm(plus_minus_mm) }
}

/// Spacer 3, pinion 18 with a 12 mm face from 5 on, spur 10 wide from 9 on, bearing at 21.5: gap 0.5.
fn set_right() -> StackParameters {
    StackParameters {
        spacer: mm(3.0),
        pinion_length: mm(18.0),
        pinion_face_start: mm(5.0),
        pinion_face_width: mm(12.0),
        spur_face_start: mm(9.0),
        spur_face_width: mm(10.0),
        cover_bearing: mm(21.5),
    }
}

fn stack(parameters: StackParameters) -> Stack {
    Stack::new(parameters).unwrap()
}

#[test]
fn a_stack_set_right_runs_with_its_gap_and_full_overlap() {
    let stack = stack(set_right());
    check(stack.gap().nominal, 0.5);
    assert_eq!(stack.gap_verdict(), GapVerdict::Runs);
    check(stack.overlap().nominal, 10.0);
    check(stack.mount_to_mid_face(), 14.0);
    assert_eq!(stack.wander(AxialStop::Bearing), Length::ZERO);
}

// Common practice, no source: without its spacer the pinion either presses the cover bearing or leaves it idle.
#[test]
fn without_the_spacer_a_short_pinion_leaves_the_bearing_idle_and_a_long_one_presses_it() {
    let bare = StackParameters { spacer: mm(0.0), ..set_right() };
    assert_eq!(stack(bare).gap_verdict(), GapVerdict::Idle);
    check(stack(bare).wander(AxialStop::Bearing), 3.5);
    check(stack(bare).overlap().nominal, 8.0);
    let slid_out = StackParameters { spacer: mm(4.0), ..set_right() };
    assert_eq!(stack(slid_out).gap_verdict(), GapVerdict::Presses);
    let long = StackParameters { pinion_length: mm(22.0), ..bare };
    assert_eq!(stack(long).gap_verdict(), GapVerdict::Presses);
    for quarter in 5..=40 {
        let spacer_mm = f64::from(quarter) / 4.0;
        let built_for = StackParameters { spacer: mm(0.0), cover_bearing: mm(18.5 + spacer_mm), ..set_right() };
        assert_eq!(stack(built_for).gap_verdict(), GapVerdict::Idle, "built for a spacer of {spacer_mm} mm");
    }
}

#[test]
fn the_gap_turns_from_pressing_to_running_to_idle_at_its_limits() {
    let verdict =
        |bearing_mm: f64| stack(StackParameters { cover_bearing: mm(bearing_mm), ..set_right() }).gap_verdict();
    for (bearing_mm, expected) in [
        (20.9, GapVerdict::Presses),
        (21.0, GapVerdict::Runs),
        (21.99, GapVerdict::Runs),
        (22.01, GapVerdict::Idle),
        (30.0, GapVerdict::Idle),
    ] {
        assert_eq!(verdict(bearing_mm), expected, "{bearing_mm}");
    }
    assert_eq!((WANDER_LIMIT.to_mm(), LEAST_GAP.to_mm()), (1.0, 0.05));
}

// Worst case adds tolerances, root-sum-square adds their squares: 3-4-12 make 19 and 13.
#[test]
fn tolerances_of_the_gap_add_at_worst_and_in_squares() {
    let toleranced = StackParameters {
        spacer: within(3.0, 0.03),
        pinion_length: within(18.0, 0.04),
        cover_bearing: within(21.5, 0.12),
        pinion_face_start: within(5.0, 1.0),
        ..set_right()
    };
    let gap = stack(toleranced).gap();
    check(gap.nominal, 0.5);
    check(gap.worst_low, 0.31);
    check(gap.worst_high, 0.69);
    check(gap.root_sum_square, 0.13);
}

#[test]
fn faces_overlap_from_the_later_start_to_the_earlier_end() {
    for (spacer_mm, overlap_mm) in [(0.0, 8.0), (2.0, 10.0), (4.0, 10.0), (6.0, 8.0), (14.0, 0.0), (40.0, 0.0)] {
        check(stack(StackParameters { spacer: mm(spacer_mm), ..set_right() }).overlap().nominal, overlap_mm);
    }
}

/// Least and largest overlap over all corners and centres of the five tolerances.
fn searched(parameters: &StackParameters) -> (f64, f64) {
    const STEPS: [f64; 9] = [-1.0, -0.75, -0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0];
    let at = |d: Dimension, step: f64| mm(d.nominal.to_mm() + step * d.plus_minus.to_mm());
    let (mut least_mm, mut most_mm) = (f64::INFINITY, 0.0_f64);
    for a in STEPS {
        for b in STEPS {
            for c in STEPS {
                for (d, e) in [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)] {
                    let moved = StackParameters {
                        spacer: at(parameters.spacer, a),
                        pinion_face_start: at(parameters.pinion_face_start, b),
                        spur_face_start: at(parameters.spur_face_start, c),
                        pinion_face_width: at(parameters.pinion_face_width, d),
                        spur_face_width: at(parameters.spur_face_width, e),
                        ..*parameters
                    };
                    let overlap_mm = stack(moved).overlap().nominal.to_mm();
                    (least_mm, most_mm) = (least_mm.min(overlap_mm), most_mm.max(overlap_mm));
                }
            }
        }
    }
    (least_mm, most_mm)
}

#[test]
fn the_worst_overlaps_are_those_that_a_search_over_the_tolerances_finds() {
    for spacer_mm in [0.2, 1.0, 3.0, 5.0, 7.0, 12.0, 14.0, 20.0] {
        let parameters = StackParameters {
            spacer: within(spacer_mm, 0.2),
            pinion_face_start: within(5.0, 0.4),
            pinion_face_width: within(12.0, 0.3),
            spur_face_start: within(9.0, 0.2),
            spur_face_width: within(10.0, 0.25),
            ..set_right()
        };
        let (least_mm, most_mm) = searched(&parameters);
        let overlap = stack(parameters).overlap();
        check(overlap.worst_low, least_mm);
        check(overlap.worst_high, most_mm);
        assert!(overlap.root_sum_square <= overlap.nominal - overlap.worst_low + Length::mm(0.5), "{overlap:?}");
    }
}

#[test]
fn the_squares_of_the_overlap_count_what_each_tolerance_alone_can_take() {
    // at spacer 6 the pinion sticks out by 4: each position costs its whole tolerance, the pinion's width nothing
    let parameters = StackParameters {
        spacer: within(6.0, 0.3),
        spur_face_start: within(9.0, 0.4),
        pinion_face_width: within(12.0, 1.0),
        ..set_right()
    };
    check(stack(parameters).overlap().root_sum_square, 0.5);
}

#[test]
fn a_pinion_wanders_by_an_idle_gap_and_without_end_when_the_bearing_is_gone() {
    let idle = stack(StackParameters { cover_bearing: mm(24.0), ..set_right() });
    check(idle.wander(AxialStop::Bearing), 3.0);
    check(idle.overlap_after(idle.wander(AxialStop::Bearing)).unwrap(), 7.0);
    check(idle.overlap_after(idle.wander(AxialStop::Missing)).unwrap(), 0.0);
    check(idle.overlap_after(Length::mm(100.0)).unwrap(), 0.0);
    check(idle.overlap_after(Length::ZERO).unwrap(), 10.0);
}

// tan of a small angle: 0.7 mm at 14 mm from the mount is 0.05 rad.
#[test]
fn a_rocking_motor_opens_the_centre_distance_and_tilts_over_its_arm() {
    let rocking = stack(set_right()).rocking(Length::mm(0.7)).unwrap();
    check(rocking.opening, 0.7);
    assert!((rocking.tilt.to_rad() - 0.05).abs() < 1e-12, "{:?}", rocking.tilt);
    let still = stack(set_right()).rocking(Length::ZERO).unwrap();
    assert_eq!((still.opening.to_mm(), still.tilt.to_rad()), (0.0, 0.0));
}

#[test]
fn the_advised_spacer_leaves_the_wanted_gap_and_its_neighbours_do_not() {
    let advice = stack(set_right()).spacer_advice(Length::mm(0.3)).unwrap();
    check(advice.for_gap, 3.2);
    check(advice.centring, 3.0);
    check(advice.spacer.unwrap(), 3.2);
    let (least, most) = advice.range.unwrap();
    check(least, 2.5);
    check(most, 3.45);
    check(stack(StackParameters { spacer: mm(3.2), ..set_right() }).gap().nominal, 0.3);
}

#[test]
fn a_wanted_gap_beyond_the_range_gets_the_nearest_spacer_in_it() {
    for (wanted_mm, spacer_mm) in [(0.0, 3.45), (0.05, 3.45), (0.5, 3.0), (1.0, 2.5), (2.0, 2.5)] {
        check(stack(set_right()).spacer_advice(Length::mm(wanted_mm)).unwrap().spacer.unwrap(), spacer_mm);
    }
}

#[test]
fn tolerances_and_the_overlap_narrow_the_advised_range() {
    let loose = StackParameters { cover_bearing: within(21.5, 0.3), pinion_length: within(18.0, 0.4), ..set_right() };
    let (least, most) = stack(loose).spacer_advice(Length::mm(0.3)).unwrap().range.unwrap();
    check(least, 2.5);
    check(most, 3.0);
    // spur face from 13 on: centring would be 7, the overlap of 8 needs at least 4, the gap at most 3.45
    let far = StackParameters { spur_face_start: mm(13.0), ..set_right() };
    let advice = stack(far).spacer_advice(Length::mm(0.3)).unwrap();
    assert_eq!((advice.range, advice.spacer), (None, None));
    check(advice.centring, 7.0);
}

// Every spacer in the range must do what the range promises, and a tenth outside must not.
#[test]
fn the_range_of_spacers_is_exactly_where_gap_and_overlap_are_kept() {
    let kept = |parameters: StackParameters| {
        let stack = stack(parameters);
        let gap_mm = stack.gap().nominal.to_mm();
        let needed_mm = NEEDED_OVERLAP_SHARE * 10.0;
        (0.05 - ROUNDING_MM..=1.0 + ROUNDING_MM).contains(&gap_mm)
            && stack.overlap().nominal.to_mm() >= needed_mm - ROUNDING_MM
    };
    let mut found = 0;
    for step in 0..60 {
        let base = StackParameters { spur_face_start: mm(4.0 + 0.2 * f64::from(step)), ..set_right() };
        let at = |spacer_mm: f64| kept(StackParameters { spacer: mm(spacer_mm.max(0.0)), ..base });
        match stack(base).spacer_advice(Length::mm(0.5)).unwrap().range {
            Some((least, most)) => {
                found += 1;
                let (least_mm, most_mm) = (least.to_mm(), most.to_mm());
                for part in 0..=10 {
                    assert!(at(least_mm + (most_mm - least_mm) * f64::from(part) / 10.0), "{base:?}");
                }
                assert!(!at(most_mm + 0.1) && (least_mm == 0.0 || !at(least_mm - 0.1)), "{base:?}");
            }
            None => assert!((0..200).all(|tenth| !at(f64::from(tenth) / 10.0)), "{base:?}"),
        }
    }
    assert!((20..60).contains(&found), "{found} of 60 stacks have a spacer");
}

#[test]
fn a_stack_outside_the_ranges_is_refused_by_name() {
    for (parameters, message) in [
        (StackParameters { spacer: mm(-0.1), ..set_right() }, "length in the stack is -0.1 mm, outside 0 to 300 mm"),
        (StackParameters { spur_face_width: mm(0.0), ..set_right() }, "face width is 0 mm, outside 0.5 to 100 mm"),
        (
            StackParameters { pinion_length: within(18.0, -1.0), ..set_right() },
            "tolerance in the stack is -1 mm, outside 0 to 20 mm",
        ),
        (
            StackParameters { cover_bearing: mm(f64::NAN), ..set_right() },
            "length in the stack is NaN mm, outside 0 to 300 mm",
        ),
    ] {
        assert_eq!(Stack::new(parameters).unwrap_err().to_string(), message);
    }
    let stack = stack(set_right());
    assert!(stack.rocking(Length::mm(-0.1)).is_err() && stack.rocking(Length::mm(f64::NAN)).is_err());
    assert!(stack.overlap_after(Length::mm(-1.0)).is_err() && stack.spacer_advice(Length::mm(-1.0)).is_err());
}
