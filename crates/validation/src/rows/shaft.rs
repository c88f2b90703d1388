//! The motor's shaft as a beam.

use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::range::OutOfRange;
use toothsayer_mechanics::shaft::{Bending, OuterSupport, Pocket, Shaft, ShaftParameters};
use toothsayer_quantity::{Force, Length, LinearStiffness};

const SUBJECT: &str = "Beams";

/// A figure of a shaft under 400 N.
pub(super) fn bend(
    diameter_mm: f64,
    load_mm: f64,
    support_mm: Option<f64>,
    read: fn(&Bending) -> f64,
) -> Result<f64, OutOfRange> {
    let support =
        support_mm.map(|mm| OuterSupport { distance: Length::mm(mm), stiffness: LinearStiffness::n_per_mm(1e7) });
    let (diameter, overhang) = (Length::mm(diameter_mm), Length::mm(load_mm));
    let shaft = Shaft::new(ShaftParameters { diameter, overhang, support, pocket: Pocket::None })?;
    shaft.bend(Force::n(400.0)).map(|bending| read(&bending))
}

pub(super) fn rows() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Roark's Formulas for Stress and Strain, table 8.1 case 1a, cantilever: F L³/(3 E I), F L²/(2 E I); E 206 GPa, 400 N",
        status: Status::Calculated,
        unit: "mm",
        tolerance: 1e-9,
        because: "rounding",
    };
    let inertia = |d: f64| std::f64::consts::PI * d.powi(4) / 64.0;
    let mut rows = Vec::new();
    for (d, l) in [(5.0, 18.0), (8.0, 15.0), (8.0, 25.0)] {
        let rigidity = 206_000.0 * inertia(d);
        let of = format!("{d} mm, {l} mm out");
        rows.push(table.share(
            format!("{of}, deflection"),
            400.0 * l * l * l / (3.0 * rigidity),
            bend(d, l, None, |b| b.deflection.to_mm()),
        ));
        rows.push(table.with("rad", 1e-9).share(
            format!("{of}, slope"),
            400.0 * l * l / (2.0 * rigidity),
            bend(d, l, None, |b| b.slope.to_rad()),
        ));
        rows.push(table.with("N/mm²", 1e-9).share(
            format!("{of}, stress"),
            32.0 * 400.0 * l / (std::f64::consts::PI * d.powi(3)),
            bend(d, l, None, |b| b.stress.to_mpa()),
        ));
    }
    let propped = Printed {
        source: "Shigley, table A-9 case 12, fixed and supported beam: R = F L² (3D − L)/(2 D³), Mwall = F L (D − L)(2D − L)/(2 D²)",
        unit: "N",
        tolerance: 1e-3,
        because: "the stiffest support allowed stands for a rigid one",
        ..table
    };
    for (l, d) in [(10.0f64, 20.0f64), (18.0, 30.0), (20.0, 60.0)] {
        let of = format!("load at {l} mm, support at {d} mm");
        let reaction = 400.0 * l * l * (3.0 * d - l) / (2.0 * d.powi(3));
        let wall = 400.0 * l * (d - l) * (2.0 * d - l) / (2.0 * d * d);
        rows.push(propped.share(
            format!("{of}, reaction"),
            reaction,
            bend(2.0, l, Some(d), |b| b.support_reaction.to_n()),
        ));
        rows.push(propped.with("N·mm", 2e-3).share(
            format!("{of}, moment at the wall"),
            wall,
            bend(2.0, l, Some(d), |b| b.fixed_end_moment.to_n_mm()),
        ));
    }
    rows
}
