//! Threads in tables that were looked up: fine pitches, internal threads, inch areas.

use crate::check::{Check, Printed, Status, misprint};
use toothsayer_mechanics::screw::{ScrewError, Series, Thread};
use toothsayer_quantity::Length;

const FINE: Printed = Printed {
    subject: "Threads and heads",
    source: "a public table of metric fine threads after ISO 724",
    status: Status::Printed,
    unit: "mm",
    tolerance: 0.5e-3,
    because: "half of the last printed digit",
};

pub(super) fn rows() -> Vec<Check> {
    [fine(), fine_areas(), wrong_areas(), internal(), inch_areas()].concat()
}

/// A thread of any diameter and pitch, mm.
fn metric(diameter_mm: f64, pitch_mm: f64) -> Result<Thread, ScrewError> {
    let (diameter, pitch) = (Length::mm(diameter_mm), Length::mm(pitch_mm));
    Thread::find("M8").map(|row| Thread { diameter, pitch, ..*row })
}

fn fine() -> Vec<Check> {
    let printed = [
        (8.0, 1.0, 7.350, 6.773, 6.917),
        (8.0, 0.75, 7.513, 7.080, 7.188),
        (10.0, 1.25, 9.188, 8.466, 8.647),
        (12.0, 1.5, 11.026, 10.160, 10.376),
        (16.0, 1.0, 15.350, 14.773, 14.917),
        (20.0, 2.0, 18.701, 17.546, 17.835),
    ];
    let row = |(d, p, pitch, root, minor): (f64, f64, f64, f64, f64)| {
        let of = |read: fn(&Thread) -> Length| metric(d, p).map(|thread| read(&thread).to_mm());
        [
            FINE.row(format!("M{d}x{p}, pitch diameter"), pitch, of(Thread::pitch_diameter)),
            FINE.row(format!("M{d}x{p}, root diameter"), root, of(Thread::root_diameter)),
            FINE.row(format!("M{d}x{p}, minor diameter"), minor, of(Thread::minor_diameter)),
        ]
    };
    printed.into_iter().flat_map(row).collect()
}

fn area(d: f64, p: f64) -> Result<f64, ScrewError> {
    metric(d, p).map(|thread| thread.stress_area().to_mm2())
}

fn fine_areas() -> Vec<Check> {
    let table = Printed {
        source: "the same table: stress areas",
        unit: "mm²",
        tolerance: 0.05,
        because: "half of the last printed digit",
        ..FINE
    };
    let printed = [(8.0, 1.0, 39.2), (10.0, 1.25, 61.2), (10.0, 1.0, 64.5), (12.0, 1.5, 88.1), (12.0, 1.25, 92.1)];
    let mut rows: Vec<Check> =
        printed.iter().map(|(d, p, mm2)| table.row(format!("M{d}x{p}"), *mm2, area(*d, *p))).collect();
    let whole = table.with("mm²", 0.5);
    rows.extend(
        [(14.0, 1.5, 125.0), (16.0, 1.5, 167.0)]
            .iter()
            .map(|(d, p, mm2)| whole.row(format!("M{d}x{p}"), *mm2, area(*d, *p))),
    );
    rows
}

/// These areas do not follow from the diameters that stand beside them.
fn wrong_areas() -> Vec<Check> {
    let table = Printed {
        source: "the same table: stress areas that its own d2 and d3 contradict",
        unit: "mm²",
        tolerance: 0.01,
        because: "a share; the print lies 1.4 to 9 % above π/4 ((d2 + d3)/2)²",
        ..FINE
    };
    let printed = [
        (8.0, 0.75, 44.2),
        (10.0, 0.75, 72.7),
        (12.0, 1.0, 98.0),
        (14.0, 1.25, 131.0),
        (16.0, 1.0, 182.0),
        (18.0, 2.0, 216.0),
        (18.0, 1.5, 232.0),
        (18.0, 1.0, 250.0),
        (20.0, 2.0, 272.0),
        (20.0, 1.5, 290.0),
        (20.0, 1.0, 311.0),
    ];
    let row = |(d, p, mm2): &(f64, f64, f64)| misprint(table.share(format!("M{d}x{p}"), *mm2, area(*d, *p)));
    printed.iter().map(row).collect()
}

fn internal() -> Vec<Check> {
    let table = Printed {
        source: "ASME B1.13M-1995, internal threads 6H, least pitch and minor diameters, in a public table",
        ..FINE
    };
    let printed = [
        (9.0, 1.25, 8.188, 7.647),
        (9.0, 0.5, 8.675, 8.459),
        (10.0, 1.5, 9.026, 8.376),
        (10.0, 1.12, 9.273, 8.788),
        (12.0, 1.75, 10.863, 10.106),
        (14.0, 2.0, 12.701, 11.835),
    ];
    let row = |(d, p, pitch, minor): (f64, f64, f64, f64)| {
        let of = |read: fn(&Thread) -> Length| metric(d, p).map(|thread| read(&thread).to_mm());
        [
            table.row(format!("M{d}x{p}, pitch diameter"), pitch, of(Thread::pitch_diameter)),
            table.row(format!("M{d}x{p}, minor diameter"), minor, of(Thread::minor_diameter)),
        ]
    };
    printed.into_iter().flat_map(row).collect()
}

fn inch_areas() -> Vec<Check> {
    let book = Printed {
        source: "Wentzell, Machine Design, table 6.1, as a public notebook uses it in examples 6.1 and 6.4",
        unit: "in²",
        tolerance: 0.5e-3,
        because: "half of the last printed digit",
        ..FINE
    };
    let of = |inches: f64, per_inch: f64| {
        let (diameter, pitch) = (Length::inch(inches), Length::inch(1.0 / per_inch));
        let thread = Thread::find("1/4-20").map(|row| Thread { series: Series::Unified, diameter, pitch, ..*row });
        thread.map(|thread| thread.stress_area().to_mm2() / 645.16)
    };
    vec![book.row("3/4-10", 0.334, of(0.75, 10.0)), book.row("1 1/4-12", 1.073, of(1.25, 12.0))]
}
