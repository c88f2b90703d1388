//! How strongly an input's stated range moves the hardest blow.

use toothsayer_job::Entry;

/// How strongly the hardest blow follows an input, as a power (this model on the example truck).
const POWERS: [(&str, f64); 6] = [
    ("driveline.stiffness", 0.41),
    ("driveline.lash", 0.40),
    ("driver.drop_height", 0.40),
    ("controller.drive_current", 0.27),
    ("motor.rotor_inertia", 0.25),
    ("wheels.mass", 0.20),
];

/// Logarithm of the hardest blow at the one end of the range of the input `key` over that at the other; 0 where the
/// input hardly matters or is known.
pub fn influence(key: &str, entry: &Entry) -> f64 {
    let power = POWERS.iter().find(|(known, _)| *known == key).map_or(0.0, |(_, power)| *power);
    if entry.low > 0.0 && entry.has_spread() { power * (entry.high / entry.low).ln() } else { 0.0 }
}
