//! Torque and preload.

use crate::check::{Check, Printed, Status, misprint};
use toothsayer_mechanics::screw::{Friction, ScrewError, Thread, TorqueLaw};
use toothsayer_quantity::{Force, Length};

const SUBJECT: &str = "Torque and preload";
const LBF_N: f64 = 4.448_221_615_260_5;

pub(super) fn rows() -> Vec<Check> {
    [guideline(), cap_screws(), nut_factors()].concat()
}

fn law(diameter_mm: f64, pitch_mm: f64, head_friction_mm: f64) -> TorqueLaw {
    TorqueLaw {
        pitch: Length::mm(pitch_mm),
        pitch_diameter: Length::mm(diameter_mm - 0.75 * pitch_mm * 3f64.sqrt() / 2.0),
        head_friction_diameter: Length::mm(head_friction_mm),
    }
}

fn torque_n_m(law: TorqueLaw, preload_kn: f64, friction: f64) -> Result<f64, ScrewError> {
    Ok(law.torque(Force::kn(preload_kn), Friction::same(friction)?).to_n_m())
}

fn guideline() -> Vec<Check> {
    let fine = Printed {
        subject: SUBJECT,
        source: "VDI 2230, M8x1 hexagon, DKm 10.3 mm: assembly torque at the guideline's preload",
        status: Status::Printed,
        unit: "N·m",
        tolerance: 0.02,
        because: "the guideline uses 0.16 P and 0.58 d2, we 0.159 and 0.577; two or three printed digits",
    };
    let mut rows = Vec::new();
    let of_fine = [(0.10, [20.7, 30.4, 35.6], [22.8, 33.5, 39.2]), (0.12, [20.2, 29.7, 34.7], [26.1, 38.3, 44.9])];
    for (friction, preloads, torques) in of_fine {
        for ((class, kn), n_m) in ["8.8", "10.9", "12.9"].iter().zip(preloads).zip(torques) {
            let got = torque_n_m(law(8.0, 1.0, 10.3), kn, friction);
            rows.push(fine.share(format!("{class}, friction {friction}, {kn} kN"), n_m, got));
        }
    }
    let coarse = Printed { source: "VDI 2230, table A1, hexagon heads, friction 0.12", ..fine };
    let heads = [
        ("M4", [4.0, 0.7, 5.19], [(2.96, 4.42), (4.35, 6.49), (5.09, 7.60)]),
        ("M5", [5.0, 0.8, 6.19], [(5.84, 7.20), (8.58, 10.58), (10.04, 12.38)]),
        ("M6", [6.0, 1.0, 7.74], [(10.15, 10.18), (14.91, 14.95), (17.44, 17.50)]),
        ("M8", [8.0, 1.25, 10.3], [(24.57, 18.63), (36.09, 27.36), (42.23, 32.02)]),
    ];
    let wrong = Printed {
        source: "a published page that prints the torques of friction 0.12 under the label 0.14",
        unit: "N·m",
        tolerance: 0.05,
        because: "the torques of the two frictions lie an eighth apart",
        ..fine
    };
    for (size, [d, p, dkm], assembly) in heads {
        for ((class, (n_m, kn)), _) in ["8.8", "10.9", "12.9"].iter().zip(assembly).zip(0..) {
            rows.push(coarse.share(format!("{size} {class}, {kn} kN"), n_m, torque_n_m(law(d, p, dkm), kn, 0.12)));
        }
    }
    for ((size, [d, p, dkm], assembly), printed) in heads.into_iter().zip([3.0, 5.9, 10.0, 25.0]) {
        let (_, kn) = assembly[0];
        rows.push(misprint(wrong.share(format!("{size} 8.8 at 0.14"), printed, torque_n_m(law(d, p, dkm), kn, 0.14))));
    }
    rows
}

fn cap_screws() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "VDI 2230's formula for small socket cap screws, class 8.8, friction 0.12",
        status: Status::Calculated,
        unit: "N·m",
        tolerance: 0.02,
        because: "0.159 and 0.577 against 0.16 and 0.58",
    };
    let rows = [("M2", 1.03, 0.38), ("M2.5", 1.70, 0.76), ("M3", 2.55, 1.36)];
    let of = |size: &str, kn: f64| Thread::find(size).map(TorqueLaw::of).and_then(|law| torque_n_m(law, kn, 0.12));
    rows.iter().map(|(size, kn, n_m)| table.share(format!("{size}, {kn} kN"), *n_m, of(size, *kn))).collect()
}

fn nut_factors() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Shigley, 9th ed., equation 8-26: K = T/(F d) at friction 0.15",
        status: Status::Printed,
        unit: "",
        tolerance: 0.008,
        because: "the handbook keeps the lead angle in the friction term",
    };
    let rows = [
        ("M3", 3.0, 0.5, 0.1986),
        ("M4", 4.0, 0.7, 0.1995),
        ("M5", 5.0, 0.8, 0.1978),
        ("3/4-16", 19.05, 25.4 / 16.0, 0.1894),
    ];
    let factor = |d: f64, p: f64| torque_n_m(law(d, p, 1.25 * d), 1.0, 0.15).map(|n_m| n_m / d);
    let mut out: Vec<Check> = rows.iter().map(|(size, d, p, k)| book.share(*size, *k, factor(*d, *p))).collect();
    let example = Printed {
        source: "Shigley, 9th ed., example 8-3 (b): 3/4-16 to 25 kip with K rounded to 0.20",
        unit: "lbf·in",
        tolerance: 0.06,
        because: "the book's K of 0.20 is 0.1894 unrounded",
        ..book
    };
    let torque = torque_n_m(law(19.05, 25.4 / 16.0, 1.25 * 19.05), 25.0 * LBF_N, 0.15);
    out.push(example.share("torque", 3750.0, torque.map(|n_m| n_m / LBF_N / 0.0254)));
    out
}
