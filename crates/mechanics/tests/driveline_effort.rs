//! What the solver needs for a set of reference problems, so that a regression shows without a stopwatch.

#[path = "driveline_common/mod.rs"]
mod common;

use toothsayer_mechanics::driveline::{Case, Event, Parameters, simulate};

/// How far the counts may move, relative and by as much: other processors round square roots and products alike, but the
/// library's functions in the truck's derived values differently in the last bit.
const DRIFT: f64 = 0.1;
const DRIFT_COUNT: f64 = 10.0;

/// A reference problem.
#[derive(Clone, Copy)]
enum Truck {
    /// The example as built.
    Built,
    /// Its mesh opened by a rocking motor.
    Rocking,
    /// With a slipping clutch and a chassis that slaps.
    ClutchAndSlap,
    /// Damping of mesh and shaft a tenth: it rings long.
    Ringing,
}

impl Truck {
    fn parameters(self) -> Parameters {
        let example = common::example();
        match self {
            Self::Built => example,
            Self::Rocking => Parameters { normal_backlash_m: 4e-4, ..example },
            Self::ClutchAndSlap => {
                Parameters { clutch_torque_n_m: Some(5.0), chassis_clearance_m: Some(0.05), ..example }
            }
            Self::Ringing => Parameters { mesh_damping_ratio: 0.007, shaft_damping_ratio: 0.006, ..example },
        }
    }
}

/// Steps accepted, steps rejected and events over all runs, counted on the day the solver was tuned.
#[rustfmt::skip]
const EFFORT: &[(Truck, Case, [u32; 3])] = &[
    (Truck::Built, Case::Launch, [1565, 0, 54]),
    (Truck::Built, Case::FullBrake, [1658, 1, 72]),
    (Truck::Built, Case::LandingOnThrottle, [1310, 2, 22]),
    (Truck::Built, Case::LandingOnBrake, [1482, 2, 74]),
    (Truck::Built, Case::LandingCoasting, [2422, 0, 10]),
    (Truck::Built, Case::Reversal, [3474, 9, 157]),
    (Truck::Built, Case::WheelStop, [5197, 33, 845]),
    (Truck::Rocking, Case::Launch, [1520, 0, 54]),
    (Truck::Rocking, Case::FullBrake, [1644, 3, 72]),
    (Truck::Rocking, Case::LandingOnThrottle, [1310, 2, 22]),
    (Truck::Rocking, Case::LandingOnBrake, [1482, 2, 74]),
    (Truck::Rocking, Case::LandingCoasting, [2422, 0, 10]),
    (Truck::Rocking, Case::Reversal, [3441, 12, 152]),
    (Truck::Rocking, Case::WheelStop, [6526, 37, 1057]),
    (Truck::ClutchAndSlap, Case::Launch, [3067, 1, 69]),
    (Truck::ClutchAndSlap, Case::FullBrake, [1544, 1, 58]),
    (Truck::ClutchAndSlap, Case::LandingOnThrottle, [1707, 4, 94]),
    (Truck::ClutchAndSlap, Case::LandingOnBrake, [1705, 3, 202]),
    (Truck::ClutchAndSlap, Case::LandingCoasting, [2424, 0, 12]),
    (Truck::ClutchAndSlap, Case::Reversal, [6518, 12, 203]),
    (Truck::ClutchAndSlap, Case::WheelStop, [2390, 2, 326]),
    (Truck::Ringing, Case::Launch, [5168, 2, 192]),
    (Truck::Ringing, Case::FullBrake, [6756, 8, 269]),
    (Truck::Ringing, Case::LandingOnThrottle, [1585, 1, 62]),
    (Truck::Ringing, Case::LandingOnBrake, [53272, 139, 872]),
    (Truck::Ringing, Case::LandingCoasting, [11016, 0, 20]),
    (Truck::Ringing, Case::Reversal, [135859, 533, 1777]),
    (Truck::Ringing, Case::WheelStop, [33357, 80, 1029]),
];

#[test]
fn the_reference_problems_cost_what_they_did() {
    for (truck, case, expected) in EFFORT {
        let effort = simulate(&truck.parameters(), &Event::usual(*case)).unwrap().effort;
        check(*case, [effort.steps, effort.rejected, effort.events], *expected);
    }
}

#[track_caller]
fn check(case: Case, got: [u32; 3], expected: [u32; 3]) {
    for (got_count, count) in got.into_iter().zip(expected) {
        let off = (f64::from(got_count) - f64::from(count)).abs();
        assert!(off <= DRIFT * f64::from(count) + DRIFT_COUNT, "{}: {got:?}, expected about {expected:?}", case.name());
    }
}
