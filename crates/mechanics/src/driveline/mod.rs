//! The torsional shock model: what the teeth feel when backlash closes under a landing, a brake or a launch.
//!
//! Rotor, spur and wheels as three inertias with a mesh and a shaft between them, each a damped contact across a gap;
//! the truck on its tyres along the road; a sprung and an unsprung mass up and down. Pitch, separate axles, the
//! teeth's changing stiffness and the electrical ripple are left out.

pub mod arithmetic;
pub mod case;
pub mod clutch;
pub mod contact;
pub mod derived;
pub mod energy;
pub mod limits;
pub mod motor;
pub mod outcome;
pub mod real;
pub mod suspension;
pub mod torsion;
pub mod tyre;

mod branches;
mod curve;
mod elementary;
mod equations;
mod error;
mod lanes;
mod locate;
mod pair;
mod parameters;
mod record;
mod run;
mod scales;
mod settle;
mod simulate;
mod solve;
mod state;
mod step;
mod stiff;
mod straight;
mod system;
mod tableau;
mod wide;

pub use case::{Case, Event};
pub use energy::{EnergyBook, Losses};
pub use error::DrivelineError;
pub use outcome::{Blow, Effort, MeshPoint, Outcome, TracePoint};
pub use parameters::Parameters;
pub use simulate::{Options, simulate, simulate_all, simulate_with};
