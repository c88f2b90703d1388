//! The motor over seconds and minutes: speed, current and torque, heat of a run, and the way to a stop.
//!
//! Steady or slow: what the teeth feel in a blow is the business of the shock model, whose motor, drag and inertias
//! are used here as they are.

pub mod heat;
pub mod performance;
pub mod stopping;

mod body;
mod copper;
mod road;
mod run_up;
mod truck;
mod two_mass;

pub use body::{ESTIMATES, ThermalBody, ThermalEstimate};
pub use copper::{COPPER_PER_K, loss_w, resistance_at};
pub use heat::{Duty, Heated, Stretch, after_run};
pub use performance::{BestEfficiency, MotorParameters, OperatingPoint, Steady};
pub use run_up::{RunUp, run_up};
pub use stopping::{Braking, Stop, stop};
pub use truck::{Launch, LaunchLimit, TruckSpeeds};
