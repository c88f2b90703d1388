//! Set screws.

use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::screw::{ScrewError, Seat, Securing, SetScrew, SetScrewParameters, SetScrewRow};
use toothsayer_quantity::Length;

const SUBJECT: &str = "Set screws";
const LBF_N: f64 = 4.448_221_615_260_5;

pub(super) fn rows() -> Vec<Check> {
    let torque = Printed {
        subject: SUBJECT,
        source: "Shigley, table 7-4, cup-point set screws",
        status: Status::Memory,
        unit: "",
        tolerance: 1e-9,
        because: "the table is read",
    };
    let table = [
        ("#0", 1.0, 50.0),
        ("#1", 1.8, 65.0),
        ("#2", 1.8, 85.0),
        ("#3", 5.0, 120.0),
        ("#4", 5.0, 160.0),
        ("#5", 10.0, 200.0),
        ("#6", 10.0, 250.0),
        ("#8", 20.0, 385.0),
        ("#10", 36.0, 540.0),
        ("1/4", 87.0, 1000.0),
        ("5/16", 165.0, 1500.0),
        ("3/8", 290.0, 2000.0),
    ];
    let row = |(size, lbf_in, lbf): &(&str, f64, f64)| {
        let found = || SetScrewRow::find(size);
        [
            torque.row(
                format!("{size}, seating torque in lbf·in"),
                *lbf_in,
                found().map(|row| row.torque.to_n_m() / (LBF_N * 0.0254)),
            ),
            torque.row(format!("{size}, holding force in lbf"), *lbf, found().map(|row| row.force.to_n() / LBF_N)),
        ]
    };
    let mut rows: Vec<Check> = table.iter().flat_map(row).collect();
    rows.extend(holding());
    rows
}

fn holding() -> Vec<Check> {
    let public = Printed {
        subject: SUBJECT,
        source: "a public table of torsional holding power of small set screws",
        status: Status::Printed,
        unit: "lbf·in",
        tolerance: 0.07,
        because: "printed to two digits",
    };
    let at = |size: &str, shaft_in: f64| -> Result<f64, ScrewError> {
        let row = SetScrewRow::find(size)?;
        let screw = SetScrew::new(SetScrewParameters {
            row,
            torque: row.torque,
            seat: Seat::Round,
            securing: Securing::Fresh,
            shaft_diameter: Length::inch(shaft_in),
        })?;
        Ok(screw.holding_torque().to_n_m() / (LBF_N * 0.0254))
    };
    let rows = [
        ("#0", "1/16", 1.0 / 16.0, 1.5),
        ("#1", "1/16", 1.0 / 16.0, 2.0),
        ("#2", "1/16", 1.0 / 16.0, 2.6),
        ("#0", "3/32", 3.0 / 32.0, 2.3),
        ("#1", "3/32", 3.0 / 32.0, 3.0),
        ("#2", "3/32", 3.0 / 32.0, 4.0),
    ];
    rows.iter()
        .map(|(size, name, shaft, holds)| public.row(format!("{size} on {name} in"), *holds, at(size, *shaft)))
        .collect()
}
