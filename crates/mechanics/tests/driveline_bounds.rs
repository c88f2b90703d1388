//! The shock model at and beyond the edges of its ranges: errors with names, never a figure that is none.

#[path = "driveline_common/mod.rs"]
mod common;

use toothsayer_mechanics::Error;
use toothsayer_mechanics::driveline::limits::LIMITS;
use toothsayer_mechanics::driveline::{
    Case, DrivelineError, Event, Options, Outcome, Parameters, simulate, simulate_with,
};

#[test]
fn every_parameter_has_a_row_of_its_own() {
    let bits = common::example().bits();
    for (position, limit) in LIMITS.iter().enumerate() {
        assert!(limit.range.min < limit.range.max, "{}", limit.range.what);
        let same = LIMITS.iter().filter(|other| other.range.what == limit.range.what).count();
        assert_eq!(same, 1, "{}", limit.range.what);
        let value = (limit.read)(&common::example());
        assert_eq!(bits[position], value.map_or(u64::MAX, f64::to_bits), "{}", limit.range.what);
    }
    // One row for each field of the structure, as its debug text lists them.
    let fields = format!("{:?}", common::example()).matches(": ").count();
    assert_eq!(fields, LIMITS.len());
}

#[test]
fn what_is_out_of_range_or_no_number_is_refused_by_name() {
    let refused = [
        ("truck mass", Parameters { truck_mass_kg: 0.0, ..common::example() }),
        ("wheel count", Parameters { wheel_count: 0, ..common::example() }),
        ("driven wheels", Parameters { driven_wheels: 0, ..common::example() }),
        ("driven wheels' share of the load", Parameters { driven_load_share: 0.0, ..common::example() }),
        ("grip", Parameters { grip: f64::NAN, ..common::example() }),
        ("motor resistance", Parameters { motor_resistance_ohm: 0.0, ..common::example() }),
        ("brake strength", Parameters { brake_strength: 1.01, ..common::example() }),
        ("normal backlash", Parameters { normal_backlash_m: -1e-6, ..common::example() }),
        ("mesh stiffness", Parameters { mesh_stiffness_n_m: f64::INFINITY, ..common::example() }),
        ("clutch torque", Parameters { clutch_torque_n_m: Some(0.0), ..common::example() }),
        ("chassis clearance", Parameters { chassis_clearance_m: Some(f64::NAN), ..common::example() }),
    ];
    for (what, truck) in refused {
        match simulate(&truck, &Event::usual(Case::Launch)) {
            Err(Error::Range(out)) => assert_eq!(out.what, what),
            other => panic!("{what}: {other:?}"),
        }
    }
}

#[test]
fn an_impossible_event_is_refused_by_name() {
    let usual = Event::usual(Case::LandingOnBrake);
    let refused = [
        ("drop height", Event { drop_height_m: -0.1, ..usual }),
        ("landing speed", Event { landing_speed_m_s: f64::NAN, ..usual }),
        ("start speed", Event { start_speed_m_s: Some(1e3), ..usual }),
        ("lash phase", Event { lash_phase: Some(1.5), ..usual }),
        ("duration", Event { duration_s: Some(0.0), ..usual }),
    ];
    for (what, event) in refused {
        match simulate(&common::example(), &event) {
            Err(Error::Range(out)) => assert_eq!(out.what, what),
            other => panic!("{what}: {other:?}"),
        }
    }
}

#[test]
fn contradictions_between_parameters_are_refused() {
    let wheels = Parameters { wheel_mass_kg: 3.0, ..common::example() };
    let clutch = Parameters { clutch_torque_n_m: Some(3.0), shaft_damping_ratio: 0.0, ..common::example() };
    text(&wheels.check(), "4 wheels of 3 kg leave nothing of a truck of 10.4 kg on its suspension");
    text(&clutch.check(), "shaft damping ratio is 0, with a clutch it must be at least 0.005");
    let name: Result<Case, _> = "jump".parse();
    text(
        &name,
        "no load case is called \"jump\", the cases are launch, full-brake, landing-on-throttle, landing-on-brake, \
         landing-coasting, reversal, wheel-stop",
    );
}

#[test]
fn every_case_is_found_by_its_name() {
    for case in Case::ALL {
        assert_eq!(case.name().parse(), Ok(case));
    }
}

#[test]
fn extreme_trucks_give_figures_in_every_case() {
    let trucks = [
        Parameters { brake_strength: 0.0, throttle_strength: 0.0, ..common::example() },
        Parameters { normal_backlash_m: 0.02, lash_rad: 3.2, ..common::example() },
        Parameters { normal_backlash_m: 0.0, lash_rad: 0.0, ..common::example() },
        Parameters { mesh_damping_ratio: 0.0, shaft_damping_ratio: 0.0, ..common::example() },
        Parameters { shaft_stiffness_n_m_rad: 1e6, ..common::example() },
        Parameters { shaft_stiffness_n_m_rad: 0.5, mesh_stiffness_n_m: 1e5, ..common::example() },
        Parameters { grip: 0.0, no_load_current_a: 0.0, drag_area_m2: 0.0, ..common::example() },
        Parameters { drive_current_a: 0.0, brake_current_a: 0.0, ..common::example() },
        Parameters { suspension_travel_m: 0.0, chassis_clearance_m: Some(0.0), ..common::example() },
        Parameters { clutch_torque_n_m: Some(0.05), ..common::example() },
        Parameters { truck_mass_kg: 0.3, wheel_mass_kg: 0.01, tyre_radius_m: 0.02, ..common::example() },
        Parameters { truck_mass_kg: 25.0, wheel_mass_kg: 1.5, tyre_radius_m: 0.12, ..common::example() },
    ];
    for truck in trucks {
        for case in Case::ALL {
            for (drop_height_m, landing_speed_m_s) in [(0.0, 0.0), (2.0, 15.0)] {
                let event = Event { drop_height_m, landing_speed_m_s, ..Event::usual(case) };
                let options = Options { settle: false, ..Options::default() };
                finite(&simulate_with(&truck, &event, &options).unwrap(), case, &truck);
            }
        }
    }
}

#[test]
fn the_number_of_steps_is_bounded() {
    let options = Options { max_steps: 50, ..Options::default() };
    match simulate_with(&common::example(), &Event::usual(Case::Launch), &options) {
        Err(Error::Driveline(DrivelineError::TooManySteps { max_steps: 50, reached_s, duration_s, .. })) => {
            assert!(reached_s > 0.0 && reached_s < duration_s, "{reached_s} of {duration_s}");
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_same_event_gives_the_same_bits() {
    let options = Options { trace_points: 50, mesh_history: true, ..Options::default() };
    for case in Case::ALL {
        let run = || simulate_with(&common::example(), &Event::usual(case), &options).unwrap();
        assert_eq!(run(), run(), "{}", case.name());
    }
}

#[track_caller]
fn text<T, E: std::fmt::Display>(result: &Result<T, E>, expected: &str) {
    assert_eq!(result.as_ref().err().map(ToString::to_string).as_deref(), Some(expected));
}

#[track_caller]
fn finite(outcome: &Outcome, case: Case, truck: &Parameters) {
    let figures = [
        outcome.peak_drive_flank.force_n,
        outcome.peak_coast_flank.force_n,
        outcome.peak_shaft_torque_n_m,
        outcome.peak_ground_force_n,
        outcome.peak_current_a,
        outcome.largest_closing_speed_m_s,
        outcome.energy.residual,
        outcome.final_truck_speed_m_s,
        outcome.final_wheel_speed_rad_s,
        outcome.final_rotor_speed_rad_s,
    ];
    assert!(figures.iter().all(|figure| figure.is_finite()), "{}: {figures:?} of {truck:?}", case.name());
    assert!(outcome.peak_drive_flank.force_n >= 0.0 && outcome.peak_coast_flank.force_n >= 0.0);
}
