//! The table of units that a file or a form may use.

use crate::Kind;

/// One unit: SI value = number x `factor` + `offset`.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// Spelling with `*` between factors and `^2` for squares.
    pub symbol: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// SI units in one of these.
    pub factor: f64,
    /// SI value of its zero (temperatures only).
    pub offset: f64,
}

const INCH_M: f64 = 0.0254;
const POUND_KG: f64 = 0.453_592_37;
const GRAVITY_M_S2: f64 = 9.806_65;
const POUND_FORCE_N: f64 = POUND_KG * GRAVITY_M_S2;
const TURN_RAD: f64 = std::f64::consts::TAU;

const fn unit(symbol: &'static str, kind: Kind, factor: f64) -> Unit {
    Unit { symbol, kind, factor, offset: 0.0 }
}

/// Every unit, grouped by kind, the usual one of the group first.
///
/// Factors: the SI brochure (9th edition) and, for inch and pound units, the exact values of
/// NIST SP 811 (inch 25.4 mm, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s²).
pub static UNITS: &[Unit] = &[
    unit("%", Kind::Fraction, 0.01),
    unit("mm", Kind::Length, 1e-3),
    unit("cm", Kind::Length, 1e-2),
    unit("m", Kind::Length, 1.0),
    unit("um", Kind::Length, 1e-6),
    unit("in", Kind::Length, INCH_M),
    unit("ft", Kind::Length, 12.0 * INCH_M),
    unit("m^2", Kind::Area, 1.0),
    unit("cm^2", Kind::Area, 1e-4),
    unit("mm^2", Kind::Area, 1e-6),
    unit("in^2", Kind::Area, INCH_M * INCH_M),
    unit("ft^2", Kind::Area, 144.0 * INCH_M * INCH_M),
    unit("deg", Kind::Angle, TURN_RAD / 360.0),
    unit("rad", Kind::Angle, 1.0),
    unit("kg", Kind::Mass, 1.0),
    unit("g", Kind::Mass, 1e-3),
    unit("lb", Kind::Mass, POUND_KG),
    unit("oz", Kind::Mass, POUND_KG / 16.0),
    unit("kg*m^2", Kind::Inertia, 1.0),
    unit("g*cm^2", Kind::Inertia, 1e-7),
    unit("kg*cm^2", Kind::Inertia, 1e-4),
    unit("N", Kind::Force, 1.0),
    unit("kN", Kind::Force, 1e3),
    unit("lbf", Kind::Force, POUND_FORCE_N),
    unit("N*m", Kind::Torque, 1.0),
    unit("N*mm", Kind::Torque, 1e-3),
    unit("N*cm", Kind::Torque, 1e-2),
    unit("lbf*in", Kind::Torque, POUND_FORCE_N * INCH_M),
    unit("ozf*in", Kind::Torque, POUND_FORCE_N * INCH_M / 16.0),
    unit("lbf*ft", Kind::Torque, POUND_FORCE_N * INCH_M * 12.0),
    unit("N/mm", Kind::LinearStiffness, 1e3),
    unit("N/m", Kind::LinearStiffness, 1.0),
    unit("kN/mm", Kind::LinearStiffness, 1e6),
    unit("N/um", Kind::LinearStiffness, 1e6),
    unit("lbf/in", Kind::LinearStiffness, POUND_FORCE_N / INCH_M),
    unit("N*m/rad", Kind::TorsionStiffness, 1.0),
    unit("N*m/deg", Kind::TorsionStiffness, 360.0 / TURN_RAD),
    unit("N*s/m", Kind::LinearDamping, 1.0),
    unit("N*s/mm", Kind::LinearDamping, 1e3),
    unit("MPa", Kind::Pressure, 1e6),
    unit("N/mm^2", Kind::Pressure, 1e6),
    unit("GPa", Kind::Pressure, 1e9),
    unit("Pa", Kind::Pressure, 1.0),
    unit("psi", Kind::Pressure, POUND_FORCE_N / (INCH_M * INCH_M)),
    unit("s", Kind::Time, 1.0),
    unit("ms", Kind::Time, 1e-3),
    unit("min", Kind::Time, 60.0),
    unit("h", Kind::Time, 3600.0),
    unit("m/s", Kind::Speed, 1.0),
    unit("km/h", Kind::Speed, 1.0 / 3.6),
    unit("mph", Kind::Speed, 63360.0 * INCH_M / 3600.0),
    unit("ft/s", Kind::Speed, 12.0 * INCH_M),
    unit("rpm", Kind::AngularSpeed, TURN_RAD / 60.0),
    unit("rad/s", Kind::AngularSpeed, 1.0),
    unit("V", Kind::Voltage, 1.0),
    unit("mV", Kind::Voltage, 1e-3),
    unit("A", Kind::Current, 1.0),
    unit("mA", Kind::Current, 1e-3),
    unit("mohm", Kind::Resistance, 1e-3),
    unit("ohm", Kind::Resistance, 1.0),
    unit("rpm/V", Kind::MotorConstant, TURN_RAD / 60.0),
    unit("1/in", Kind::PerLength, 1.0 / INCH_M),
    unit("1/mm", Kind::PerLength, 1e3),
    Unit { symbol: "degC", kind: Kind::Temperature, factor: 1.0, offset: 273.15 },
    Unit { symbol: "degF", kind: Kind::Temperature, factor: 5.0 / 9.0, offset: 273.15 - 32.0 * 5.0 / 9.0 },
    Unit { symbol: "K", kind: Kind::Temperature, factor: 1.0, offset: 0.0 },
    unit("HV", Kind::Hardness, 1.0),
    // Rockwell C and Brinell are not proportional to HV: `hardness` converts them.
    unit("HRC", Kind::Hardness, f64::NAN),
    unit("HBW", Kind::Hardness, f64::NAN),
];

/// Other spellings of a unit that people type, and the table's.
static SPELLINGS: &[(&str, &str)] = &[
    ("µm", "um"),
    ("μm", "um"),
    ("N/µm", "N/um"),
    ("N/μm", "N/um"),
    ("°", "deg"),
    ("°C", "degC"),
    ("°F", "degF"),
    ("Ω", "ohm"),
    ("mΩ", "mohm"),
    ("\"", "in"),
    ("DP", "1/in"),
];

impl Unit {
    /// The unit written as `text`, whatever it measures.
    ///
    /// Between factors `*`, `·`, a space or nothing will do; a square is `^2` or `²`; case as in SI.
    pub fn find(text: &str) -> Option<&'static Unit> {
        let spelled = SPELLINGS.iter().find(|(other, _)| *other == text).map_or(text, |(_, ours)| ours);
        let starred = spelled.replace(['·', '⋅'], "*").replace('²', "^2").replace(" * ", "*").replace(' ', "*");
        UNITS
            .iter()
            .find(|unit| unit.symbol == starred || (!starred.contains('*') && unit.symbol.replace('*', "") == starred))
    }

    /// The units that measure `kind`, the usual one first.
    pub fn of_kind(kind: Kind) -> impl Iterator<Item = &'static Unit> {
        UNITS.iter().filter(move |unit| unit.kind == kind)
    }

    /// SI value of `number` of these units.
    pub fn to_si(&self, number: f64) -> f64 {
        match self.symbol {
            "HRC" => crate::hardness::hv_from_hrc(number),
            "HBW" => crate::hardness::hv_from_hbw(number),
            _ => number * self.factor + self.offset,
        }
    }

    /// How many of these units the SI value makes.
    pub fn from_si(&self, si: f64) -> f64 {
        match self.symbol {
            "HRC" => crate::hardness::hrc_from_hv(si),
            "HBW" => crate::hardness::hbw_from_hv(si),
            _ => (si - self.offset) / self.factor,
        }
    }

    /// SI value of a difference of `number` of these units (a tolerance): the zero does not count.
    pub fn difference_to_si(&self, number: f64) -> f64 {
        if self.factor.is_nan() { self.to_si(30.0 + number) - self.to_si(30.0) } else { number * self.factor }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_is_found_by_its_symbol_and_comes_back() {
        for unit in UNITS {
            let found = Unit::find(unit.symbol).unwrap();
            assert_eq!(found.symbol, unit.symbol);
            let back = unit.from_si(unit.to_si(42.0));
            assert!((back - 42.0).abs() < 1e-6, "{}: {back}", unit.symbol);
        }
    }

    #[test]
    fn factors_may_be_joined_by_dot_star_space_or_nothing() {
        for text in ["N*m", "N·m", "N m", "Nm", "N * m"] {
            assert_eq!(Unit::find(text).map(|unit| unit.symbol), Some("N*m"), "{text}");
        }
        assert_eq!(Unit::find("kg m²").map(|unit| unit.symbol), Some("kg*m^2"));
        assert_eq!(Unit::find("N·s/m").map(|unit| unit.symbol), Some("N*s/m"));
    }

    #[test]
    fn two_metres_side_by_side_are_no_millimetre() {
        assert!(Unit::find("m m").is_none());
        assert!(Unit::find("m*m").is_none());
        assert!(Unit::find("n*m").is_none(), "case as in SI");
    }

    #[test]
    fn each_kind_but_the_plain_number_has_a_unit() {
        for kind in Kind::ALL.into_iter().filter(|kind| *kind != Kind::Number) {
            assert!(Unit::of_kind(kind).next().is_some(), "{kind:?}");
        }
    }
}
