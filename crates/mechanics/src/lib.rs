//! Gears, screws, shafts, stacks and the driveline's shock: numbers in, numbers out.
//!
//! SI inside; external spur gears; every function says its formula, its validity and its source.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub mod bearing;
pub mod driveline;
pub mod fatigue;
pub mod gear;
pub mod material;
pub mod motor;
pub mod range;
pub mod screw;
pub mod shaft;
pub mod stack;

mod error;

pub use error::Error;
