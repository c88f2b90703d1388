//! How fast the named bearings of motor and input shaft turn, against what greases stand.

use crate::Error;
use crate::bay::{Bay, sound_support};
use crate::motor::truck_speeds;
use toothsayer_job::Build;
use toothsayer_mechanics::bearing::{self, ORDINARY_GREASE_LIMIT_MM_PER_MIN, SPECIAL_GREASE_LIMIT_MM_PER_MIN};
use toothsayer_quantity::AngularSpeed;

/// Which lubricant a bearing's speed asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grease {
    /// Any bearing grease.
    Ordinary,
    /// A grease for high speed, or oil.
    Special,
    /// Past what greases usually stand.
    Beyond,
}

impl Grease {
    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Grease::Ordinary => "ordinary",
            Grease::Special => "special",
            Grease::Beyond => "beyond",
        }
    }
}

/// A bearing at the motor's speed without load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BearingSpeed {
    /// The part, as in the margins.
    pub part: &'static str,
    /// Its ISO size.
    pub size: &'static str,
    /// Speed times mean diameter, n dm with dm = (d + D)/2, mm/min.
    pub speed_factor_mm_per_min: f64,
    /// What it asks for (rule of thumb: 150 000 and 400 000 mm/min, weak source).
    pub grease: Grease,
}

/// The support bearing and the bearings that the file names; those known by their ratings alone are left out.
pub fn bearing_speeds(build: &Build, bay: &Bay) -> Result<Vec<BearingSpeed>, Error> {
    let rotor = truck_speeds(build, bay)?.motor.no_load_speed();
    let support = sound_support(build).and_then(|support| support.bearing.as_deref());
    let named = [
        ("support-bearing", support, 1.0),
        ("motor-front-bearing", build.motor.front_bearing.as_deref(), 1.0),
        ("input-bearing", build.driveline.input_bearing.as_deref(), bay.pair.ratio()),
    ];
    let known = named.into_iter().filter_map(|(part, name, ratio)| Some((part, bearing::find(name?)?, ratio)));
    known
        .filter(|_| rotor > AngularSpeed::ZERO)
        .map(|(part, row, ratio)| {
            let factor = row.speed_factor_mm_per_min(rotor / ratio)?;
            let grease = match factor {
                slow if slow <= ORDINARY_GREASE_LIMIT_MM_PER_MIN => Grease::Ordinary,
                fast if fast <= SPECIAL_GREASE_LIMIT_MM_PER_MIN => Grease::Special,
                _ => Grease::Beyond,
            };
            Ok(BearingSpeed { part, size: row.name, speed_factor_mm_per_min: factor, grease })
        })
        .collect()
}
