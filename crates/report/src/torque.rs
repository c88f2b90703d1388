//! Joints in words: their screws, and how tight they are tightened.

use crate::words::value;
use toothsayer_job::Joint;
use toothsayer_quantity::{Kind, System, Torque, Unit, pretty};
use toothsayer_verdict::Windows;

/// A tightening window as a driver can be set: the low end rounded up, the high end down.
pub fn torque_window(low: Torque, high: Torque, system: System) -> String {
    let unit = if system == System::Us { "lbf*in" } else { "N*m" };
    let Some(unit) = Unit::find(unit) else { return String::new() };
    let fineness = if system == System::Us { 10.0 } else { 100.0 };
    let low = (unit.from_si(low.to_n_m()) * fineness).ceil() / fineness;
    let high = (unit.from_si(high.to_n_m()) * fineness).floor() / fineness;
    format!("{low} to {high} {}", pretty(unit.symbol))
}

/// "2.04 to 3.86 N·m, no tighter", with what the maker prints.
pub fn tighten_to(windows: &Windows, joint: &Joint, system: System) -> String {
    let Some(window) = windows.get(&joint.name) else { return "not known".into() };
    let own = match window.is_open() {
        true => format!("{}, no tighter", torque_window(window.low, window.high, system)),
        false => {
            format!("no torque both clamps enough and spares the {}: change the joint first", window.limited_by)
        }
    };
    let printed = joint.printed_torque.map(|torque| value(Kind::Torque, torque.to_n_m(), system));
    printed.map_or(own.clone(), |printed| format!("{own}; the maker prints {printed}: that value wins"))
}

/// "4 of M4 10.9, 16 mm, washer".
pub fn screws(joint: &Joint, system: System) -> String {
    // A metric screw is sold by its length in mm.
    let system = if joint.size.starts_with('M') { System::Metric } else { system };
    let length = value(Kind::Length, joint.length.to_m(), system);
    let washer = if joint.washer { ", washer" } else { "" };
    format!("{} of {} {}, {length}{washer}", joint.screws, joint.size, joint.class)
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
