//! A tightening window in words.

use toothsayer_quantity::{System, Torque, Unit, pretty};

/// A tightening window as a driver can be set: the low end rounded up, the high end down.
pub fn torque_window(low: Torque, high: Torque, system: System) -> String {
    let unit = if system == System::Us { "lbf*in" } else { "N*m" };
    let Some(unit) = Unit::find(unit) else { return String::new() };
    let fineness = if system == System::Us { 10.0 } else { 100.0 };
    let low = (unit.from_si(low.to_n_m()) * fineness).ceil() / fineness;
    let high = (unit.from_si(high.to_n_m()) * fineness).floor() / fineness;
    format!("{low} to {high} {}", pretty(unit.symbol))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_window_is_rounded_inwards() {
        let window = |system| torque_window(Torque::n_m(2.031), Torque::n_m(3.869), system);
        assert_eq!(window(System::Metric), "2.04 to 3.86 N·m");
        assert_eq!(window(System::Us), "18 to 34.2 lbf·in");
    }
}
