//! A build: one state of the truck and its driver, every value typed and at hand.

mod parts;
mod read;

pub use parts::{
    Battery, Build, Controller, Driveline, Driver, GearBody, Gears, Joint, Motor, SetScrew, Stack, Support, Suspension,
    Tightening, Truck, Wheels,
};
pub use read::Pick;
pub(crate) use read::{OWN_PITCH, common_pitch, pair_spec, pitches};

/// A value that a build needs and the sheet does not have.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{key}` has no value")]
pub struct MissingValue {
    /// Its key.
    pub key: &'static str,
}
