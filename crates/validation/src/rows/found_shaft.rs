//! A beam table that was looked up: built in at one end, held at the other, loaded at the middle.

use super::shaft::bend;
use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::shaft::Bending;

/// Shaft and its two lengths, mm; the load that `bend` lays on it, N.
const DIAMETER_MM: f64 = 2.0;
const SPAN_MM: f64 = 40.0;
const LOAD_N: f64 = 400.0;

pub(super) fn rows() -> Vec<Check> {
    let table = Printed {
        subject: "Beams",
        source: "a public table of beams, fixed at one end, load P at the centre: 5P/16, 3PL/16, 5PL/32, 7PL³/(768 E I)",
        status: Status::Printed,
        unit: "P",
        tolerance: 1e-4,
        because: "the stiffest support allowed stands for a rigid one",
    };
    let of = |read: fn(&Bending) -> f64| bend(DIAMETER_MM, 0.5 * SPAN_MM, Some(SPAN_MM), read);
    let moment = |read: fn(&Bending) -> f64| of(read).map(|n_mm| n_mm.abs() / (LOAD_N * SPAN_MM));
    let rigidity_n_mm2 = 206_000.0 * std::f64::consts::PI * DIAMETER_MM.powi(4) / 64.0;
    let deflection =
        of(|bending| bending.deflection.to_mm()).map(|mm| mm * rigidity_n_mm2 / (LOAD_N * SPAN_MM.powi(3)));
    vec![
        table.row(
            "reaction of the support",
            5.0 / 16.0,
            of(|bending| bending.support_reaction.to_n()).map(|n| n / LOAD_N),
        ),
        table.with("PL", 1e-4).row(
            "moment at the wall",
            3.0 / 16.0,
            moment(|bending| bending.fixed_end_moment.to_n_mm()),
        ),
        table.with("PL", 1e-4).row("moment at the load", 5.0 / 32.0, moment(|bending| bending.span_moment.to_n_mm())),
        table.with("PL³/(E I)", 1e-6).row("deflection at the load", 7.0 / 768.0, deflection),
    ]
}
