//! Why a shock event cannot be computed.

use super::Case;

/// Why a shock event cannot be computed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DrivelineError {
    /// The wheels weigh as much as the truck or more: nothing is left on the suspension.
    #[error(
        "{wheel_count} wheels of {wheel_mass_kg} kg leave nothing of a truck of {truck_mass_kg} kg on its suspension"
    )]
    NoSprungMass {
        /// Mass of the truck, kg.
        truck_mass_kg: f64,
        /// Number of wheels.
        wheel_count: u32,
        /// Mass of one wheel, kg.
        wheel_mass_kg: f64,
    },
    /// More wheels are driven than the truck has.
    #[error("{driven_wheels} driven wheels, of {wheel_count} that the truck has")]
    MoreDrivenThanThere {
        /// Driven wheels.
        driven_wheels: u32,
        /// All wheels.
        wheel_count: u32,
    },
    /// A slipping clutch is resolved through the shaft's damper, so it needs one.
    #[error("shaft damping ratio is {damping_ratio}, with a clutch it must be at least {min}")]
    ClutchWithoutDamping {
        /// The damping ratio given.
        damping_ratio: f64,
        /// Least damping ratio allowed together with a clutch.
        min: f64,
    },
    /// The event needs more steps than allowed: a part is far stiffer than the rest.
    #[error("{} needs more than {max_steps} steps, it got to {reached_s} s of {duration_s} s", .case.name())]
    TooManySteps {
        /// The load case.
        case: Case,
        /// The bound on accepted and rejected steps together.
        max_steps: u32,
        /// How far the simulation came, s.
        reached_s: f64,
        /// How far it should have come, s.
        duration_s: f64,
    },
    /// The event was left before it had an answer.
    #[error("{} was not computed to its end", .case.name())]
    Left {
        /// The load case.
        case: Case,
    },
    /// Two runs of increasing accuracy do not agree about a peak.
    #[error("{what} of {} is not settled: {coarse} {unit} and {fine} {unit} at successive tolerances", .case.name())]
    NotConverged {
        /// The load case.
        case: Case,
        /// Which peak.
        what: &'static str,
        /// The peak at the looser tolerance, in `unit`.
        coarse: f64,
        /// The peak at the tightest tolerance, in `unit`.
        fine: f64,
        /// Unit of both.
        unit: &'static str,
    },
    /// The book of energy does not close.
    #[error("the energy book of {} is open by {residual} of its largest entry, allowed is {max}", .case.name())]
    EnergyLost {
        /// The load case.
        case: Case,
        /// What is missing, as a part of the largest entry.
        residual: f64,
        /// Largest residual allowed.
        max: f64,
    },
    /// No load case has this name.
    #[error("no load case is called {name:?}, the cases are {}", Case::names())]
    UnknownCase {
        /// The name given.
        name: String,
    },
}
