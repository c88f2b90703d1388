//! Torsional natural frequencies of the closed driveline.

use super::Parameters;

/// The two swinging modes of rotor, spur and wheels, undamped, all gaps closed, the wheels off the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorsionModes {
    /// Rotor and spur together against the wheels, rad/s.
    pub shaft_rad_s: f64,
    /// Rotor against spur in the mesh, rad/s.
    pub mesh_rad_s: f64,
}

impl Parameters {
    /// Torsional natural frequencies: w² = (p ± sqrt(p² - 4 q))/2.
    ///
    /// In x = rb1 qm - rb2 qs and y = qs - i qw: x'' = -km a x + (Kd rb2/Js) y, y'' = (km rb2/Js) x - Kd b y with
    /// a = rb1²/Jm + rb2²/Js and b = 1/Js + i²/Jw, so p = km a + Kd b and q = km Kd (a b - (rb2/Js)²).
    /// Three inertias on two springs: any text on torsional vibration, e.g. Den Hartog, Mechanical Vibrations, section 5.
    pub fn torsion_modes(&self) -> TorsionModes {
        let cross = self.spur_base_radius_m / self.spur_inertia_kg_m2;
        let a = 1.0 / self.mesh_mass_kg();
        let b = 1.0 / self.spur_inertia_kg_m2 + self.ratio_after_spur.powi(2) / self.wheel_inertia_kg_m2();
        let (mesh, shaft) = (self.mesh_stiffness_n_m, self.shaft_stiffness_n_m_rad);
        let p = mesh * a + shaft * b;
        let q = mesh * shaft * (a * b - cross * cross);
        let root = (p * p - 4.0 * q).max(0.0).sqrt();
        let high = 0.5 * (p + root);
        TorsionModes { shaft_rad_s: (q / high).sqrt(), mesh_rad_s: high.sqrt() }
    }
}
