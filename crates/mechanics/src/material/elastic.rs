//! Elasticity of one gear and of a pair.

use toothsayer_quantity::Pressure;

/// Modulus and Poisson's ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    /// Young's modulus E.
    pub modulus: Pressure,
    /// Poisson's ratio.
    pub poisson: f64,
}

impl Elastic {
    /// Gear steel of ISO 6336: 206 GPa, 0.3.
    pub const STEEL: Self = Self { modulus: Pressure::gpa(206.0), poisson: 0.3 };
}

/// The elasticity of both gears of a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ElasticPair {
    /// The pinion's.
    pub pinion: Elastic,
    /// The spur's.
    pub spur: Elastic,
}

impl ElasticPair {
    /// Steel on steel.
    pub const STEEL: Self = Self { pinion: Elastic::STEEL, spur: Elastic::STEEL };
}
