//! The motor shaft against closed beam formulas, and against its own bending line integrated step by step.

#![expect(clippy::unwrap_used, reason = "a test's helper fails by panicking")]

use std::f64::consts::PI;
use toothsayer_mechanics::shaft::{
    Bending, OuterSupport, PLASTIC_SEAT_STIFFNESS, Pocket, SHAFT_MODULUS, Shaft, ShaftParameters,
};
use toothsayer_quantity::{Angle, Force, Length, LinearStiffness};

/// Doubles over a handful of operations, relative.
const ROUNDING: f64 = 1e-12;
/// The stiffest support allowed, 10 kN/µm, under a slender shaft against a rigid one in the formulas, relative.
const RIGID: f64 = 5e-4;
/// Midpoint and trapezoid steps of 1/2000 mm over the bending line, relative.
const STEPWISE: f64 = 1e-6;

const FORCE_N: f64 = 400.0;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}

#[track_caller]
fn check_share(got: f64, expected: f64, tolerance: f64) {
    check(got, expected, tolerance * expected.abs());
}

/// Diameter, overhang, then distance of the support in mm and its stiffness in N/mm.
#[derive(Clone, Copy)]
struct Case {
    diameter_mm: f64,
    load_mm: f64,
    support: Option<(f64, f64)>,
}

impl Case {
    fn shaft(&self, pocket: Pocket) -> Shaft {
        let support = self.support.map(|(distance_mm, stiffness_n_mm)| OuterSupport {
            distance: Length::mm(distance_mm),
            stiffness: LinearStiffness::n_per_mm(stiffness_n_mm),
        });
        let (diameter, overhang) = (Length::mm(self.diameter_mm), Length::mm(self.load_mm));
        Shaft::new(ShaftParameters { diameter, overhang, support, pocket }).unwrap()
    }

    fn bend(&self) -> Bending {
        self.shaft(Pocket::None).bend(Force::n(FORCE_N)).unwrap()
    }

    fn rigidity_n_mm2(&self) -> f64 {
        206_000.0 * PI * self.diameter_mm.powi(4) / 64.0
    }
}

const FREE: Case = Case { diameter_mm: 5.0, load_mm: 18.0, support: None };
const SLENDER: Case = Case { diameter_mm: 2.0, ..FREE };
const STIFFEST_N_MM: f64 = 1e7;

// Cantilever: y = F L³/(3 E I), slope = F L²/(2 E I), sigma = 32 F L/(π d³).
#[test]
fn an_overhung_shaft_is_the_cantilever_of_the_handbooks() {
    for (diameter_mm, load_mm) in [(3.175, 12.0), (5.0, 18.0), (8.0, 25.0), (8.0, 60.0)] {
        let case = Case { diameter_mm, load_mm, support: None };
        let (bending, rigidity) = (case.bend(), case.rigidity_n_mm2());
        check_share(bending.deflection.to_mm(), FORCE_N * load_mm.powi(3) / (3.0 * rigidity), ROUNDING);
        check_share(bending.slope.to_rad(), FORCE_N * load_mm.powi(2) / (2.0 * rigidity), ROUNDING);
        check_share(bending.stress.to_mpa(), 32.0 * FORCE_N * load_mm / (PI * diameter_mm.powi(3)), ROUNDING);
        check_share(bending.fixed_end_moment.to_n_mm(), FORCE_N * load_mm, ROUNDING);
        assert_eq!(bending.support_reaction, Force::ZERO);
        let stiffness_n_mm = case.shaft(Pocket::None).stiffness().to_n_per_mm();
        check_share(stiffness_n_mm, 3.0 * rigidity / load_mm.powi(3), ROUNDING);
    }
    assert_eq!(SHAFT_MODULUS.to_gpa(), 206.0);
}

// Fixed at one end, simply supported at D, load at L < D: R = F L² (3D - L)/(2 D³),
// y = F (D - L)² L³ (4D - L)/(12 E I D³), M at the wall F L (D - L)(2D - L)/(2 D²), under the load R (D - L).
#[test]
fn a_rigid_support_outside_the_load_is_the_propped_cantilever_of_the_handbooks() {
    for (load_mm, support_mm) in [(10.0, 20.0), (18.0, 30.0), (18.0, 22.0), (20.0, 60.0)] {
        let case = Case { support: Some((support_mm, STIFFEST_N_MM)), load_mm, ..SLENDER };
        let (bending, rigidity) = (case.bend(), case.rigidity_n_mm2());
        let (l, d) = (load_mm, support_mm);
        let reaction_n = FORCE_N * l * l * (3.0 * d - l) / (2.0 * d.powi(3));
        check_share(bending.support_reaction.to_n(), reaction_n, RIGID);
        let deflection_mm = FORCE_N * (d - l).powi(2) * l.powi(3) * (4.0 * d - l) / (12.0 * rigidity * d.powi(3));
        check(
            bending.deflection.to_mm(),
            deflection_mm,
            RIGID * Case { support: None, ..case }.bend().deflection.to_mm(),
        );
        let wall_n_mm = FORCE_N * l * (d - l) * (2.0 * d - l) / (2.0 * d * d);
        check(bending.fixed_end_moment.to_n_mm(), wall_n_mm, RIGID * FORCE_N * l);
        check_share(bending.span_moment.to_n_mm(), -reaction_n * (d - l), RIGID);
        let largest_n_mm = wall_n_mm.abs().max(reaction_n * (d - l));
        check_share(bending.stress.to_mpa(), 32.0 * largest_n_mm / (PI * 8.0), 2.0 * RIGID);
    }
}

// Middle load: y = 7 F D³/(768 E I), the best known row of the same table.
#[test]
fn a_load_in_the_middle_gives_seven_over_768() {
    let case = Case { support: Some((40.0, STIFFEST_N_MM)), load_mm: 20.0, ..SLENDER };
    let expected_mm = 7.0 * FORCE_N * 40.0_f64.powi(3) / (768.0 * case.rigidity_n_mm2());
    check_share(case.bend().deflection.to_mm(), expected_mm, RIGID);
}

// Propped cantilever that overhangs its support at D < L: R = F (3L - D)/(2D), slope at the load
// F (L - D) D/(4 E I) + F (L - D)²/(2 E I), M at the wall -F (L - D)/2 and F (L - D) over the support.
#[test]
fn a_rigid_support_inside_the_load_is_the_overhanging_beam_of_the_handbooks() {
    for (load_mm, support_mm) in [(20.0, 10.0), (30.0, 12.0), (25.0, 20.0)] {
        let case = Case { support: Some((support_mm, STIFFEST_N_MM)), load_mm, ..SLENDER };
        let (bending, rigidity) = (case.bend(), case.rigidity_n_mm2());
        let (l, d) = (load_mm, support_mm);
        check_share(bending.support_reaction.to_n(), FORCE_N * (3.0 * l - d) / (2.0 * d), RIGID);
        let slope = FORCE_N * (l - d) * d / (4.0 * rigidity) + FORCE_N * (l - d).powi(2) / (2.0 * rigidity);
        check_share(bending.slope.to_rad(), slope, 10.0 * RIGID);
        check_share(bending.fixed_end_moment.to_n_mm(), -FORCE_N * (l - d) / 2.0, 10.0 * RIGID);
        check_share(bending.span_moment.to_n_mm(), FORCE_N * (l - d), ROUNDING);
    }
}

/// Deflection and slope at the load and deflection at the support, by integrating M/(E I) twice.
///
/// M(x) = F (L - x) - R (D - x), each where its bracket is positive, with the R that the shaft reports.
fn integrated(case: &Case, reaction_n: f64) -> (f64, f64, f64) {
    const STEPS_PER_MM: f64 = 2000.0;
    let (support_mm, _) = case.support.unwrap();
    let step_mm = 1.0 / STEPS_PER_MM;
    let steps = (case.load_mm.max(support_mm) * STEPS_PER_MM).round() as u32;
    let curvature = |x_mm: f64| {
        let moment_n_mm = FORCE_N * (case.load_mm - x_mm).max(0.0) - reaction_n * (support_mm - x_mm).max(0.0);
        moment_n_mm / case.rigidity_n_mm2()
    };
    let (mut slope, mut deflection_mm) = (0.0, 0.0);
    let (mut at_load, mut at_support_mm) = ((0.0, 0.0), 0.0);
    for i in 0..steps {
        let x_mm = f64::from(i) * step_mm;
        let next = slope + step_mm * curvature(x_mm + step_mm / 2.0);
        deflection_mm += step_mm * (slope + next) / 2.0;
        slope = next;
        if x_mm < case.load_mm - step_mm / 2.0 {
            at_load = (deflection_mm, slope);
        }
        if x_mm < support_mm - step_mm / 2.0 {
            at_support_mm = deflection_mm;
        }
    }
    (at_load.0, at_load.1, at_support_mm)
}

// Equilibrium, the bending line and the support's own law, with no formula in common with the code.
#[test]
fn with_a_yielding_support_the_bending_line_integrates_to_the_same_figures() {
    for (load_mm, support_mm) in [(16.0, 24.0), (20.0, 20.0), (24.0, 16.0), (20.0, 40.0), (40.0, 20.0)] {
        for stiffness_n_mm in [1.0, 500.0, 2000.0, 2e4] {
            let case = Case { diameter_mm: 5.0, load_mm, support: Some((support_mm, stiffness_n_mm)) };
            let bending = case.bend();
            let reaction_n = bending.support_reaction.to_n();
            let (deflection_mm, slope, at_support_mm) = integrated(&case, reaction_n);
            let scale_mm = Case { support: None, ..case }.bend().deflection.to_mm();
            check(bending.deflection.to_mm(), deflection_mm, STEPWISE * scale_mm);
            check(bending.slope.to_rad(), slope, STEPWISE * scale_mm * 100.0 / load_mm);
            check(at_support_mm * stiffness_n_mm, reaction_n, STEPWISE * scale_mm * stiffness_n_mm);
            check_share(bending.fixed_end_moment.to_n_mm(), FORCE_N * load_mm - reaction_n * support_mm, 1e-9);
        }
    }
}

// The estimate behind it: a seat of about 2 kN/mm takes 15 to 20 % off the slope of a stout shaft (no source).
#[test]
fn a_plastic_seat_takes_little_off_the_slope_of_a_stout_shaft() {
    let free = Case { diameter_mm: 8.0, load_mm: 20.0, support: None };
    let seated = Case { support: Some((23.0, PLASTIC_SEAT_STIFFNESS.to_n_per_mm())), ..free };
    let taken = 1.0 - seated.bend().slope / free.bend().slope;
    assert!((0.15..0.20).contains(&taken), "{taken}");
    let slender = |case: Case| Case { diameter_mm: 3.175, ..case }.bend().slope;
    assert!(1.0 - slender(seated) / slender(free) > 2.0 * taken);
}

#[test]
fn a_pocket_on_a_flat_doubles_the_stress_and_nothing_else() {
    let (plain, notched) = (FREE.bend(), FREE.shaft(Pocket::OnFlat).bend(Force::n(FORCE_N)).unwrap());
    check_share(notched.stress.to_mpa(), 2.0 * plain.stress.to_mpa(), ROUNDING);
    assert_eq!((notched.deflection, notched.slope), (plain.deflection, plain.slope));
}

// The tooth force leans by the working pressure angle, so sin aw of the deflection opens the centre distance.
#[test]
fn the_centre_distance_opens_by_the_radial_part_of_the_deflection() {
    let bending = FREE.bend();
    let opening = bending.centre_distance_opening(Angle::deg(30.0));
    check_share(opening.to_mm(), bending.deflection.to_mm() / 2.0, ROUNDING);
    assert_eq!(bending.centre_distance_opening(Angle::ZERO), Length::ZERO);
}

#[test]
fn deflection_falls_with_diameter_and_support_and_rises_with_overhang() {
    let deflection = |case: Case| case.bend().deflection.to_mm();
    for step in 0..60 {
        let step = f64::from(step);
        let thicker = |mm: f64| deflection(Case { diameter_mm: 2.0 + mm, ..FREE });
        assert!(thicker(0.1 * (step + 1.0)) < thicker(0.1 * step));
        let longer = |mm: f64| deflection(Case { load_mm: 5.0 + mm, ..FREE });
        assert!(longer(step + 1.0) > longer(step));
        let stiffer = |power: f64| deflection(Case { support: Some((25.0, 10.0_f64.powf(power))), ..FREE });
        assert!(stiffer(0.1 * (step + 1.0)) < stiffer(0.1 * step));
    }
}

#[test]
fn all_figures_are_linear_in_the_force() {
    let case = Case { support: Some((26.0, 2000.0)), ..FREE };
    let bend = |force_n| case.shaft(Pocket::OnFlat).bend(Force::n(force_n)).unwrap();
    let (single, triple) = (bend(100.0), bend(300.0));
    for (a, b) in [
        (single.deflection.to_mm(), triple.deflection.to_mm()),
        (single.slope.to_rad(), triple.slope.to_rad()),
        (single.support_reaction.to_n(), triple.support_reaction.to_n()),
        (single.stress.to_mpa(), triple.stress.to_mpa()),
    ] {
        check_share(b, 3.0 * a, ROUNDING);
    }
}

#[test]
fn a_shaft_outside_the_ranges_is_refused_by_name() {
    let base = *FREE_PARAMETERS;
    let support = |distance_mm, stiffness_n_mm| {
        Some(OuterSupport { distance: Length::mm(distance_mm), stiffness: LinearStiffness::n_per_mm(stiffness_n_mm) })
    };
    for (parameters, message) in [
        (ShaftParameters { diameter: Length::mm(0.5), ..base }, "shaft diameter is 0.5 mm, outside 1 to 30 mm"),
        (
            ShaftParameters { overhang: Length::ZERO, ..base },
            "shaft overhang to mid-face is 0 mm, outside 0.5 to 200 mm",
        ),
        (
            ShaftParameters { support: support(0.0, 2000.0), ..base },
            "distance to the outer support is 0 mm, outside 0.5 to 300 mm",
        ),
        (
            ShaftParameters { support: support(20.0, 0.0), ..base },
            "outer support's stiffness is 0 N/mm, outside 1 to 10000000 N/mm",
        ),
    ] {
        assert_eq!(Shaft::new(parameters).unwrap_err().to_string(), message);
    }
    let error = FREE.shaft(Pocket::None).bend(Force::n(f64::NAN)).unwrap_err();
    assert_eq!(error.to_string(), "tooth force is NaN N, outside 0 to 1000000 N");
}

const FREE_PARAMETERS: &ShaftParameters =
    &ShaftParameters { diameter: Length::mm(5.0), overhang: Length::mm(18.0), support: None, pocket: Pocket::None };

#[test]
fn over_the_whole_range_every_figure_is_a_number() {
    for diameter_mm in [1.0, 3.175, 30.0] {
        for load_mm in [0.5, 18.0, 200.0] {
            for support_mm in [0.5, 18.0, 300.0] {
                for stiffness_n_mm in [1.0, 2000.0, 1e7] {
                    let case = Case { diameter_mm, load_mm, support: Some((support_mm, stiffness_n_mm)) };
                    let b = case.shaft(Pocket::OnFlat).bend(Force::n(1e6)).unwrap();
                    let figures =
                        [b.deflection.to_mm(), b.slope.to_rad(), b.support_reaction.to_n(), b.stress.to_mpa()];
                    assert!(figures.iter().all(|figure| figure.is_finite()), "{figures:?}");
                    assert!(b.deflection >= Length::ZERO, "the shaft yields against its load: {b:?}");
                    assert!(case.shaft(Pocket::None).stiffness().to_n_per_mm() > 0.0);
                }
            }
        }
    }
}
