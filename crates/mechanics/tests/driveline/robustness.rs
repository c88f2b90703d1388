//! Odd trucks: finite answers or an error, never a NaN, never without end.

use crate::example::{random_truck, run, truck};
use toothsayer_mechanics::driveline::{Case, Event, LIMITS, Options, Parameters, simulate, simulate_with};

#[track_caller]
fn finite_or_refused(truck: &Parameters) {
    for case in Case::ALL {
        if let Ok(outcome) = simulate(truck, &Event::usual(case)) {
            let values = [
                outcome.peak_drive_flank.force_n,
                outcome.peak_coast_flank.force_n,
                outcome.peak_shaft_torque_n_m,
                outcome.peak_ground_force_n,
                outcome.final_truck_speed_m_s,
            ];
            assert!(values.iter().all(|value| value.is_finite()), "{}: {values:?}", case.name());
        }
    }
}

#[test]
fn odd_trucks_get_finite_answers() {
    for truck in [
        Parameters { brake_strength: 0.0, ..truck() },
        Parameters { throttle_strength: 0.0, ..truck() },
        Parameters { lash_rad: 0.0, ..truck() },
        Parameters { normal_backlash_m: 0.0, lash_rad: 0.0, ..truck() },
        Parameters { normal_backlash_m: 2e-3, ..truck() },
        Parameters { clutch_torque_n_m: Some(2.0), ..truck() },
        Parameters { chassis_clearance_m: Some(0.05), ..truck() },
        Parameters { mesh_damping_ratio: 0.0, shaft_damping_ratio: 0.0, ..truck() },
        Parameters { suspension_damping_n_s_m: 0.0, tyre_damping_n_s_m: 0.0, ..truck() },
        Parameters { drag_area_m2: 0.0, no_load_current_a: 0.0, ..truck() },
    ] {
        finite_or_refused(&truck);
    }
    (20..40).map(random_truck).for_each(|truck| finite_or_refused(&truck));
}

#[test]
fn a_landing_at_a_standstill_and_from_no_height_is_computed() {
    let event = Event { drop_height_m: 0.0, landing_speed_m_s: 0.0, ..Event::usual(Case::LandingCoasting) };
    assert!(simulate(&truck(), &event).unwrap().peak_ground_force_n > 0.0);
}

#[test]
fn what_is_outside_its_range_is_refused_by_name() {
    let error = simulate(&Parameters { normal_backlash_m: -1e-5, ..truck() }, &Event::usual(Case::Launch)).unwrap_err();
    assert!(error.to_string().starts_with("normal backlash is -0.00001 m, outside"), "{error}");
    let error = simulate(&Parameters { grip: f64::NAN, ..truck() }, &Event::usual(Case::Launch)).unwrap_err();
    assert!(error.to_string().contains("grip"), "{error}");
    let heavy = Parameters { wheel_mass_kg: 3.0, ..truck() };
    assert!(simulate(&heavy, &Event::usual(Case::Launch)).is_err());
    assert_eq!(LIMITS.len(), truck().bits().len());
}

#[test]
fn the_same_input_gives_the_same_bits() {
    let twice = [run(&truck(), Case::WheelStop, None), run(&truck(), Case::WheelStop, None)];
    assert_eq!(twice[0], twice[1]);
}

#[test]
fn a_second_run_confirms_the_peaks() {
    let options = Options { verify: true, ..Options::default() };
    for case in Case::ALL {
        simulate_with(&truck(), &Event::usual(case), &options).unwrap();
    }
}

// The book of energy needs no other program: what goes in is stored, lost, or missing.
#[test]
fn a_loose_tolerance_is_made_finer_until_the_energy_book_closes() {
    const MOST_OPEN: f64 = 1e-6;
    for truck in [truck()].into_iter().chain((20..30).map(random_truck)) {
        for case in Case::ALL {
            let options = Options { tolerance: 1e-4, ..Options::default() };
            let outcome = simulate_with(&truck, &Event::usual(case), &options);
            let residual = outcome.unwrap_or_else(|error| panic!("{error}")).energy.residual();
            assert!(residual <= MOST_OPEN, "{}: {residual}", case.name());
        }
    }
}

// Effort of the example: half as much again would be a regression that no stopwatch has to show.
#[test]
fn the_effort_stays_what_it_was() {
    for (case, evaluations) in [
        (Case::Launch, 22_000),
        (Case::FullBrake, 22_300),
        (Case::LandingOnThrottle, 24_200),
        (Case::LandingOnBrake, 23_400),
        (Case::LandingCoasting, 20_300),
        (Case::Reversal, 45_100),
        (Case::WheelStop, 37_100),
    ] {
        let got = run(&truck(), case, None).effort.evaluations;
        assert!(got < evaluations * 3 / 2, "{}: {got}", case.name());
    }
}
