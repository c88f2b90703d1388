//! Gears that the strength tests share: ISO 53 profile A, module 1 mm, 20 degrees, at the reference centre distance.

use toothsayer_mechanics::gear::{Gear, PairSpec, Rack, reference_centre_distance};
use toothsayer_quantity::{Angle, Length};

pub fn gear(teeth: u32, shift: f64) -> Gear {
    Gear { teeth, shift, thinning: Length::ZERO, tip_shortening: 0.0 }
}

pub fn spec(z1: u32, z2: u32) -> PairSpec {
    let spec = PairSpec {
        module: Length::mm(1.0),
        pressure_angle: Angle::deg(20.0),
        rack: Rack::ISO_53_A,
        pinion: gear(z1, 0.0),
        spur: gear(z2, 0.0),
        centre_distance: Length::ZERO,
    };
    PairSpec { centre_distance: reference_centre_distance(&spec), ..spec }
}

#[track_caller]
pub fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} within {tolerance}");
}
