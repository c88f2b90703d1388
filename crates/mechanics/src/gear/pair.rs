//! A pinion and a spur at a centre distance: how they run together.

use std::f64::consts::PI;
use std::fmt;

use toothsayer_quantity::{Angle, Length};

use super::backlash::free_centre_distance_m;
use super::involute::inv_rad;
use super::{Gear, GearError, Rack, Tooth, ToothSpec, limits};
use crate::Error;

/// Rounding slack of "binds": a nanometre, far below anything a tooth can show.
const BACKLASH_SLACK_M: f64 = 1e-9;
/// Rounding of a backlash: sums of lengths below a metre carry some 1e-16 m.
const ROUNDING_M: f64 = 1e-14;
/// Rounding slack of the form circle along the line of action.
const FORM_SLACK_M: f64 = 1e-9;

/// Two gears cut by one rack, and where their axes stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairSpec {
    /// Module m of both.
    pub module: Length,
    /// Pressure angle alpha of both.
    pub pressure_angle: Angle,
    /// Basic rack of both.
    pub rack: Rack,
    /// The driving gear on the motor shaft.
    pub pinion: Gear,
    /// The driven gear.
    pub spur: Gear,
    /// Actual centre distance a, measured or designed.
    pub centre_distance: Length,
}

impl PairSpec {
    /// One gear with the pair's module, angle and rack.
    pub fn tooth_spec(&self, member: Member) -> ToothSpec {
        let gear = match member {
            Member::Pinion => self.pinion,
            Member::Spur => self.spur,
        };
        ToothSpec { module: self.module, pressure_angle: self.pressure_angle, rack: self.rack, gear }
    }
}

/// One of the two gears.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Member {
    /// The gear on the motor shaft.
    Pinion,
    /// The gear it drives.
    Spur,
}

impl Member {
    /// Both, pinion first.
    pub const BOTH: [Self; 2] = [Self::Pinion, Self::Spur];

    /// The other one.
    pub fn mate(self) -> Self {
        match self {
            Self::Pinion => Self::Spur,
            Self::Spur => Self::Pinion,
        }
    }
}

impl fmt::Display for Member {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Pinion => "pinion",
            Self::Spur => "spur",
        })
    }
}

/// Whether a pair can run at its centre distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Engagement {
    /// The teeth reach each other with backlash to spare.
    Runs,
    /// The teeth are too thick for their gaps.
    Binds {
        /// Missing normal backlash.
        by: Length,
    },
    /// The teeth do not reach each other.
    Apart,
}

/// Reference centre distance ad = m (z1 + z2)/2; the spec's own centre distance is not read.
pub fn reference_centre_distance(spec: &PairSpec) -> Length {
    spec.module * (0.5 * (f64::from(spec.pinion.teeth) + f64::from(spec.spur.teeth)))
}

/// A pair at its actual centre distance a (ISO 21771, 6).
///
/// Working pressure angle: cos aw = (rb1 + rb2)/a.
/// Contact ratio: eps = [sqrt(ra1^2 - rb1^2) + sqrt(ra2^2 - rb2^2) - a sin aw]/(pi m cos alpha), not clamped.
/// Backlash at the working pitch circle: jt = p_w - s_w1 - s_w2; normal backlash jn = jt cos aw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    spec: PairSpec,
    pinion: Tooth,
    spur: Tooth,
    pub(super) centre_m: f64,
    pub(super) working_angle_rad: f64,
    contact_ratio: f64,
    normal_backlash_m: f64,
}

impl Pair {
    /// A pair that must run. Errors: ranges, no contact possible, binding teeth (by how much), no engagement.
    pub fn new(spec: PairSpec) -> Result<Self, Error> {
        let pair = Self::measured(spec)?;
        let centre_distance_m = pair.centre_m;
        match pair.engagement() {
            Engagement::Runs => Ok(pair),
            Engagement::Binds { by } => {
                let free_from_m = free_centre_distance_m(&pair.pinion, &pair.spur, 0.0);
                Err(GearError::Binds { by_m: by.to_m(), centre_distance_m, free_from_m }.into())
            }
            Engagement::Apart => {
                let (contact_ratio, working_depth_m) = (pair.contact_ratio, pair.working_depth().to_m());
                Err(GearError::Apart { centre_distance_m, contact_ratio, working_depth_m }.into())
            }
        }
    }

    /// A pair as it was found: binding and missing engagement are told by [`Pair::engagement`].
    /// Errors: ranges, and a centre distance at or below the sum of the base radii.
    pub fn measured(spec: PairSpec) -> Result<Self, Error> {
        let pinion = Tooth::new(spec.tooth_spec(Member::Pinion))?;
        let spur = Tooth::new(spec.tooth_spec(Member::Spur))?;
        Self::of_teeth(spec, pinion, spur)
    }

    /// The same gears at another centre distance, as found.
    pub fn at_centre_distance(&self, centre_distance: Length) -> Result<Self, Error> {
        Self::of_teeth(PairSpec { centre_distance, ..self.spec }, self.pinion, self.spur)
    }

    fn of_teeth(spec: PairSpec, pinion: Tooth, spur: Tooth) -> Result<Self, Error> {
        limits::CENTRE_DISTANCE_MM.check(spec.centre_distance.to_mm())?;
        let centre_m = spec.centre_distance.to_m();
        let base_radii_m = pinion.base_m + spur.base_m;
        if centre_m <= base_radii_m {
            return Err(GearError::ContactImpossible { centre_distance_m: centre_m, base_radii_m }.into());
        }
        let working_angle_rad = (base_radii_m / centre_m).acos();
        let line_m = pinion.tip_line_m() + spur.tip_line_m() - super::tooth::line_m(centre_m, base_radii_m);
        let contact_ratio = line_m / base_pitch_m(&spec);
        let normal_backlash_m = without_rounding_m(normal_backlash_m(&pinion, &spur, working_angle_rad));
        Ok(Self { spec, pinion, spur, centre_m, working_angle_rad, contact_ratio, normal_backlash_m })
    }

    /// Whether the pair runs, binds or is apart (contact ratio at or below 0, or tip circles clear of each other).
    pub fn engagement(&self) -> Engagement {
        if self.contact_ratio <= 0.0 || self.working_depth() <= Length::ZERO {
            Engagement::Apart
        } else if self.normal_backlash_m < -BACKLASH_SLACK_M {
            Engagement::Binds { by: Length::m(-self.normal_backlash_m) }
        } else {
            Engagement::Runs
        }
    }

    /// What the pair was made from.
    pub fn spec(&self) -> &PairSpec {
        &self.spec
    }
    /// The tooth of one of the two.
    pub fn tooth(&self, member: Member) -> &Tooth {
        match member {
            Member::Pinion => &self.pinion,
            Member::Spur => &self.spur,
        }
    }
    /// Working pressure angle aw.
    pub fn working_pressure_angle(&self) -> Angle {
        Angle::rad(self.working_angle_rad)
    }
    /// Transverse contact ratio; below 1 there are moments without contact, at or below 0 there is none.
    pub fn contact_ratio(&self) -> f64 {
        self.contact_ratio
    }
    /// Normal backlash jn, negative where the teeth bind.
    pub fn normal_backlash(&self) -> Length {
        Length::m(self.normal_backlash_m)
    }
    /// Circumferential backlash jt at the working pitch circles, negative where the teeth bind.
    pub fn circumferential_backlash(&self) -> Length {
        Length::m(self.normal_backlash_m / self.working_angle_rad.cos())
    }
    /// Working pitch radius rb/cos aw.
    pub fn working_radius(&self, member: Member) -> Length {
        Length::m(self.tooth(member).base_m / self.working_angle_rad.cos())
    }
    /// Overlap of the tip circles, ra1 + ra2 - a.
    pub fn working_depth(&self) -> Length {
        Length::m(self.pinion.tip_m + self.spur.tip_m - self.centre_m)
    }
    /// Clearance between one gear's tip and the other's root, a - ra - rf.
    pub fn tip_clearance_of(&self, member: Member) -> Length {
        Length::m(self.centre_m - self.tooth(member).tip_m - self.tooth(member.mate()).root_m)
    }
    /// The smaller of the two tip clearances; negative where a tip strikes a root.
    pub fn tip_clearance(&self) -> Length {
        self.tip_clearance_of(Member::Pinion).min(self.tip_clearance_of(Member::Spur))
    }
    /// Reference centre distance ad.
    pub fn reference_centre_distance(&self) -> Length {
        reference_centre_distance(&self.spec)
    }
    /// Base pitch pi m cos alpha.
    pub fn base_pitch(&self) -> Length {
        Length::m(base_pitch_m(&self.spec))
    }
    /// Tooth ratio u = z2/z1.
    pub fn ratio(&self) -> f64 {
        self.spur.z() / self.pinion.z()
    }

    /// Where contact begins on one gear's flank, along the line of action from its base tangent point:
    /// a sin aw - sqrt(ra^2 - rb^2) of the mate. Negative: the mate's tip reaches inside the base circle.
    pub fn active_profile_start(&self, member: Member) -> Length {
        Length::m(self.centre_m * self.working_angle_rad.sin() - self.tooth(member.mate()).tip_line_m())
    }
    /// Whether the mate's tip works below this gear's form circle, on the fillet instead of the involute.
    pub fn interferes(&self, member: Member) -> bool {
        self.active_profile_start(member).to_m() < self.tooth(member).form_line_m() - FORM_SLACK_M
    }
    /// The largest tip radius without contact inside the mate's base circle: sqrt(rb^2 + (a sin aw)^2).
    pub fn tip_radius_limit(&self, member: Member) -> Length {
        Length::m(self.tooth(member).base_m.hypot(self.centre_m * self.working_angle_rad.sin()))
    }
}

/// A backlash of nothing but rounding is none.
fn without_rounding_m(backlash_m: f64) -> f64 {
    if backlash_m.abs() < ROUNDING_M { 0.0 } else { backlash_m }
}

fn base_pitch_m(spec: &PairSpec) -> f64 {
    PI * spec.module.to_m() * spec.pressure_angle.to_rad().cos()
}

/// jn = (p_w - s_w1 - s_w2) cos aw with everything led back to the base circles.
pub(super) fn normal_backlash_m(pinion: &Tooth, spur: &Tooth, working_angle_rad: f64) -> f64 {
    2.0 * (pinion.base_m + spur.base_m) * inv_rad(working_angle_rad) + closed_gap_m(pinion, spur)
}

/// The normal backlash less its part from the working pressure angle: base pitch less both base thicknesses.
pub(super) fn closed_gap_m(pinion: &Tooth, spur: &Tooth) -> f64 {
    2.0 * (pinion.base_m * (PI / pinion.z() - pinion.base_half_angle_rad) - spur.base_m * spur.base_half_angle_rad)
}
