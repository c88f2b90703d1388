//! Values that cannot be confused: each a number in SI behind named constructors.

use crate::Kind;

/// Declares one quantity type a row: doc, name, kind, and (constructor, reader, SI units in one).
macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident { $($to:ident, $from:ident, $factor:expr;)+ })+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// What it measures.
            pub const KIND: Kind = Kind::$name;
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            /// From the SI value.
            pub const fn si(value: f64) -> Self {
                Self(value)
            }
            /// The SI value.
            pub const fn to_si(self) -> f64 {
                self.0
            }
            $(
                #[doc = concat!("From a number of the unit that the name says (", stringify!($factor), " SI).")]
                pub const fn $from(value: f64) -> Self {
                    Self(value * $factor)
                }
                #[doc = concat!("In the unit that the name says (", stringify!($factor), " SI).")]
                pub const fn $to(self) -> f64 {
                    self.0 / $factor
                }
            )+
            /// Without its sign.
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }
            /// The larger of two.
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
            /// The smaller of two.
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl std::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
    )+};
}

quantities! {
    /// A length; SI: m.
    Length { to_m, m, 1.0; to_mm, mm, 1e-3; to_um, um, 1e-6; to_inch, inch, 0.0254; }
    /// An area; SI: m².
    Area { to_m2, m2, 1.0; to_mm2, mm2, 1e-6; }
    /// A plane angle; SI: rad.
    Angle { to_rad, rad, 1.0; to_deg, deg, (std::f64::consts::PI / 180.0); }
    /// A mass; SI: kg.
    Mass { to_kg, kg, 1.0; to_g, g, 1e-3; }
    /// A moment of inertia; SI: kg·m².
    Inertia { to_kg_m2, kg_m2, 1.0; }
    /// A force; SI: N.
    Force { to_n, n, 1.0; to_kn, kn, 1e3; }
    /// A torque; SI: N·m.
    Torque { to_n_m, n_m, 1.0; to_n_mm, n_mm, 1e-3; }
    /// Force per travel; SI: N/m.
    LinearStiffness { to_n_per_m, n_per_m, 1.0; to_n_per_mm, n_per_mm, 1e3; }
    /// Torque per twist; SI: N·m/rad.
    TorsionStiffness { to_n_m_per_rad, n_m_per_rad, 1.0; }
    /// Force per speed; SI: N·s/m.
    LinearDamping { to_n_s_per_m, n_s_per_m, 1.0; }
    /// Force per area; SI: Pa.
    Pressure { to_pa, pa, 1.0; to_mpa, mpa, 1e6; to_gpa, gpa, 1e9; }
    /// A duration; SI: s.
    Time { to_s, s, 1.0; to_ms, ms, 1e-3; to_min, min_, 60.0; to_h, h, 3600.0; }
    /// A speed; SI: m/s.
    Speed { to_m_per_s, m_per_s, 1.0; to_km_per_h, km_per_h, (1.0 / 3.6); }
    /// Angle per time; SI: rad/s.
    AngularSpeed { to_rad_per_s, rad_per_s, 1.0; to_rpm, rpm, (std::f64::consts::TAU / 60.0); }
    /// A voltage; SI: V.
    Voltage { to_v, v, 1.0; }
    /// A current; SI: A.
    Current { to_a, a, 1.0; }
    /// An electrical resistance; SI: ohm.
    Resistance { to_ohm, ohm, 1.0; to_mohm, mohm, 1e-3; }
    /// A temperature; SI: K.
    Temperature { to_k, k, 1.0; }
    /// A motor's speed per volt (Kv); SI: rad/s/V.
    MotorConstant { to_rad_per_s_v, rad_per_s_v, 1.0; to_rpm_per_v, rpm_per_v, (std::f64::consts::TAU / 60.0); }
    /// Vickers hardness; kept in HV.
    Hardness { to_hv, hv, 1.0; }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_goes_in_and_comes_out_in_its_unit() {
        assert_eq!(Length::mm(12.5).to_m(), 0.0125);
        assert!((MotorConstant::rpm_per_v(980.0).to_rpm_per_v() - 980.0).abs() < 1e-9);
        assert!((Angle::deg(180.0).to_rad() - std::f64::consts::PI).abs() < 1e-15);
        assert_eq!(Length::mm(3.0) / Length::mm(1.5), 2.0);
    }
}
