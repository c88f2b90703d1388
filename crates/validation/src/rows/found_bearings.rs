//! Bearing lives in textbook examples that were looked up.

use super::found_gears::lbf;
use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::bearing::{AxialFactors, DutyStep, Life, LifeParameters, Load, mean_duty};
use toothsayer_mechanics::range::OutOfRange;
use toothsayer_quantity::{AngularSpeed, Force};

const JINDAL: Printed = Printed {
    subject: "Bearings",
    source: "Jindal, Machine Design, example 18-6, as a public notebook works it (load factor 1.4, 720 rpm)",
    status: Status::Printed,
    unit: "h",
    tolerance: 0.5,
    because: "half of the last printed digit",
};

pub(super) fn rows() -> Vec<Check> {
    [reactions(), two_duties(), pounds()].concat()
}

fn life(rating: Force, load: Force) -> Result<Option<Life>, OutOfRange> {
    Life::basic(LifeParameters { rating, load })
}

fn hours(rating: Force, load: Force, rpm: f64) -> Result<f64, OutOfRange> {
    let Some(life) = life(rating, load)? else { return Ok(f64::NAN) };
    life.at(AngularSpeed::rpm(rpm)).map(|time| time.to_h())
}

fn reactions() -> Vec<Check> {
    let of = |c_n: f64, vertical_n: f64, across_n: f64| {
        hours(Force::n(c_n), Force::n(1.4 * vertical_n.hypot(across_n)), 720.0)
    };
    vec![
        JINDAL.row("C 3120 N, reactions 236.2 and 108.56 N", 14585.0, of(3120.0, 236.2, 108.56)),
        JINDAL.row("C 2700 N, reactions 186.5 and 36.2 N", 24216.0, of(2700.0, 186.5, 36.2)),
    ]
}

/// 600 N with 200 N along the axis at 1440 rpm for 2/3 of the time, 300 N with 120 N at 720 rpm for 1/3.
fn two_duties() -> Vec<Check> {
    let book = Printed {
        source: "Jindal, example 18-10, in the notebook (C 1430 N; e 0.3795 and Y 1.13 read from the older table)",
        tolerance: 0.5e-2,
        ..JINDAL
    };
    let factors = AxialFactors { limit: 0.3795, axial: 1.13 };
    let equivalent =
        |radial_n, axial_n| factors.equivalent_dynamic(&Load { radial: Force::n(radial_n), axial: Force::n(axial_n) });
    let mean = || {
        let step = |load, rpm, time_share| DutyStep { load, speed: AngularSpeed::rpm(rpm), time_share };
        let (heavy, light) = (equivalent(600.0, 200.0)?, equivalent(300.0, 120.0)?);
        mean_duty(&[step(heavy, 1440.0, 2.0 / 3.0), step(light, 720.0, 1.0 / 3.0)])
    };
    let lived = || mean()?.map_or(Ok(f64::NAN), |mean| hours(Force::n(1430.0), mean.load, mean.speed.to_rpm()));
    let rpm = mean().map(|mean| mean.map_or(f64::NAN, |mean| mean.speed.to_rpm()));
    vec![book.row("life", 227.66, lived()), book.with("rpm", 0.5).row("mean speed", 1200.0, rpm)]
}

fn pounds() -> Vec<Check> {
    let first = Printed {
        source: "Wentzell, Machine Design, example 20.1, as a public notebook works it (C 5050 lbf, P 2400 lbf, 1750 rpm)",
        tolerance: 0.5e-2,
        ..JINDAL
    };
    let millions = |c_lbf: f64, p_lbf: f64| {
        life(lbf(c_lbf), lbf(p_lbf)).map(|life| life.map_or(f64::NAN, |life| life.million_revolutions()))
    };
    let second = Printed {
        source: "Wentzell, example 20.2, in the notebook (P 2400 lbf for 21 million turns: C 6621.42 lbf)",
        unit: "million turns",
        tolerance: 1e-4,
        because: "half of the last digit of C",
        ..first
    };
    let third = Printed {
        source: "Wentzell, example 20.4, in the notebook (C 3350 lbf, P 1095 lbf)",
        unit: "million turns",
        tolerance: 0.5e-8,
        ..first
    };
    vec![
        first.row("life", 88.73, hours(lbf(5050.0), lbf(2400.0), 1750.0)),
        second.row("life with that C", 21.0, millions(6621.42, 2400.0)),
        third.row("life", 28.63466216, millions(3350.0, 1095.0)),
    ]
}
