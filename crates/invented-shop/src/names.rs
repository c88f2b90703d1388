//! Names that nobody bears: trees and tools put together, so that everyone sees they are invented.

const FIRST: [&str; 12] =
    ["Alder", "Birch", "Cedar", "Elder", "Hazel", "Juniper", "Larch", "Linden", "Maple", "Rowan", "Sorrel", "Willow"];
const LAST: [&str; 14] = [
    "Anvilman",
    "Boltcutter",
    "Chuckkey",
    "Draftsheet",
    "Feelergauge",
    "Gearpuller",
    "Hacksaw",
    "Inkline",
    "Jigplate",
    "Loupe",
    "Mallet",
    "Oilcan",
    "Punchset",
    "Vernier",
];
/// Most different names.
const MOST: usize = FIRST.len() * LAST.len();

/// The name of a customer by their number; a number stands behind it once all have been used.
pub(crate) fn customer(number: usize) -> String {
    // A step without a factor in common with the count goes through all of them before it comes back.
    let place = (number * 29) % MOST;
    let name = format!("{} {}", FIRST[place % FIRST.len()], LAST[place / FIRST.len()]);
    if number < MOST { name } else { format!("{name} {}", number / MOST + 1) }
}

/// A telephone number of those kept for fiction: the North American plan keeps 555-0100 to 555-0199 for it.
pub(crate) fn phone(number: usize) -> String {
    format!("555 01{:02}", number % 100)
}

/// An address that leads nowhere.
pub(crate) fn email(number: usize) -> String {
    format!("customer{number}@invented.example")
}

/// What a customer says when the teeth went.
pub(crate) const SAID: [&str; 6] = [
    "It screamed on the landing, then the motor ran free.",
    "No drive any more after a full brake.",
    "It skipped for two runs, then the teeth were gone.",
    "New gears last month, and the same again.",
    "It went when the throttle came on in the air.",
    "There was a grinding noise, then nothing.",
];

/// What the shop's people are called.
pub(crate) const PEOPLE: [&str; 3] = ["Owner (invented)", "Counter (invented)", "Technician (invented)"];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn no_two_customers_bear_one_name() {
        let names: BTreeSet<String> = (0..1_000).map(customer).collect();
        assert_eq!(names.len(), 1_000);
    }
}
