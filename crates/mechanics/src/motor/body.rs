//! A motor as two masses for its heat, and what stands in for their values where nobody measured them.

use crate::range::{OutOfRange, Range};
use toothsayer_quantity::Mass;

static MASS: Range = Range { what: "motor mass", min: 0.001, max: 50.0, unit: "kg" };
static COOLING: Range = Range { what: "cooling against the usual", min: 0.1, max: 20.0, unit: "" };
static CAPACITY: Range = Range { what: "heat capacity", min: 1e-3, max: 1e6, unit: "J/K" };
static CONDUCTANCE: Range = Range { what: "heat conductance", min: 1e-6, max: 1e4, unit: "W/K" };

/// How conductances go with the mass: as the surface of bodies of one shape.
const SURFACE_POWER: f64 = 2.0 / 3.0;

/// What stands in for a thermal value of a motor of 1 kg, and how it goes with the mass M/1 kg.
#[derive(Clone, Copy, Debug)]
pub struct ThermalEstimate {
    /// What it is.
    pub what: &'static str,
    /// Low end.
    pub low: f64,
    /// Usual.
    pub usual: f64,
    /// High end.
    pub high: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Power of the mass.
    pub mass_power: f64,
    /// Where it comes from.
    pub source: &'static str,
}

/// Winding's and case's capacity, conductance from winding to case and from case to air.
pub static ESTIMATES: [ThermalEstimate; 4] = [
    ThermalEstimate {
        what: "heat capacity of the winding",
        low: 35.0,
        usual: 60.0,
        high: 85.0,
        unit: "J/K",
        mass_power: 1.0,
        source: "15 % [9..22] of the motor copper of 385 J/kg/K: estimate, no source",
    },
    ThermalEstimate {
        what: "heat capacity of the rest",
        low: 340.0,
        usual: 400.0,
        high: 460.0,
        unit: "J/K",
        mass_power: 1.0,
        source: "85 % of the motor iron, magnets and aluminium of 470 J/kg/K: estimate, no source",
    },
    ThermalEstimate {
        what: "conductance from winding to case",
        low: 1.5,
        usual: 3.0,
        high: 6.0,
        unit: "W/K",
        mass_power: SURFACE_POWER,
        source: "estimate, no source",
    },
    ThermalEstimate {
        what: "conductance from case to air in the wind of the running truck",
        low: 0.5,
        usual: 1.2,
        high: 2.4,
        unit: "W/K",
        mass_power: SURFACE_POWER,
        source: "0.02 m² of can at 20 to 50 W/m²/K, and the mount: estimate, no source",
    },
];

/// A motor as two masses: the winding, and the rest of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermalBody {
    /// Heat capacity of the winding, 0.001 to 10⁶ J/K.
    pub winding_j_k: f64,
    /// Heat capacity of the rest, 0.001 to 10⁶ J/K.
    pub case_j_k: f64,
    /// Conductance from winding to case, 10⁻⁶ to 10⁴ W/K.
    pub winding_to_case_w_k: f64,
    /// Conductance from case to air, 10⁻⁶ to 10⁴ W/K.
    pub case_to_air_w_k: f64,
}

impl ThermalBody {
    /// A motor of a mass of 0.001 to 50 kg at the usual values of [`ESTIMATES`], its case cooled `cooling` (0.1 to 20)
    /// times as well as usual.
    pub fn of_mass(mass: Mass, cooling: f64) -> Result<Self, OutOfRange> {
        let mass_kg = MASS.check(mass.to_kg())?;
        let cooling = COOLING.check(cooling)?;
        let [winding_j_k, case_j_k, winding_to_case_w_k, usual_w_k] =
            ESTIMATES.map(|row| row.usual * mass_kg.powf(row.mass_power));
        Ok(Self { winding_j_k, case_j_k, winding_to_case_w_k, case_to_air_w_k: cooling * usual_w_k })
    }

    /// Refuses values outside their ranges.
    pub(super) fn check(&self) -> Result<(), OutOfRange> {
        CAPACITY.check(self.winding_j_k)?;
        CAPACITY.check(self.case_j_k)?;
        CONDUCTANCE.check(self.winding_to_case_w_k)?;
        CONDUCTANCE.check(self.case_to_air_w_k)?;
        Ok(())
    }
}
