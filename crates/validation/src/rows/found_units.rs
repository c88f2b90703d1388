//! Conversion factors in tables that were looked up.

use crate::check::{Check, Printed, Status};
use toothsayer_quantity::{Kind, parse};

const METRIC_PRACTICE: Printed = Printed {
    subject: "Units",
    source: "ASTM E380-82, Standard for Metric Practice, as an open program tabulates it",
    status: Status::Printed,
    unit: "",
    tolerance: 0.0,
    because: "half of the seventh digit",
};

type Factor = (&'static str, Kind, &'static str, f64);

pub(super) fn rows() -> Vec<Check> {
    let nist = Printed {
        source: "NIST SP 811 (2008), appendix B.8, as the tests of an open library quote it",
        ..METRIC_PRACTICE
    };
    let practice: [Factor; 15] = [
        ("1 ft", Kind::Length, "m", 3.048e-1),
        ("1 in", Kind::Length, "m", 2.54e-2),
        ("1 deg", Kind::Angle, "rad", 1.745_329e-2),
        ("1 ft^2", Kind::Area, "m²", 9.290_304e-2),
        ("1 in^2", Kind::Area, "m²", 6.4516e-4),
        ("1 ozf*in", Kind::Torque, "N·m", 7.061_552e-3),
        ("1 lbf*in", Kind::Torque, "N·m", 1.129_848e-1),
        ("1 lbf*ft", Kind::Torque, "N·m", 1.355_818),
        ("1 lbf", Kind::Force, "N", 4.448_222),
        ("1 lb", Kind::Mass, "kg", 4.535_924e-1),
        ("1 oz", Kind::Mass, "kg", 2.834_952e-2),
        ("1 psi", Kind::Pressure, "Pa", 6.894_757e3),
        ("1 km/h", Kind::Speed, "m/s", 2.777_778e-1),
        ("1 ft/s", Kind::Speed, "m/s", 3.048e-1),
        ("1 mph", Kind::Speed, "m/s", 4.4704e-1),
    ];
    let quoted: [Factor; 1] = [("1 rpm", Kind::AngularSpeed, "rad/s", 1.047_198e-1)];
    [table(&METRIC_PRACTICE, &practice), table(&nist, &quoted)].concat()
}

/// One row a factor, to half of its seventh digit.
fn table(printed: &Printed, factors: &[Factor]) -> Vec<Check> {
    let row = |(text, kind, unit, si): &Factor| {
        let seventh = 10f64.powi(si.log10().floor() as i32 - 6);
        let read = parse(*kind, text).map(|reading| reading.si);
        printed.with(unit, 0.5 * seventh).row(*text, *si, read)
    };
    factors.iter().map(row).collect()
}
