//! The kinds of quantity that the bench measures, each with its SI unit.

/// What a number measures. Values of every kind are kept in the SI unit that [`Kind::si_unit`] names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is named for what it measures")]
pub enum Kind {
    Number,
    Fraction,
    Length,
    Area,
    Angle,
    Mass,
    Inertia,
    Force,
    Torque,
    LinearStiffness,
    TorsionStiffness,
    LinearDamping,
    Pressure,
    Time,
    Speed,
    AngularSpeed,
    Voltage,
    Current,
    Resistance,
    MotorConstant,
    PerLength,
    Temperature,
    Hardness,
}

impl Kind {
    /// Every kind, in the order of the unit table.
    pub const ALL: [Kind; 23] = [
        Kind::Number,
        Kind::Fraction,
        Kind::Length,
        Kind::Area,
        Kind::Angle,
        Kind::Mass,
        Kind::Inertia,
        Kind::Force,
        Kind::Torque,
        Kind::LinearStiffness,
        Kind::TorsionStiffness,
        Kind::LinearDamping,
        Kind::Pressure,
        Kind::Time,
        Kind::Speed,
        Kind::AngularSpeed,
        Kind::Voltage,
        Kind::Current,
        Kind::Resistance,
        Kind::MotorConstant,
        Kind::PerLength,
        Kind::Temperature,
        Kind::Hardness,
    ];

    /// The everyday name, as messages use it ("a length").
    pub fn name(self) -> &'static str {
        self.row().0
    }

    /// The everyday name with its article ("a length", "an angle").
    pub fn with_article(self) -> String {
        let article = if self.name().starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        format!("{article} {}", self.name())
    }

    /// The suffix of machine-readable keys in SI (`n_m` of `torque_n_m`); empty for plain numbers.
    pub fn key_suffix(self) -> &'static str {
        self.row().1
    }

    /// The unit in which values of this kind are kept.
    pub fn si_unit(self) -> &'static str {
        self.row().2
    }

    fn row(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Kind::Number => ("plain number", "", ""),
            Kind::Fraction => ("share", "", ""),
            Kind::Length => ("length", "m", "m"),
            Kind::Area => ("area", "m2", "m^2"),
            Kind::Angle => ("angle", "rad", "rad"),
            Kind::Mass => ("mass", "kg", "kg"),
            Kind::Inertia => ("moment of inertia", "kg_m2", "kg*m^2"),
            Kind::Force => ("force", "n", "N"),
            Kind::Torque => ("torque", "n_m", "N*m"),
            Kind::LinearStiffness => ("stiffness", "n_per_m", "N/m"),
            Kind::TorsionStiffness => ("torsional stiffness", "n_m_per_rad", "N*m/rad"),
            Kind::LinearDamping => ("damping", "n_s_per_m", "N*s/m"),
            Kind::Pressure => ("stress or pressure", "pa", "Pa"),
            Kind::Time => ("time", "s", "s"),
            Kind::Speed => ("speed", "m_s", "m/s"),
            Kind::AngularSpeed => ("angular speed", "rad_s", "rad/s"),
            Kind::Voltage => ("voltage", "v", "V"),
            Kind::Current => ("current", "a", "A"),
            Kind::Resistance => ("resistance", "ohm", "ohm"),
            Kind::MotorConstant => ("motor Kv", "rad_s_per_v", "rad/s/V"),
            Kind::PerLength => ("diametral pitch", "per_m", "1/m"),
            Kind::Temperature => ("temperature", "k", "K"),
            Kind::Hardness => ("hardness", "hv", "HV"),
        }
    }
}
