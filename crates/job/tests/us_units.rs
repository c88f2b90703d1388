//! The example written in inches, pounds and pound-force inches is the same truck.
//!
//! Factors: NIST SP 811 appendix B (inch 25.4 mm, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s², all exact).

use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Fields, Job};

/// Fifteen digits are written and a few roundings follow.
const SAME: f64 = 1e-9;

const INCH_MM: f64 = 25.4;
const FOOT_M: f64 = 0.3048;
const POUND_KG: f64 = 0.453_592_37;
const POUND_FORCE_N: f64 = 4.448_221_615_260_5;

/// A metric unit, the US one, and how many of the metric make one of it.
const UNITS: [(&str, &str, f64); 12] = [
    ("kg", "lb", POUND_KG),
    ("g", "oz", POUND_KG * 1000.0 / 16.0),
    ("mm", "in", INCH_MM),
    ("m", "ft", FOOT_M),
    ("m^2", "ft^2", FOOT_M * FOOT_M),
    ("m/s", "ft/s", FOOT_M),
    ("N", "lbf", POUND_FORCE_N),
    ("N*m", "lbf*in", POUND_FORCE_N * INCH_MM / 1000.0),
    ("N/mm", "lbf/in", POUND_FORCE_N / INCH_MM),
    ("kN/mm", "lbf/in", POUND_FORCE_N / INCH_MM / 1000.0),
    ("MPa", "psi", POUND_FORCE_N / (INCH_MM * INCH_MM)),
    ("degC", "degF", 0.0),
];

fn example() -> String {
    let path = format!("{}/../../examples/tarnhorn.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("the example is there")
}

/// The quoted text in US units, where it is a quantity that has one.
fn converted(quoted: &str) -> Option<String> {
    let (number, unit) = quoted.split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    let (_, us, factor) = UNITS.iter().find(|(metric, _, _)| *metric == unit)?;
    let value = if *us == "degF" { number * 1.8 + 32.0 } else { number / factor };
    Some(format!("{value:.15e} {us}"))
}

/// The file with every quantity in US units and the module as a diametral pitch; and how many were rewritten.
fn in_us_units(text: &str) -> (String, usize) {
    let pitched = text.replace("module = \"1 mm\"", "diametral_pitch = \"25.4 1/in\"");
    let mut count = 0;
    let rewrite = |(place, part): (usize, &str)| match converted(part).filter(|_| place % 2 == 1) {
        Some(us) => {
            count += 1;
            us
        }
        None => part.to_owned(),
    };
    let parts: Vec<String> = pitched.split('"').enumerate().map(rewrite).collect();
    (parts.join("\""), count)
}

#[track_caller]
fn check(metric: &Fields, us: &Fields) {
    for (key, entry) in metric.numbers.iter().filter(|(key, _)| **key != "gears.module") {
        let other = us.numbers.get(key).unwrap_or_else(|| panic!("{key} is lost"));
        for (a, b) in [(entry.value, other.value), (entry.low, other.low), (entry.high, other.high)] {
            assert!((a - b).abs() <= SAME * a.abs(), "{key}: {a} and {b}");
        }
    }
    assert_eq!(metric.words, us.words);
}

#[test]
fn the_example_in_us_units_is_the_same_truck() {
    let metric = Job::parse(&example(), FaultBook::built_in()).expect("the example reads");
    let (text, count) = in_us_units(&example());
    assert!(count > 40, "only {count} quantities were rewritten");
    let us = Job::parse(&text, FaultBook::built_in()).expect("it reads in US units");
    for (metric, us) in [(&metric.built, &us.built), (metric.as_it_came(), us.as_it_came())] {
        check(&metric.fields, &us.fields);
        assert_eq!(metric.joints.len(), us.joints.len());
        for (metric, us) in metric.joints.iter().zip(&us.joints) {
            assert_eq!((&metric.name, metric.free), (&us.name, us.free));
            check(&metric.fields, &us.fields);
        }
    }
    let module_mm = us.built.build().expect("it builds").gears.spec.module.to_mm();
    assert!((module_mm - 1.0).abs() <= SAME, "{module_mm}");
}
