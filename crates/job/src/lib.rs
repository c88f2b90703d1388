//! The bench's words as types: a job's build in its states, findings, prices, and what is assumed.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod begin;
mod build;
mod change;
mod difference;
mod draft;
mod finding;
mod job;
mod problem;
mod read;
mod setting;
mod sheet;
mod shop;
mod stack;
mod start;

pub use begin::{FiveFacts, begin};
pub use build::{
    Battery, Build, Controller, Driveline, Driver, GearBody, Gears, Joint, MissingValue, Motor, Pick, SetScrew, Stack,
    Support, Suspension, Tightening, Truck, Wheels,
};
pub use draft::{Draft, Layer, Place};
pub use finding::Finding;
pub use job::{Assumption, Job, JobError, State};
pub use problem::Problem;
pub use read::{LARGEST_FILE, names};
pub use setting::{Setting, SettingError};
pub use sheet::{Entry, Fields, JointFields, Origin, Sheet, Word};
pub use shop::{Part, Shop};
pub use start::{Class, class_for, classes, complete};
