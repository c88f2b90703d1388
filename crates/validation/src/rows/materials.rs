//! Gear materials: strength and life lines, plastics, sintered steels; screw classes.

use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::Error;
use toothsayer_mechanics::material::{PlasticDuty, gear_material, screw_class};
use toothsayer_quantity::{Hardness, Length};

const SUBJECT: &str = "Materials";

pub(super) fn rows() -> Vec<Check> {
    [lines(), rule_book(), root_life(), flank_life(), plastics(), classes()].concat()
}

fn lines() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-5, strength lines σ = A x + B",
        status: Status::Memory,
        unit: "N/mm²",
        tolerance: 0.5,
        because: "half of the last printed digit",
    };
    let printed = [
        ("through-hardened-alloy", 300.0, 767.0, 314.0),
        ("through-hardened-alloy-ml", 300.0, 581.9, 230.9),
        ("through-hardened-carbon", 200.0, 545.0, 211.0),
        ("through-hardened-carbon-ml", 200.0, 475.6, 158.0),
        ("induction-hardened", 550.0, 1180.0, 366.0),
        ("induction-hardened", 600.0, 1206.6, 369.0),
        ("induction-hardened-ml", 550.0, 1009.0, 243.75),
        ("case-hardened", 700.0, 1500.0, 425.0),
        ("case-hardened-ml", 700.0, 1300.0, 312.0),
        ("nitrided", 750.0, 1250.0, 420.0),
    ];
    let row = |(name, hv, flank, root): &(&str, f64, f64, f64)| {
        let hardness = Hardness::hv(*hv);
        let of_flank = gear_material(name).and_then(|row| row.sigma_h_lim(hardness)).map(|limit| limit.to_mpa());
        let of_root = gear_material(name).and_then(|row| row.sigma_f_lim(hardness)).map(|limit| limit.to_mpa());
        [
            table.row(format!("{name}, {hv} HV, flank"), *flank, of_flank),
            table.row(format!("{name}, {hv} HV, root"), *root, of_root),
        ]
    };
    printed.iter().flat_map(row).collect()
}

fn rule_book() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Lloyd's Register, Rules for Naval Ships 2023, vol. 2 part 3 ch. 1 section 7: another, more cautious rule book",
        status: Status::Printed,
        unit: "N/mm²",
        tolerance: 0.2,
        because: "an independent line; ours may lie up to a fifth above it",
    };
    let root =
        |name, hv| gear_material(name).and_then(|row| row.sigma_f_lim(Hardness::hv(hv))).map(|limit| limit.to_mpa());
    let flank =
        |name, hv| gear_material(name).and_then(|row| row.sigma_h_lim(Hardness::hv(hv))).map(|limit| limit.to_mpa());
    vec![
        book.share("induction hardened, 550 HV, root", 317.0, root("induction-hardened", 550.0)),
        book.share("induction hardened, 550 HV, flank", 1159.0, flank("induction-hardened", 550.0)),
        book.share(
            "through hardened alloy of 1000 N/mm² (about 310 HV), root",
            285.0,
            root("through-hardened-alloy", 310.0),
        ),
        book.share("through hardened alloy of 1000 N/mm², flank", 715.0, flank("through-hardened-alloy", 310.0)),
    ]
}

fn root_life() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-3, life factor YNT",
        status: Status::Memory,
        unit: "",
        tolerance: 0.5e-4,
        because: "half of the last digit of the line between its ends",
    };
    let at = |name: &str, cycles: f64| gear_material(name).and_then(|row| row.y_nt(cycles));
    let rows = [
        ("case-hardened", 1e3, 2.5),
        ("case-hardened", 1e4, 1.9209),
        ("case-hardened", 1e6, 1.1340),
        ("case-hardened", 3e6, 1.0),
        ("induction-hardened", 1e4, 1.9209),
        ("through-hardened-alloy", 1e4, 2.5),
        ("through-hardened-alloy", 1e6, 1.1930),
        ("through-hardened-alloy", 3e6, 1.0),
        ("nitrided", 1e3, 1.6),
    ];
    rows.iter()
        .map(|(name, cycles, y)| table.row(format!("{name}, {cycles:e} cycles"), *y, at(name, *cycles)))
        .collect()
}

fn flank_life() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-2, life factor ZNT without pitting, alloy steel",
        status: Status::Memory,
        unit: "",
        tolerance: 0.5e-4,
        because: "half of the last digit of the line between its ends",
    };
    let at = |cycles: f64| gear_material("through-hardened-alloy").and_then(|row| row.z_nt(cycles));
    let rows = [(1e5, 1.6), (1e6, 1.3443), (1e7, 1.1294), (5e7, 1.0)];
    rows.iter().map(|(cycles, z)| table.row(format!("{cycles:e} cycles"), *z, at(*cycles))).collect()
}

fn plastics() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "VDI 2736-2, root strength over temperature at 1e6 cycles, formula from memory",
        status: Status::Calculated,
        unit: "N/mm²",
        tolerance: 0.05,
        because: "half of the last digit",
    };
    let at = |name: &str, temperature_c: f64| -> Result<f64, Error> {
        gear_material(name)?.plastic_root_limit(PlasticDuty { temperature_c, cycles: 1e6 }).map(|limit| limit.to_mpa())
    };
    let rows = [("pom", 23.0, 49.9), ("pom", 60.0, 42.2), ("pom", 80.0, 35.2), ("pa66", 60.0, 32.1)];
    rows.iter().map(|(name, t, mpa)| table.row(format!("{name} at {t} °C"), *mpa, at(name, *t))).collect()
}

fn classes() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 898-1, stress under proof load of the property classes",
        status: Status::Memory,
        unit: "N/mm²",
        tolerance: 1e-9,
        because: "the table is read",
    };
    let proof = |name| screw_class(name).map(|class| class.proof_stress(Length::mm(4.0)).to_mpa());
    let rows = [("4.8", 310.0), ("5.8", 380.0), ("8.8", 580.0), ("10.9", 830.0), ("12.9", 970.0)];
    rows.iter().map(|(name, mpa)| table.row(format!("class {name}"), *mpa, proof(name))).collect()
}
