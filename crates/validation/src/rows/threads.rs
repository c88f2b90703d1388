//! Threads: diameters, stress areas, loads, heads, holes and washers.

use crate::check::{Check, Printed, Status, misprint};
use toothsayer_mechanics::screw::{ScrewError, Thread};
use toothsayer_quantity::Length;

const SUBJECT: &str = "Threads and heads";

pub(super) fn rows() -> Vec<Check> {
    [diameters(), areas(), loads(), inch(), bodies()].concat()
}

fn of(size: &str, read: fn(&Thread) -> f64) -> Result<f64, ScrewError> {
    Thread::find(size).map(read)
}

fn diameters() -> Vec<Check> {
    let iso = Printed {
        subject: SUBJECT,
        source: "ISO 724, pitch and minor diameters; ISO 898-1, root diameters",
        status: Status::Printed,
        unit: "mm",
        tolerance: 5.1e-4,
        because: "half of the last printed digit",
    };
    let printed = [
        ("M2", 1.740, 1.567),
        ("M2.5", 2.208, 2.013),
        ("M3", 2.675, 2.459),
        ("M4", 3.545, 3.242),
        ("M5", 4.480, 4.134),
        ("M6", 5.350, 4.917),
        ("M8", 7.188, 6.647),
    ];
    let row = |(size, pitch, minor): &(&str, f64, f64)| {
        [
            iso.row(format!("{size}, pitch diameter"), *pitch, of(size, |row| row.pitch_diameter().to_mm())),
            iso.row(format!("{size}, minor diameter"), *minor, of(size, |row| row.minor_diameter().to_mm())),
        ]
    };
    let mut rows: Vec<Check> = printed.iter().flat_map(row).collect();
    let root = [("M3", 2.387), ("M4", 3.1412), ("M5", 4.019), ("M6", 4.773), ("M8", 6.466)];
    let of_root = |size| of(size, |row| row.root_diameter().to_mm());
    rows.extend(root.iter().map(|(size, mm)| iso.row(format!("{size}, root diameter"), *mm, of_root(size))));
    rows
}

fn areas() -> Vec<Check> {
    let iso = Printed {
        subject: SUBJECT,
        source: "ISO 898-1, nominal stress areas",
        status: Status::Printed,
        unit: "mm²",
        tolerance: 3e-3,
        because: "printed to three digits",
    };
    let rows = [("M2", 2.07), ("M2.5", 3.39), ("M3", 5.03), ("M4", 8.78), ("M5", 14.2), ("M6", 20.1), ("M8", 36.6)];
    let area = |size| of(size, |row| row.stress_area().to_mm2());
    rows.iter().map(|(size, mm2)| iso.share(*size, *mm2, area(size))).collect()
}

/// The standard's loads are made from its areas of three digits.
fn tabulated_mm2(size: &str) -> Result<f64, ScrewError> {
    let area = of(size, |row| row.stress_area().to_mm2())?;
    let step = 10f64.powi(area.log10().floor() as i32 - 2);
    Ok((area / step).round() * step)
}

fn loads() -> Vec<Check> {
    let iso = Printed {
        subject: SUBJECT,
        source: "ISO 898-1, least tensile and proof loads",
        status: Status::Printed,
        unit: "N",
        tolerance: 6e-3,
        because: "printed to three digits",
    };
    let load = |size: &str, mpa: f64| tabulated_mm2(size).map(|mm2| mm2 * mpa);
    let tensile = [
        ("M3", [2110.0, 4020.0, 5230.0, 6140.0]),
        ("M4", [3690.0, 7020.0, 9130.0, 10700.0]),
        ("M5", [5960.0, 11350.0, 14800.0, 17300.0]),
        ("M6", [8440.0, 16100.0, 20900.0, 24500.0]),
    ];
    let proof =
        [("M3", [2920.0, 4180.0, 4880.0]), ("M5", [8230.0, 11800.0, 13800.0]), ("M6", [11600.0, 16700.0, 19500.0])];
    let mut rows = Vec::new();
    for (size, loads) in tensile {
        for ((class, mpa), n) in [("4.8", 420.0), ("8.8", 800.0), ("10.9", 1040.0), ("12.9", 1220.0)].iter().zip(loads)
        {
            rows.push(iso.share(format!("{size} {class}, tensile"), n, load(size, *mpa)));
        }
    }
    for (size, loads) in proof {
        for ((class, mpa), n) in [("8.8", 580.0), ("10.9", 830.0), ("12.9", 970.0)].iter().zip(loads) {
            rows.push(iso.share(format!("{size} {class}, proof"), n, load(size, *mpa)));
        }
    }
    let page = Printed { source: "a published page with a misprint of the tensile load of M4 10.9", ..iso };
    rows.push(misprint(page.share("M4 10.9, tensile", 91130.0, load("M4", 1040.0))));
    rows
}

fn inch() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Shigley, table 8-2, stress areas of unified threads",
        status: Status::Memory,
        unit: "in²",
        tolerance: 6e-3,
        because: "printed to three digits",
    };
    let rows = [
        ("2-56", 0.00370),
        ("4-40", 0.00604),
        ("6-32", 0.00909),
        ("8-32", 0.0140),
        ("10-24", 0.0175),
        ("10-32", 0.0200),
        ("1/4-20", 0.0318),
    ];
    let area = |size| of(size, |row| row.stress_area().to_mm2() / 645.16);
    let mut out: Vec<Check> = rows.iter().map(|(size, in2)| book.share(*size, *in2, area(size))).collect();
    let large = Thread::find("1/4-20").map(|row| {
        let (diameter, pitch) = (Length::inch(0.75), Length::inch(1.0 / 16.0));
        Thread { diameter, pitch, ..*row }.stress_area().to_mm2() / 645.16
    });
    out.push(book.share("3/4-16", 0.373, large));
    let pitch = Printed {
        source: "ASME B1.1, basic pitch diameters of unified threads",
        unit: "in",
        tolerance: 0.6e-4,
        because: "half of the last printed digit",
        ..book
    };
    let diameters = [
        ("2-56", 0.0744),
        ("4-40", 0.0958),
        ("6-32", 0.1177),
        ("8-32", 0.1437),
        ("10-24", 0.1629),
        ("10-32", 0.1697),
        ("1/4-20", 0.2175),
    ];
    let of_pitch = |size| of(size, |row| row.pitch_diameter().to_inch());
    out.extend(diameters.iter().map(|(size, inches)| pitch.row(*size, *inches, of_pitch(size))));
    out
}

fn bodies() -> Vec<Check> {
    let iso = Printed {
        subject: SUBJECT,
        source: "ISO 262 pitches, ISO 4762 heads, ISO 273 medium holes, ISO 7089 washers",
        status: Status::Memory,
        unit: "mm",
        tolerance: 1e-9,
        because: "the tables are read",
    };
    let standards = [
        ("M2", [0.4, 3.8, 2.4, 5.0, 0.3]),
        ("M2.5", [0.45, 4.5, 2.9, 6.0, 0.5]),
        ("M3", [0.5, 5.5, 3.4, 7.0, 0.5]),
        ("M4", [0.7, 7.0, 4.5, 9.0, 0.8]),
        ("M5", [0.8, 8.5, 5.5, 10.0, 1.0]),
        ("M6", [1.0, 10.0, 6.6, 12.0, 1.6]),
        ("M8", [1.25, 13.0, 9.0, 16.0, 1.6]),
    ];
    type Read = (&'static str, fn(&Thread) -> f64);
    let columns: [Read; 5] = [
        ("pitch", |row| row.pitch.to_mm()),
        ("head", |row| row.head.to_mm()),
        ("hole", |row| row.hole.to_mm()),
        ("washer", |row| row.washer_outer.to_mm()),
        ("washer's thickness", |row| row.washer_thickness.to_mm()),
    ];
    let row = |(size, values): &(&'static str, [f64; 5])| -> Vec<Check> {
        let pairs = columns.iter().zip(values);
        pairs.map(|((name, read), mm)| iso.row(format!("{size}, {name}"), *mm, of(size, *read))).collect()
    };
    standards.iter().flat_map(row).collect()
}
