//! Joints that the screw tests share: sizes, classes and materials by name.

use toothsayer_mechanics::screw::{HeadMaterial, Joint, JointParameters, Strength, Thread, ThreadMaterial};
use toothsayer_quantity::{Length, Pressure};

/// One screw of a joint, as a bench would write it down.
#[derive(Clone, Copy, Debug)]
pub struct Case {
    pub size: &'static str,
    pub class: &'static str,
    pub length_mm: f64,
    pub clamped_mm: f64,
    pub hole_mm: f64,
    pub washer: bool,
    /// Material of the boss.
    pub boss: &'static str,
    /// Material under the head.
    pub part: &'static str,
}

impl Case {
    pub fn parameters(&self) -> JointParameters {
        let (boss, part) = (Material::named(self.boss), Material::named(self.part));
        JointParameters {
            thread: Thread::find(self.size).unwrap(),
            length: Length::mm(self.length_mm),
            clamped: Length::mm(self.clamped_mm),
            hole_depth: Length::mm(self.hole_mm),
            washer: self.washer,
            proof_stress: proof_stress(self.class),
            thread_in: ThreadMaterial {
                shear: boss.shear,
                modulus: boss.modulus,
                creep_exponent: boss.creep_exponent,
                plastic: boss.creep_exponent > 0.0,
            },
            under_head: HeadMaterial {
                bearing: part.bearing,
                modulus: part.modulus,
                creep_exponent: part.creep_exponent,
            },
            removals: 0,
        }
    }

    pub fn joint(&self) -> Joint {
        Joint::new(self.parameters()).unwrap()
    }
}

struct Material {
    shear: Strength,
    bearing: Strength,
    modulus: Pressure,
    creep_exponent: f64,
}

impl Material {
    /// Working values: shear and bearing strength in MPa, modulus in GPa, creep exponent.
    fn named(name: &str) -> Self {
        let mpa = Pressure::mpa;
        let (shear, bearing_mpa, modulus_gpa, creep_exponent) = match name {
            "aluminium" => (Strength::with_weak_end(mpa(200.0), mpa(130.0)), 260.0, 70.0, 0.0),
            "pa66-gf30" => (Strength::new(mpa(70.0)), 100.0, 7.0, 0.03),
            "pa66" => (Strength::new(mpa(50.0)), 70.0, 2.0, 0.05),
            _ => panic!("no material {name}"),
        };
        Self {
            shear: shear.unwrap(),
            bearing: Strength::new(mpa(bearing_mpa)).unwrap(),
            modulus: Pressure::gpa(modulus_gpa),
            creep_exponent,
        }
    }
}

/// Proof stress of ISO 898-1 for sizes up to M16.
fn proof_stress(class: &str) -> Pressure {
    match class {
        "8.8" => Pressure::mpa(580.0),
        "10.9" => Pressure::mpa(830.0),
        "12.9" => Pressure::mpa(970.0),
        _ => panic!("no class {class}"),
    }
}

#[track_caller]
pub fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}
