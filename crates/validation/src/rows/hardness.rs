//! Hardness scales.

use crate::check::{Check, Printed, Status};
use toothsayer_quantity::{Kind, ParseError, Unit, parse};

const SUBJECT: &str = "Hardness scales";

/// Vickers hardness of a reading such as "49.1 HRC".
fn hv(reading: String) -> Result<f64, ParseError> {
    parse(Kind::Hardness, &reading).map(|reading| reading.si)
}

/// A Vickers hardness in another scale.
fn in_scale(hv: f64, scale: &str) -> f64 {
    Unit::find(scale).map_or(f64::NAN, |unit| unit.from_si(hv))
}

pub(super) fn rows() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 18265:2013, table A.1, unalloyed and low-alloy steels",
        status: Status::Memory,
        unit: "HV",
        tolerance: 2.0,
        because: "the table rounds to 5 HV and 0.1 HRC",
    };
    let from_hrc = [
        (20.3, 240.0),
        (24.0, 260.0),
        (27.1, 280.0),
        (29.8, 300.0),
        (32.2, 320.0),
        (34.4, 340.0),
        (36.6, 360.0),
        (40.8, 400.0),
        (45.3, 450.0),
        (49.1, 500.0),
        (52.3, 550.0),
        (55.2, 600.0),
        (57.8, 650.0),
        (60.1, 700.0),
        (62.2, 750.0),
        (64.0, 800.0),
    ];
    let mut rows: Vec<Check> = from_hrc
        .iter()
        .map(|(hrc, vickers)| table.row(format!("{hrc} HRC"), *vickers, hv(format!("{hrc} HRC"))))
        .collect();
    let from_hbw = [(238.0, 250.0), (285.0, 300.0), (333.0, 350.0), (380.0, 400.0), (428.0, 450.0), (475.0, 500.0)];
    rows.extend(
        from_hbw.iter().map(|(hbw, vickers)| table.row(format!("{hbw} HBW"), *vickers, hv(format!("{hbw} HBW")))),
    );
    let american = Printed {
        source: "ASTM E140, table 1 (its own fit of the same steels): Rockwell C",
        unit: "HV",
        tolerance: 0.025,
        because: "the two standards' tables differ by up to 2 % where both speak",
        ..table
    };
    let e140 =
        [(60.0, 697.0), (55.0, 595.0), (50.0, 513.0), (45.0, 446.0), (40.0, 392.0), (35.0, 345.0), (30.0, 302.0)];
    rows.extend(
        e140.iter().map(|(hrc, vickers)| american.share(format!("{hrc} HRC"), *vickers, hv(format!("{hrc} HRC")))),
    );
    let back = Printed {
        source: "ISO 18265:2013, table A.1, read backwards",
        unit: "",
        tolerance: 0.2,
        because: "the table rounds to 0.1 HRC and 1 HBW",
        ..table
    };
    rows.push(back.sure("500 HV in HRC", 49.1, in_scale(500.0, "HRC")));
    rows.push(back.with("", 1.0).sure("320 HV in HBW", 304.0, in_scale(320.0, "HBW")));
    rows
}
