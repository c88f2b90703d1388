//! Screws: threads, joints, tightening windows, clamp over time, slip of the motor's joints, set screws.
//!
//! Lengths inside the formulas are in mm and forces in N, as the standards print them; the public
//! structures carry quantity types. Strengths, moduli and creep exponents come in as plain fields: which
//! material has which is another room's data.

mod clamp;
mod embedding;
mod error;
mod joint;
mod limits;
mod loosening;
mod preload;
mod remedy;
mod set_screw;
mod sliding_block;
mod slip;
mod spread;
mod thread;
mod tightness;
mod walking;
mod weakest;
mod window;

pub use clamp::{Clamp, REPORTED_RUNS, RETIGHTENED_EMBEDDING_SHARE};
pub use embedding::SCREW_STEEL_MODULUS;
pub use error::ScrewError;
pub use joint::{HeadMaterial, Joint, JointParameters, REMOVAL_LOSS, Strength, ThreadMaterial, WEAK_END_SHARE};
pub use loosening::{Loosening, SLIP_EVENT_LOSS, SlipEvent};
pub use preload::{Friction, TorqueLaw};
pub use remedy::{NOMINAL_LENGTHS, Opening, Remedy};
pub use set_screw::{HOLDING_SCATTER, SET_SCREWS, Seat, Securing, SetScrew, SetScrewParameters, SetScrewRow};
pub use sliding_block::{ForceSample, Slide, SlidingBlock};
pub use slip::{Overturning, Pattern, SLIP_FRICTION};
pub use spread::Spread;
pub use thread::{Series, THREADS, Thread};
pub use tightness::{SetScrewTool, Tightness};
pub use walking::{EventForces, Place, Walked, WalkingJoint};
pub use weakest::{Capacities, StrengthEnd, Weakest};
pub use window::{TorqueVerdict, Window};
