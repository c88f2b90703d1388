//! The rows, by subject.

mod bearings;
mod found_bearings;
mod found_gears;
mod found_hardness;
mod found_motor;
mod found_networks;
mod found_shaft;
mod found_shares;
mod found_shock;
mod found_threads;
mod found_units;
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
        found_gears::geometry(),
        measuring::rows(),
        found_gears::measuring(),
        strength::rows(),
        found_gears::strength(),
        materials::rows(),
        hardness::rows(),
        found_hardness::rows(),
        threads::rows(),
        found_threads::rows(),
        screws::rows(),
        set_screws::rows(),
        bearings::rows(),
        found_bearings::rows(),
        shaft::rows(),
        found_shaft::rows(),
        motor::rows(),
        found_motor::rows(),
        shock::rows(),
        found_shock::rows(),
        networks::rows(),
        found_networks::rows(),
        found_shares::rows(),
        units::rows(),
        found_units::rows(),
    ]
    .concat()
}
