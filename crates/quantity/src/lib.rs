//! Lengths, masses, torques, money: values in SI, parsed from and shown in the bench's units.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod hardness;
mod kind;
mod money;
mod nearest;
mod parse;
mod show;
mod unit;
mod values;

pub use kind::Kind;
pub use money::{Currency, Money, MoneyError};
pub use nearest::nearest;
pub use parse::{ParseError, Reading, parse};
pub use show::{System, digits, pretty, show, show_in};
pub use unit::{UNITS, Unit};
pub use values::{
    Angle, AngularSpeed, Area, Current, Force, Hardness, Inertia, Length, LinearDamping, LinearStiffness, Mass,
    MotorConstant, Pressure, Resistance, Speed, Temperature, Time, Torque, TorsionStiffness, Voltage,
};
