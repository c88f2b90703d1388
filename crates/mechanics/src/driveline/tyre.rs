//! The tyre along the road: slip, the force it aims at, and the way it takes to build it up.
//!
//! The curve is the three-parameter form of the "magic formula" (Pacejka, Tire and Vehicle Dynamics): D sin(C atan(B k)).

use pulp::Simd;

use super::elementary::{atan, sin};
use super::lanes::{Lanes, PerLane};
use super::real::Real;

/// Speed below which slip is taken relative to it, m/s: a standing tyre has no slip ratio.
pub const SLIP_SPEED_FLOOR_M_S: f64 = 1.0;

/// The driven tyres as one.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tyre<T = f64> {
    /// Friction at the top of the curve, mu.
    pub grip: T,
    /// Share of the ground force that the driven tyres carry, wd.
    pub load_share: T,
    /// Factor B of the curve: slope at zero slip is B C mu.
    pub slip_stiffness: T,
    /// Factor C of the curve.
    pub slip_shape: T,
    /// Way over which the force builds up, m.
    pub relaxation_length_m: T,
}

impl<T: Real> Tyre<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self { grip: value, load_share: value, slip_stiffness: value, slip_shape: value, relaxation_length_m: value }
    }

    /// The force that the driven tyres aim at, N: mu wd N sin(C atan(B k)), with slip k and the ground force N of all tyres.
    #[inline(always)]
    pub fn target_force_n(&self, ground_force_n: T, slip: T) -> T {
        self.grip * self.load_share * ground_force_n * sin(self.slip_shape * atan(self.slip_stiffness * slip))
    }

    /// How fast the force changes, N/s: (target - F) max(|v|, |r w|, 1 m/s)/sr; nothing is aimed at in the air.
    ///
    /// v: speed of the truck, m/s; `tread_m_s`: r w, speed of the tread, m/s; slip k = (r w - v)/max(|v|, |r w|, 1 m/s).
    #[inline(always)]
    pub fn force_rate_n_s(&self, force_n: T, ground_force_n: T, speed_m_s: T, tread_m_s: T) -> T {
        let reference_m_s = speed_m_s.abs().larger(tread_m_s.abs()).larger(speed_m_s.of(SLIP_SPEED_FLOOR_M_S));
        let pressed_n = ground_force_n.larger(force_n.of(0.0));
        let target_n = self.target_force_n(pressed_n, (tread_m_s - speed_m_s) / reference_m_s);
        (target_n - force_n) * reference_m_s / self.relaxation_length_m
    }
}

impl<S: Simd> PerLane for Tyre<Lanes<S>> {
    type One = Tyre;

    fn put(&mut self, lane: usize, one: &Tyre) {
        self.grip.put(lane, &one.grip);
        self.load_share.put(lane, &one.load_share);
        self.slip_stiffness.put(lane, &one.slip_stiffness);
        self.slip_shape.put(lane, &one.slip_shape);
        self.relaxation_length_m.put(lane, &one.relaxation_length_m);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Printed to four digits.
    const TOL: f64 = 5e-5;

    // Curve-fit set "dry" (B 10, C 1.9, D 1) of Pacejka's formula with E = 0, recomputed from the formula by hand calculator:
    // k = 0.1: sin(1.9 atan 1) = sin(1.49226) = 0.99692.
    #[test]
    fn the_curve_follows_its_formula() {
        let tyre =
            Tyre { grip: 1.0, load_share: 1.0, slip_stiffness: 10.0, slip_shape: 1.9, relaxation_length_m: 0.08 };
        check(tyre, 0.1, 0.99692);
        check(tyre, -0.1, -0.99692);
        check(tyre, 0.0, 0.0);
    }

    #[test]
    fn force_builds_up_over_the_relaxation_length() {
        let tyre =
            Tyre { grip: 0.9, load_share: 1.0, slip_stiffness: 10.0, slip_shape: 1.4, relaxation_length_m: 0.08 };
        assert_eq!(tyre.force_rate_n_s(50.0, 0.0, 8.0, 0.0), -50.0 * 8.0 / 0.08);
        assert_eq!(tyre.force_rate_n_s(0.0, 100.0, 0.0, 0.0), 0.0);
    }

    #[track_caller]
    fn check(tyre: Tyre, slip: f64, expected: f64) {
        let got = tyre.target_force_n(1.0, slip);
        assert!((got - expected).abs() < TOL, "slip {slip}: {got}, expected {expected}");
    }
}
