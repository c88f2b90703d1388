//! Motors and copper in textbook examples that were looked up.

use crate::check::{Check, Printed, Status, misprint};
use toothsayer_mechanics::motor::{MotorParameters, Steady, resistance_at};
use toothsayer_mechanics::range::OutOfRange;
use toothsayer_quantity::{AngularSpeed, Current, MotorConstant, Resistance, Temperature, Voltage};

/// The book's machines have more volts than a pack: voltages, resistances and constants are taken at a fifth, which
/// leaves speeds and currents as they are.
const SRIVASTAVA: Printed = Printed {
    subject: "Motor",
    source: "Srivastava, Electrical Machines, example 4.21 (250 V, 1 Ω, 0.19 V/rpm, 25 A), as a public notebook works it",
    status: Status::Printed,
    unit: "rpm",
    tolerance: 0.5e-2,
    because: "half of the last printed digit",
};
const FIFTH: f64 = 0.2;

pub(super) fn rows() -> Vec<Check> {
    [chopped(), slowed(), rectified(), copper()].concat()
}

struct Book {
    volts: f64,
    ohm: f64,
    volts_per_rpm: f64,
    load_a: f64,
}

/// The machine at a fifth of its volts; its load's current stands for the current without load.
fn machine(book: &Book) -> Result<Steady, OutOfRange> {
    Steady::new(MotorParameters {
        voltage: Voltage::v(FIFTH * book.volts),
        kv: MotorConstant::rpm_per_v(1.0 / (FIFTH * book.volts_per_rpm)),
        resistance: Resistance::ohm(FIFTH * book.ohm),
        battery_resistance: Resistance::ZERO,
        no_load_current: Current::a(book.load_a),
        current_limit: Current::a(5000.0),
    })
}

fn loaded_rpm(book: &Book) -> Result<f64, OutOfRange> {
    machine(book).map(|steady| steady.no_load_speed().to_rpm())
}

fn chopped() -> Vec<Check> {
    let book = Book { volts: 250.0, ohm: 1.0, volts_per_rpm: 0.19, load_a: 25.0 };
    let current = machine(&book).and_then(|steady| steady.at(AngularSpeed::rpm(1184.21)));
    vec![
        SRIVASTAVA.row("speed at 25 A", 1184.21, loaded_rpm(&book)),
        // Half a digit of the speed is 0.001 A.
        SRIVASTAVA.with("A", 1e-3).row("current at that speed", 25.0, current.map(|point| point.current.to_a())),
    ]
}

/// 20 hp at 220 V and 89 % of efficiency, 1000 rpm, then with 0.2 Ω more at the same current.
fn slowed() -> Vec<Check> {
    let book = Printed {
        source: "Srivastava, example 4.22, in a notebook that takes a field current of 220/200 A for 1 A",
        tolerance: 0.1,
        because: "the slip is worth 0.19 rpm",
        ..SRIVASTAVA
    };
    let with_field = |field_a: f64| {
        let load_a = 20.0 * 746.0 / (220.0 * 0.89) - field_a;
        let volts_per_rpm = (220.0 - 0.9 * load_a) / 1000.0;
        loaded_rpm(&Book { volts: 220.0, ohm: 0.9 + 0.2, volts_per_rpm, load_a })
    };
    vec![
        misprint(book.row("speed with the exact field current", 901.26, with_field(220.0 / 200.0))),
        book.with("rpm", 0.5e-2).row("speed with the notebook's field current", 901.26, with_field(1.0)),
    ]
}

fn rectified() -> Vec<Check> {
    let book = Printed {
        source: "Srivastava, example 4.19, whose notebook calls the book's torque wrong (0.2 V/rpm at 20 · 746/(220 · 0.9) A)",
        unit: "N·m",
        ..SRIVASTAVA
    };
    let torque = || {
        let load_a = 20.0 * 746.0 / (220.0 * 0.9);
        let steady = machine(&Book { volts: 220.0, ohm: 0.15, volts_per_rpm: 0.2, load_a })?;
        Ok::<f64, OutOfRange>(steady.torque_constant_n_m_a() / FIFTH * load_a)
    };
    vec![
        book.row("torque", 143.91, torque()),
        misprint(book.with("N·m", 0.5).row("torque as the book prints it", 114.07, torque())),
    ]
}

/// The book has T + 234.5 °C, which is the same line.
fn copper() -> Vec<Check> {
    let book = Printed {
        source: "Boylestad, Introductory Circuit Analysis, examples 3.9 and 3.10 (inputs read, results from memory)",
        status: Status::Memory,
        unit: "Ω",
        tolerance: 0.6e-2,
        because: "half of the last digit; 1/254.5 is 0.003929",
        ..SRIVASTAVA
    };
    let relative = |deg_c: f64| resistance_at(Resistance::ohm(1.0), Temperature::k(273.15 + deg_c)).map(|r| r.to_ohm());
    let from = |ohm: f64, cold: f64, hot: f64| Ok::<f64, OutOfRange>(ohm * relative(hot)? / relative(cold)?);
    vec![
        book.row("copper of 50 Ω at 20 °C, at 100 °C", 65.72, from(50.0, 20.0, 100.0)),
        book.row("copper of 30 Ω at 0 °C, at −40 °C", 24.88, from(30.0, 0.0, -40.0)),
    ]
}
