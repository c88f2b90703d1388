//! The rows, by subject.

mod bearings;
mod geometry;
mod hardness;
mod materials;
mod measuring;
mod motor;
mod networks;
mod screws;
mod set_screws;
mod shaft;
mod shock;
mod strength;
mod threads;
mod units;

use crate::check::Check;

/// All of them, in the order of the page.
pub(crate) fn all() -> Vec<Check> {
    [
        geometry::rows(),
        measuring::rows(),
        strength::rows(),
        materials::rows(),
        hardness::rows(),
        threads::rows(),
        screws::rows(),
        set_screws::rows(),
        bearings::rows(),
        shaft::rows(),
        motor::rows(),
        shock::rows(),
        networks::rows(),
        units::rows(),
    ]
    .concat()
}
