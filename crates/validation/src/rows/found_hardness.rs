//! Hardness in a public table after DIN 50150, which ISO 18265 took over: lines that the program's table holds from
//! memory, and those between them.

use crate::check::{Check, Printed, Status};
use toothsayer_quantity::{Kind, parse};

const TABLE: Printed = Printed {
    subject: "Hardness scales",
    source: "a public table after DIN 50150 (ISO 18265, table A.1): Rockwell C",
    status: Status::Printed,
    unit: "HV",
    tolerance: 1.0,
    because: "0.1 HRC is 0.5 to 1 HV, 1 HBW is 1 HV",
};

/// Every line of the table between 240 and 470 HV.
const LINES: [(f64, f64, f64); 31] = [
    (240.0, 228.0, 20.3),
    (245.0, 233.0, 21.3),
    (250.0, 238.0, 22.2),
    (255.0, 242.0, 23.1),
    (260.0, 247.0, 24.0),
    (265.0, 252.0, 24.8),
    (270.0, 257.0, 25.6),
    (275.0, 261.0, 26.4),
    (280.0, 266.0, 27.1),
    (285.0, 271.0, 27.8),
    (290.0, 276.0, 28.5),
    (295.0, 280.0, 29.2),
    (300.0, 285.0, 29.8),
    (310.0, 295.0, 31.0),
    (320.0, 304.0, 32.2),
    (330.0, 314.0, 33.3),
    (340.0, 323.0, 34.4),
    (350.0, 333.0, 35.5),
    (360.0, 342.0, 36.6),
    (370.0, 352.0, 37.7),
    (380.0, 361.0, 38.8),
    (390.0, 371.0, 39.8),
    (400.0, 380.0, 40.8),
    (410.0, 390.0, 41.8),
    (420.0, 399.0, 42.7),
    (430.0, 409.0, 43.6),
    (440.0, 418.0, 44.5),
    (450.0, 428.0, 45.3),
    (460.0, 437.0, 46.1),
    (470.0, 447.0, 46.9),
    (200.0, 190.0, f64::NAN),
];

pub(super) fn rows() -> Vec<Check> {
    let brinell = Printed { source: "the same table: Brinell", ..TABLE };
    let read = |reading: String| parse(Kind::Hardness, &reading).map(|reading| reading.si);
    let rockwell = LINES.iter().filter(|(_, _, hrc)| hrc.is_finite());
    let rockwell = rockwell.map(|(hv, _, hrc)| TABLE.row(format!("{hrc} HRC"), *hv, read(format!("{hrc} HRC"))));
    let by_ball = LINES.iter().map(|(hv, hbw, _)| brinell.row(format!("{hbw} HBW"), *hv, read(format!("{hbw} HBW"))));
    rockwell.chain(by_ball).collect()
}
