//! Showing a value in the units that the bench owns tools for.

use crate::{Kind, Unit};

/// Which family of units people see.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// Millimetres, newtons, kilograms.
    #[default]
    Metric,
    /// Inches, pounds.
    Us,
}

/// A value with its unit, four significant digits at most: "36.05 mm", "1.42 in".
pub fn show(kind: Kind, si: f64, system: System) -> String {
    match display_unit(kind, si.abs(), system) {
        Some(unit) => format!("{} {}", digits(unit.from_si(si)), pretty(unit.symbol)),
        None => digits(si),
    }
}

/// A value in the unit named, four significant digits at most.
pub fn show_in(unit: &Unit, si: f64) -> String {
    format!("{} {}", digits(unit.from_si(si)), pretty(unit.symbol))
}

/// The unit with signs in place of letters where print has them.
pub fn pretty(symbol: &str) -> String {
    match symbol {
        "um" => "µm".into(),
        "deg" => "°".into(),
        "degC" => "°C".into(),
        "degF" => "°F".into(),
        "mohm" => "mΩ".into(),
        "ohm" => "Ω".into(),
        other => other.replace('*', "·").replace("^2", "²"),
    }
}

/// Four significant digits, no trailing zeros behind the point, no exponent where reading is easy.
pub fn digits(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { format!("{value}") };
    }
    let magnitude = value.abs().log10().floor() as i32;
    if !(-4..7).contains(&magnitude) {
        return format!("{value:.3e}");
    }
    let decimals = usize::try_from(3 - magnitude).unwrap_or(0);
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn display_unit(kind: Kind, magnitude_si: f64, system: System) -> Option<&'static Unit> {
    let symbol = match system {
        System::Metric => metric_symbol(kind, magnitude_si),
        System::Us => us_symbol(kind, magnitude_si),
    };
    symbol.and_then(Unit::find)
}

fn metric_symbol(kind: Kind, magnitude_si: f64) -> Option<&'static str> {
    Some(match kind {
        Kind::Number => return None,
        Kind::Length if magnitude_si >= 0.5 => "m",
        Kind::Length => "mm",
        Kind::Mass if magnitude_si < 1.0 => "g",
        Kind::Mass => "kg",
        Kind::Area => "m^2",
        Kind::LinearStiffness if magnitude_si >= 1e6 => "kN/mm",
        Kind::Time if magnitude_si < 1.0 => "ms",
        Kind::Time if magnitude_si < 120.0 => "s",
        Kind::Time if magnitude_si < 7200.0 => "min",
        Kind::Time => "h",
        Kind::Resistance => "mohm",
        other => return Unit::of_kind(other).next().map(|unit| unit.symbol),
    })
}

fn us_symbol(kind: Kind, magnitude_si: f64) -> Option<&'static str> {
    Some(match kind {
        Kind::Length if magnitude_si >= 0.6 => "ft",
        Kind::Length => "in",
        Kind::Area => "ft^2",
        Kind::Mass if magnitude_si < 0.45 => "oz",
        Kind::Mass => "lb",
        Kind::Force => "lbf",
        Kind::Torque if magnitude_si < 0.1 => "ozf*in",
        Kind::Torque => "lbf*in",
        Kind::LinearStiffness => "lbf/in",
        Kind::Pressure => "psi",
        Kind::Speed => "mph",
        Kind::Temperature => "degF",
        other => return metric_symbol(other, magnitude_si),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bench_reads_its_own_units() {
        assert_eq!(show(Kind::Length, 0.03605, System::Metric), "36.05 mm");
        assert_eq!(show(Kind::Length, 0.03605, System::Us), "1.419 in");
        assert_eq!(show(Kind::Torque, 3.4, System::Us), "30.09 lbf·in");
        assert_eq!(show(Kind::Force, 2874.3, System::Metric), "2874 N");
        assert_eq!(show(Kind::Number, 5.1, System::Metric), "5.1");
        assert_eq!(show(Kind::Fraction, 0.25, System::Us), "25 %");
        assert_eq!(show(Kind::Inertia, 3.4e-5, System::Metric), "3.400e-5 kg·m²");
    }
}
