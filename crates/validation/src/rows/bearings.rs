//! Bearings: ratings, factors, life.

use crate::check::{Check, Printed, Status, misprint};
use toothsayer_mechanics::bearing::{
    AxialFactors, Bearing, DutyStep, Life, LifeParameters, Load, find, mean_duty, reliability_factor,
};
use toothsayer_mechanics::range::OutOfRange;
use toothsayer_quantity::{AngularSpeed, Force};

const SUBJECT: &str = "Bearings";

pub(super) fn rows() -> Vec<Check> {
    [ratings(), axial(), textbook(), duty(), reliability(), speed()].concat()
}

fn of(name: &str, read: fn(&Bearing) -> Result<f64, OutOfRange>) -> Result<f64, OutOfRange> {
    find(name).map_or(Ok(f64::NAN), read)
}

fn ratings() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "published table by ISO dimension, against the formulas of ISO 281 and ISO 76 with the ball set inferred",
        status: Status::Printed,
        unit: "N",
        tolerance: 0.006,
        because: "printed to two or three digits",
    };
    let printed = [
        ("10x15x3", 855.0, 435.0, 15.7),
        ("10x19x5", 1830.0, 925.0, 14.8),
        ("10x22x6", 2700.0, 1270.0, 14.0),
        ("10x26x8", 4550.0, 1960.0, 12.4),
        ("12x18x4", 930.0, 530.0, 16.2),
        ("12x21x5", 1920.0, 1040.0, 15.3),
    ];
    let row = |(name, dynamic, fixed, factor): &(&str, f64, f64, f64)| {
        [
            table.share(format!("{name}, C"), *dynamic, of(name, |row| row.balls.dynamic_rating().map(Force::to_n))),
            table.share(format!("{name}, C0"), *fixed, of(name, |row| row.balls.static_rating().map(Force::to_n))),
            table.with("", 0.11).row(format!("{name}, f0"), *factor, of(name, |row| row.balls.static_factor())),
        ]
    };
    printed.iter().flat_map(row).collect()
}

fn axial() -> Vec<Check> {
    let iso = Printed {
        subject: SUBJECT,
        source: "ISO 281:2007, table 3, radial contact ball bearings",
        status: Status::Memory,
        unit: "",
        tolerance: 1e-12,
        because: "the table is read",
    };
    let table = [
        (0.172, 0.19, 2.30),
        (0.345, 0.22, 1.99),
        (0.689, 0.26, 1.71),
        (1.03, 0.28, 1.55),
        (1.38, 0.30, 1.45),
        (2.07, 0.34, 1.31),
        (3.45, 0.38, 1.15),
        (5.17, 0.42, 1.04),
        (6.89, 0.44, 1.00),
    ];
    let mut rows = Vec::new();
    for (relative, limit, factor) in table {
        let got = || AxialFactors::of(relative);
        rows.push(iso.row(format!("e at {relative}"), limit, got().map(|factors| factors.limit)));
        rows.push(iso.row(format!("Y at {relative}"), factor, got().map(|factors| factors.axial)));
    }
    let older = Printed {
        source: "a university's design guide: the older table by Fa/C0 (f0 about 13.8 joins the two)",
        status: Status::Printed,
        tolerance: 0.06,
        because: "the two tables are rounded differently",
        ..iso
    };
    for (share, limit, factor) in
        [(0.025, 0.22, 2.0), (0.04, 0.24, 1.8), (0.07, 0.27, 1.6), (0.13, 0.31, 1.4), (0.25, 0.37, 1.2)]
    {
        let got = || AxialFactors::of(13.8 * share);
        rows.push(older.with("", 0.015).row(format!("e at {share}"), limit, got().map(|factors| factors.limit)));
        rows.push(older.row(format!("Y at {share}"), factor, got().map(|factors| factors.axial)));
    }
    rows
}

fn life(rating_n: f64, load_n: f64) -> Result<f64, OutOfRange> {
    let life = Life::basic(LifeParameters { rating: Force::n(rating_n), load: Force::n(load_n) })?;
    Ok(life.map_or(f64::NAN, |life| life.million_revolutions()))
}

fn textbook() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Jindal, Machine Design, example 18-2 (C 5590 N, Fr 1250 N, Fa 625 N, Y 1.2)",
        status: Status::Printed,
        unit: "million turns",
        tolerance: 0.05,
        because: "half of the last printed digit",
    };
    let combined = |rotation: f64| {
        let load = Load { radial: Force::n(rotation * 1250.0), axial: Force::n(625.0) };
        let equivalent = AxialFactors { limit: 0.37, axial: 1.2 }.equivalent_dynamic(&load)?;
        life(5590.0, equivalent.to_n())
    };
    let hours = || {
        let life = Life::basic(LifeParameters { rating: Force::kn(41.0), load: Force::kn(20.0) })?;
        life.map_or(Ok(f64::NAN), |life| life.at(AngularSpeed::rpm(720.0)).map(|time| time.to_h()))
    };
    let other =
        Printed { source: "Jindal, example 18-4 (C 41 kN, P 20 kN, 720 rpm)", unit: "h", tolerance: 1e-3, ..book };
    vec![
        book.row("rotating inner ring", 57.3, combined(1.0)),
        book.row("rotating outer ring", 43.46, combined(1.2)),
        other.row("life", 199.424, hours()),
    ]
}

fn duty() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Jindal, example 18-9 (3, 4, 5 kN at 1440, 1080, 720 rpm for 1/4, 1/2, 1/4 of the time)",
        status: Status::Printed,
        unit: "N",
        tolerance: 0.05,
        because: "half of the last printed digit",
    };
    let step = |kn, rpm, time_share| DutyStep { load: Force::kn(kn), speed: AngularSpeed::rpm(rpm), time_share };
    let steps = [step(3.0, 1440.0, 0.25), step(4.0, 1080.0, 0.5), step(5.0, 720.0, 0.25)];
    let mean = || mean_duty(&steps).map(|mean| mean.map_or(f64::NAN, |mean| mean.load.to_n()));
    // 10 000 h at the mean speed of 1080 rpm are 648 million turns.
    let needed = mean().map(|mean_n| mean_n * 648f64.cbrt());
    vec![book.row("mean load", 3954.3, mean()), book.with("N", 2.0).row("C for 10 000 h", 34_219.0, needed)]
}

fn reliability() -> Vec<Check> {
    let iso = Printed {
        subject: SUBJECT,
        source: "ISO 281:2007, table 12, life adjustment factor a1",
        status: Status::Memory,
        unit: "",
        tolerance: 0.0061,
        because: "the table rounds the curve to two digits",
    };
    let rows = [(0.95, 0.64), (0.96, 0.55), (0.97, 0.47), (0.98, 0.37), (0.99, 0.25)];
    let mut out: Vec<Check> =
        rows.iter().map(|(r, a1)| iso.row(format!("{} %", r * 100.0), *a1, reliability_factor(*r))).collect();
    out.push(iso.with("", 5e-4).row("99.9 %", 0.093, reliability_factor(0.999)));
    let old = Printed { source: "ISO 281:1990, a1 (another table, which must not come out)", tolerance: 0.015, ..iso };
    let rows = [(0.95, 0.62), (0.96, 0.53), (0.97, 0.44), (0.98, 0.33), (0.99, 0.21)];
    out.extend(rows.iter().map(|(r, a1)| misprint(old.row(format!("{} %", r * 100.0), *a1, reliability_factor(*r)))));
    out
}

fn speed() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "n dm of speeds that a published table allows with grease and oil",
        status: Status::Printed,
        unit: "mm/min",
        tolerance: 600.0,
        because: "printed to a thousand",
    };
    let at = |name: &str, rpm: f64| {
        find(name).map_or(Ok(f64::NAN), |row| row.speed_factor_mm_per_min(AngularSpeed::rpm(rpm)))
    };
    let rows = [
        ("10x19x5", 32e3, 464e3),
        ("10x19x5", 38e3, 551e3),
        ("10x26x8", 29e3, 522e3),
        ("10x26x8", 34e3, 612e3),
        ("12x21x5", 29e3, 479e3),
        ("12x21x5", 34e3, 561e3),
    ];
    rows.iter().map(|(name, rpm, factor)| table.row(format!("{name} at {rpm} rpm"), *factor, at(name, *rpm))).collect()
}
