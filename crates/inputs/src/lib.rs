//! The registry: every input once, with its range, its stand-in, its help and how to measure it.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bench;
mod chassis;
mod input;
mod mesh;
mod powertrain;

pub use bench::{CARRIED, COMPLAINTS, DRIVER_ROWS, JOB_ROWS, JOINT_ROWS};
pub use input::{Absent, Catalogue, Form, Input};

/// Every input of a build (without its joints) and its driver, in the order of a job file.
pub fn build_inputs() -> impl Iterator<Item = &'static Input> {
    [powertrain::ROWS, mesh::ROWS, chassis::ROWS, DRIVER_ROWS].into_iter().flatten()
}

/// Every input of the registry.
pub fn all() -> impl Iterator<Item = &'static Input> {
    build_inputs().chain(JOINT_ROWS).chain(JOB_ROWS)
}

/// The input with this key.
pub fn find(key: &str) -> Option<&'static Input> {
    all().find(|input| input.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn each_key_stands_once() {
        let keys: BTreeSet<_> = all().map(|input| input.key).collect();
        assert_eq!(keys.len(), all().count());
    }

    #[test]
    fn ranges_hold_their_defaults() {
        for input in all() {
            assert!(input.least <= input.most, "{}", input.key);
            if let Absent::Default { low, usual, high, .. } = input.absent {
                assert!(low <= usual && usual <= high, "{}", input.key);
                assert!(input.least <= low && high <= input.most, "{}", input.key);
            }
        }
    }

    #[test]
    fn numbers_have_limits_and_everything_has_help() {
        for input in all() {
            assert!(!input.help.is_empty(), "{}", input.key);
            assert!(!input.is_number() || input.least > f64::MIN, "{}", input.key);
        }
    }
}
