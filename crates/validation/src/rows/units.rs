//! Unit conversions.

use crate::check::{Check, Printed, Status};
use toothsayer_quantity::{Kind, parse};

const SUBJECT: &str = "Units";

pub(super) fn rows() -> Vec<Check> {
    let nist = Printed {
        subject: SUBJECT,
        source: "NIST SP 811 (2008), appendix B.8",
        status: Status::Memory,
        unit: "",
        tolerance: 1e-6,
        because: "printed to seven digits",
    };
    let rows = [
        ("1 lb", Kind::Mass, "kg", 0.453_592_4),
        ("1 oz", Kind::Mass, "kg", 0.028_349_52),
        ("1 lbf", Kind::Force, "N", 4.448_222),
        ("1 in", Kind::Length, "m", 0.0254),
        ("1 ft/s", Kind::Speed, "m/s", 0.3048),
        ("1 mph", Kind::Speed, "m/s", 0.447_04),
        ("1 lbf*in", Kind::Torque, "N·m", 0.112_984_8),
        ("1 lbf*ft", Kind::Torque, "N·m", 1.355_818),
        ("1 ozf*in", Kind::Torque, "N·m", 7.061_552e-3),
        ("1 lbf/in", Kind::LinearStiffness, "N/m", 175.126_8),
        ("68 degF", Kind::Temperature, "K", 293.15),
        ("212 degF", Kind::Temperature, "K", 373.15),
    ];
    let read = |text: &str, kind: Kind| parse(kind, text).map(|reading| reading.si);
    rows.iter().map(|(text, kind, unit, si)| nist.with(unit, 1e-6).share(*text, *si, read(text, *kind))).collect()
}
