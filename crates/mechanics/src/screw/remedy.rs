//! What opens an empty tightening window, each remedy computed anew.

use super::{Joint, JointParameters, ScrewError, Strength, ThreadMaterial};
use toothsayer_quantity::{Force, Length, Pressure, Torque};

/// Lengths under the head that socket cap screws are sold in, mm (ISO 4762 with the 14, 18 and 22 of the trade).
pub static NOMINAL_LENGTHS: &[f64] = &[
    3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0,
    65.0, 70.0, 80.0, 90.0, 100.0,
];

/// Shear strength of the brass of a threaded insert, MPa (soft brass, common practice, no source).
const INSERT_SHEAR_MPA: f64 = 180.0;
/// Modulus of brass, GPa (handbook value).
const INSERT_MODULUS_GPA: f64 = 100.0;

/// A change that may open an empty window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// A washer under the head, same screw.
    Washer,
    /// A screw of another length that fills the hole without bottoming, washer as it is.
    ScrewLength,
    /// A washer, with a screw as long as the hole then takes.
    WasherAndScrewLength,
    /// A brass insert in the boss, with the longest screw that does not bottom.
    Insert,
    /// A new part of the same material: undoes the wear of removals.
    NewPart,
}

/// One remedy, computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// What is changed.
    pub remedy: Remedy,
    /// Screw length that goes with it.
    pub length: Length,
    /// Whether the changed joint has a window.
    pub opens: bool,
    /// Lower end of the changed joint's window, as torque.
    pub low: Torque,
    /// Upper end of the changed joint's window, as torque.
    pub high: Torque,
}

impl Joint {
    /// Every remedy that changes something here, in the order of effort.
    pub(super) fn openings(&self, needed_clamp: Force) -> Result<Vec<Opening>, ScrewError> {
        let mut openings = Vec::new();
        for (remedy, changed) in self.changed()? {
            if changed == *self.parameters() {
                continue;
            }
            let window = Joint::new(changed)?.bare_window(needed_clamp)?;
            let (opens, low, high) = (window.is_open(), window.low, window.high);
            openings.push(Opening { remedy, length: changed.length, opens, low, high });
        }
        Ok(openings)
    }

    fn changed(&self) -> Result<[(Remedy, JointParameters); 5], ScrewError> {
        let now = *self.parameters();
        let washer = JointParameters { washer: true, ..now };
        let insert = JointParameters { thread_in: insert()?, removals: 0, ..now };
        Ok([
            (Remedy::Washer, washer),
            (Remedy::ScrewLength, with_best_length(now)?),
            (Remedy::WasherAndScrewLength, with_best_length(washer)?),
            (Remedy::Insert, with_best_length(insert)?),
            (Remedy::NewPart, JointParameters { removals: 0, ..now }),
        ])
    }
}

/// The joint with the longest nominal screw that does not bottom; unchanged where none reaches the thread.
fn with_best_length(parameters: JointParameters) -> Result<JointParameters, ScrewError> {
    const ROUNDING_MM: f64 = 1e-6;
    let grip_mm = Joint::new(parameters)?.grip().to_mm();
    let most_mm = grip_mm + parameters.hole_depth.to_mm() + ROUNDING_MM;
    let fits = NOMINAL_LENGTHS.iter().rev().find(|&&length_mm| length_mm > grip_mm && length_mm <= most_mm);
    Ok(fits.map_or(parameters, |&length_mm| JointParameters { length: Length::mm(length_mm), ..parameters }))
}

fn insert() -> Result<ThreadMaterial, ScrewError> {
    Ok(ThreadMaterial {
        shear: Strength::new(Pressure::mpa(INSERT_SHEAR_MPA))?,
        modulus: Pressure::gpa(INSERT_MODULUS_GPA),
        creep_exponent: 0.0,
        plastic: false,
    })
}
