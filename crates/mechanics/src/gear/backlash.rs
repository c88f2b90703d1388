//! From backlash to centre distance, and the window of centre distances that a mesh may have.

use toothsayer_quantity::Length;

use super::involute::inv_inverse_rad;
use super::pair::{closed_gap_m, reference_centre_distance};
use super::{GearError, Member, Pair, PairSpec, Tooth, limits};
use crate::Error;

/// A backlash as it is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Backlash {
    /// jn, along the line of action: a feeler or a paper strip between the flanks.
    Normal(Length),
    /// jt, along the working pitch circle: a dial on a locked pair.
    Circumferential(Length),
}

/// The centre distance at which two gears have a backlash; the spec's own centre distance is not read.
///
/// Normal: inv aw = (jn - gap)/(2 (rb1 + rb2)) with the gap left at the base circles, a = (rb1 + rb2)/cos aw.
/// Circumferential: jn = jt cos aw, solved by bisection, as jn/cos aw rises with aw.
/// Errors: ranges; a backlash that no centre distance above rb1 + rb2 gives.
pub fn centre_distance_for_backlash(spec: &PairSpec, backlash: Backlash) -> Result<Length, Error> {
    let pinion = Tooth::new(spec.tooth_spec(Member::Pinion))?;
    let spur = Tooth::new(spec.tooth_spec(Member::Spur))?;
    let (Backlash::Normal(given) | Backlash::Circumferential(given)) = backlash;
    limits::BACKLASH_MODULES.check(given / spec.module)?;
    let centre_m = match backlash {
        Backlash::Normal(jn) => free_centre_distance_m(&pinion, &spur, jn.to_m()),
        Backlash::Circumferential(jt) => centre_for_circumferential_m(&pinion, &spur, jt.to_m()),
    };
    let base_radii_m = pinion.base_m + spur.base_m;
    if centre_m <= base_radii_m {
        return Err(GearError::ContactImpossible { centre_distance_m: centre_m, base_radii_m }.into());
    }
    Ok(Length::m(centre_m))
}

/// The centre distance at which two gears have a contact ratio, the spec's own centre distance not read:
/// a = sqrt((rb1 + rb2)^2 + (sqrt(ra1^2 - rb1^2) + sqrt(ra2^2 - rb2^2) - eps pi m cos alpha)^2).
///
/// None when even at rb1 + rb2 the ratio is smaller.
pub fn centre_distance_for_contact_ratio(spec: &PairSpec, contact_ratio: f64) -> Result<Option<Length>, Error> {
    limits::STRENGTH_CONTACT_RATIO.check(contact_ratio)?;
    let at_reference = PairSpec { centre_distance: reference_centre_distance(spec), ..*spec };
    let pair = Pair::measured(at_reference)?;
    let (pinion, spur) = (pair.tooth(Member::Pinion), pair.tooth(Member::Spur));
    let left_m = pinion.tip_line_m() + spur.tip_line_m() - contact_ratio * pair.base_pitch().to_m();
    Ok((left_m > 0.0).then(|| Length::m(left_m.hypot(pinion.base_m + spur.base_m))))
}

/// The shift of the axes that a measured backlash tells of: its centre distance less the spec's.
pub fn lateral_shift(spec: &PairSpec, measured: Backlash) -> Result<Length, Error> {
    Ok(centre_distance_for_backlash(spec, measured)? - spec.centre_distance)
}

/// What a mesh must keep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindowLimits {
    /// Least normal backlash.
    pub least_backlash: Length,
    /// Largest normal backlash.
    pub most_backlash: Length,
    /// Least contact ratio.
    pub least_contact_ratio: f64,
}

/// What ends a window at its open side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UpperEnd {
    /// The backlash grows too large.
    Backlash,
    /// The contact ratio falls too low.
    ContactRatio,
}

/// The centre distances at which a mesh keeps its limits; empty where `low` lies above `high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Least centre distance: the least backlash.
    pub low: Length,
    /// Largest centre distance.
    pub high: Length,
    /// What ends it there.
    pub ended_by: UpperEnd,
}

impl Window {
    /// The window of two gears; the spec's own centre distance is not read.
    ///
    /// Where no centre distance gives the contact ratio, `high` is the sum of the base radii and the window is empty.
    pub fn new(spec: &PairSpec, limits: WindowLimits) -> Result<Self, Error> {
        let low = centre_distance_for_backlash(spec, Backlash::Normal(limits.least_backlash))?;
        let loose = centre_distance_for_backlash(spec, Backlash::Normal(limits.most_backlash))?;
        let base_radii = reference_centre_distance(spec) * spec.pressure_angle.to_rad().cos();
        let short = centre_distance_for_contact_ratio(spec, limits.least_contact_ratio)?.unwrap_or(base_radii);
        let ended_by = if short < loose { UpperEnd::ContactRatio } else { UpperEnd::Backlash };
        Ok(Self { low, high: short.min(loose), ended_by })
    }

    /// Whether no centre distance keeps the limits.
    pub fn is_empty(&self) -> bool {
        self.low > self.high
    }
}

/// Centre distance with normal backlash `jn_m`; the sum of the base radii where none has so little.
pub(super) fn free_centre_distance_m(pinion: &Tooth, spur: &Tooth, jn_m: f64) -> f64 {
    let base_radii_m = pinion.base_m + spur.base_m;
    let inv_working = (jn_m - closed_gap_m(pinion, spur)) / (2.0 * base_radii_m);
    base_radii_m / inv_inverse_rad(inv_working).cos()
}

fn centre_for_circumferential_m(pinion: &Tooth, spur: &Tooth, jt_m: f64) -> f64 {
    let base_radii_m = pinion.base_m + spur.base_m;
    let jt_at =
        |a_m: f64| super::pair::normal_backlash_m(pinion, spur, (base_radii_m / a_m).acos()) * a_m / base_radii_m;
    if closed_gap_m(pinion, spur) >= jt_m {
        return base_radii_m;
    }
    // jt/jn = a/(rb1 + rb2) >= 1, so a positive jt needs less than the centre distance of jn = jt.
    let (mut low, mut high) = (base_radii_m, free_centre_distance_m(pinion, spur, jt_m.max(0.0)));
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        *(if jt_at(middle) < jt_m { &mut low } else { &mut high }) = middle;
    }
    0.5 * (low + high)
}
