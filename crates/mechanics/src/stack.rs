//! The stack on the motor shaft: spacer, pinion, gap, cover bearing; and what it does to the face overlap.
//!
//! All lengths run from the mount's face outward.

use crate::range::{OutOfRange, Range};
use std::ops::RangeInclusive;
use toothsayer_quantity::{Angle, Length};

/// Gap beyond which the pinion wanders before the bearing stops it (common practice, no source).
pub const WANDER_LIMIT: Length = Length::mm(1.0);

/// Least gap that is asked for whatever the tolerances say (common practice, no source).
pub const LEAST_GAP: Length = Length::mm(0.05);

/// Share of the smaller face that must overlap (common practice, no source).
pub const NEEDED_OVERLAP_SHARE: f64 = 0.8;

static LENGTH: Range = Range { what: "length in the stack", min: 0.0, max: 300.0, unit: "mm" };
static FACE: Range = Range { what: "face width", min: 0.5, max: 100.0, unit: "mm" };
static TOLERANCE: Range = Range { what: "tolerance in the stack", min: 0.0, max: 20.0, unit: "mm" };
static TRAVEL: Range = Range { what: "travel of the rocking part", min: 0.0, max: 20.0, unit: "mm" };
static ARM: Range = Range { what: "distance from mount to mid-face", min: 0.5, max: 400.0, unit: "mm" };

/// A length with its tolerance to both sides.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Dimension {
    /// Nominal length.
    pub nominal: Length,
    /// Tolerance, 0 to 20 mm.
    pub plus_minus: Length,
}

impl Dimension {
    /// A length without tolerance.
    pub const fn exact(nominal: Length) -> Self {
        Self { nominal, plus_minus: Length::ZERO }
    }

    fn mm(&self) -> f64 {
        self.nominal.to_mm()
    }

    fn tolerance_mm(&self) -> f64 {
        self.plus_minus.to_mm()
    }
}

/// The lengths of a stack; positions 0 to 300 mm, face widths 0.5 to 100 mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StackParameters {
    /// Spacer between mount and pinion.
    pub spacer: Dimension,
    /// Whole pinion with its hub.
    pub pinion_length: Dimension,
    /// From the pinion's inner end to its toothed face.
    pub pinion_face_start: Dimension,
    /// Pinion's face width.
    pub pinion_face_width: Dimension,
    /// From the mount's face to the spur's toothed face.
    pub spur_face_start: Dimension,
    /// Spur's face width.
    pub spur_face_width: Dimension,
    /// From the mount's face to the bearing's inner face with the cover seated.
    pub cover_bearing: Dimension,
}

/// A stack, checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stack {
    parameters: StackParameters,
}

/// A length with what its tolerances make of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toleranced {
    /// At nominal dimensions.
    pub nominal: Length,
    /// Least when every dimension is at its worst.
    pub worst_low: Length,
    /// Largest when every dimension is at its worst.
    pub worst_high: Length,
    /// Root-sum-square of what each tolerance can take from it.
    pub root_sum_square: Length,
}

/// What keeps the pinion from walking off its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxialStop {
    /// The cover bearing, at the stack's gap.
    Bearing,
    /// Nothing: the bearing is gone.
    Missing,
}

/// How the gap stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GapVerdict {
    /// Below zero: the pinion presses the bearing, the cover cannot seat.
    Presses,
    /// Between zero and the wander limit.
    Runs,
    /// Beyond the limit: the bearing idles and the pinion can wander.
    Idle,
}

/// The spacer that a stack wants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpacerAdvice {
    /// Centres the pinion's face on the spur's; may be negative where none can.
    pub centring: Length,
    /// Leaves exactly the wanted gap; may be negative where none can.
    pub for_gap: Length,
    /// Spacers of 0 or more that keep the gap within its limits and the needed overlap; none if no spacer does.
    pub range: Option<(Length, Length)>,
    /// The spacer to fit: of the range, the one that leaves the wanted gap if it keeps the needed overlap,
    /// else the nearest to it.
    pub spacer: Option<Length>,
}

/// What a rocking motor or mount does to the mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rocking {
    /// The centre distance opens by the travel at the pinion.
    pub opening: Length,
    /// Travel over the distance from the mount's plane to mid-face.
    pub tilt: Angle,
}

impl Stack {
    /// Checks every length and tolerance against its range.
    pub fn new(parameters: StackParameters) -> Result<Self, OutOfRange> {
        let p = &parameters;
        let positions = [p.spacer, p.pinion_length, p.pinion_face_start, p.spur_face_start, p.cover_bearing];
        let faces = [p.pinion_face_width, p.spur_face_width];
        for (dimension, range) in positions.iter().map(|d| (d, &LENGTH)).chain(faces.iter().map(|d| (d, &FACE))) {
            range.check(dimension.mm())?;
            TOLERANCE.check(dimension.tolerance_mm())?;
        }
        Ok(Self { parameters })
    }

    /// Gap to the bearing: cover_bearing - (spacer + pinion_length), negative when the pinion presses it.
    ///
    /// Worst case: plus and minus the sum of the three tolerances; root-sum-square of the three.
    pub fn gap(&self) -> Toleranced {
        let p = &self.parameters;
        let nominal_mm = p.cover_bearing.mm() - (p.spacer.mm() + p.pinion_length.mm());
        let tolerances_mm = [p.cover_bearing, p.spacer, p.pinion_length].map(|d| d.tolerance_mm());
        let sum_mm: f64 = tolerances_mm.iter().sum();
        Toleranced {
            nominal: Length::mm(nominal_mm),
            worst_low: Length::mm(nominal_mm - sum_mm),
            worst_high: Length::mm(nominal_mm + sum_mm),
            root_sum_square: root_sum_square(&tolerances_mm),
        }
    }

    /// What the nominal gap means.
    pub fn gap_verdict(&self) -> GapVerdict {
        match self.gap().nominal {
            gap if gap < Length::ZERO => GapVerdict::Presses,
            gap if gap > WANDER_LIMIT => GapVerdict::Idle,
            _ => GapVerdict::Runs,
        }
    }

    /// Common width of the two faces, zero when they miss each other:
    /// min(ends) - max(starts), the pinion's face from spacer + face_start on.
    ///
    /// Worst ends are exact; the root-sum-square takes for each dimension the overlap that its tolerance alone
    /// can cost.
    pub fn overlap(&self) -> Toleranced {
        let nominal = Faces::of(&self.parameters);
        Toleranced {
            nominal: Length::mm(nominal.overlap_mm()),
            worst_low: Length::mm(self.least_overlap_mm()),
            worst_high: Length::mm(self.most_overlap_mm()),
            root_sum_square: root_sum_square(&self.single_losses_mm()),
        }
    }

    /// How far the pinion can walk: the gap when it exceeds [`WANDER_LIMIT`], nothing otherwise; without a
    /// bearing until the whole overlap is gone, for nothing stops it.
    pub fn wander(&self, stop: AxialStop) -> Length {
        let gap = self.gap().nominal;
        match stop {
            AxialStop::Missing => self.overlap().nominal,
            AxialStop::Bearing if gap > WANDER_LIMIT => gap,
            AxialStop::Bearing => Length::ZERO,
        }
    }

    /// Overlap once the pinion has walked: the loss equals the wander (0 to 300 mm), whichever way it went.
    pub fn overlap_after(&self, wander: Length) -> Result<Length, OutOfRange> {
        let wander_mm = LENGTH.check(wander.to_mm())?;
        Ok((self.overlap().nominal - Length::mm(wander_mm)).max(Length::ZERO))
    }

    /// Distance from the mount's plane to the pinion's mid-face: spacer + face_start + half the face.
    pub fn mount_to_mid_face(&self) -> Length {
        let p = &self.parameters;
        p.spacer.nominal + p.pinion_face_start.nominal + p.pinion_face_width.nominal / 2.0
    }

    /// Opening and tilt of a part that rocks by a travel of 0 to 20 mm, pushed by hand at the pinion from stop
    /// to stop, the set position taken as the near stop; tilt = travel/[`Stack::mount_to_mid_face`].
    pub fn rocking(&self, travel: Length) -> Result<Rocking, OutOfRange> {
        let travel_mm = TRAVEL.check(travel.to_mm())?;
        let arm_mm = ARM.check(self.mount_to_mid_face().to_mm())?;
        Ok(Rocking { opening: Length::mm(travel_mm), tilt: Angle::rad(travel_mm / arm_mm) })
    }

    /// The spacer to fit for a wanted gap of 0 to 300 mm; this stack's own spacer is left out of it.
    ///
    /// centring = spur_start + spur_width/2 - face_start - pinion_width/2; for_gap = cover_bearing -
    /// pinion_length - wanted. The range keeps the gap between max(0.05 mm, root-sum-square of the tolerances)
    /// and 1.0 mm, and the overlap at 0.8 of the smaller face. Of the range the spacer is taken that leaves the
    /// wanted gap, or the nearest to it: the gap decides whether the cover seats, centring only shares the face.
    pub fn spacer_advice(&self, wanted_gap: Length) -> Result<SpacerAdvice, OutOfRange> {
        let wanted_mm = LENGTH.check(wanted_gap.to_mm())?;
        let p = &self.parameters;
        let room_mm = p.cover_bearing.mm() - p.pinion_length.mm();
        let centring_mm = p.spur_face_start.mm() + p.spur_face_width.mm() / 2.0
            - p.pinion_face_start.mm()
            - p.pinion_face_width.mm() / 2.0;
        let range_mm = self.spacer_range_mm(room_mm, centring_mm);
        let fit_mm = range_mm.as_ref().map(|range| (room_mm - wanted_mm).clamp(*range.start(), *range.end()));
        Ok(SpacerAdvice {
            centring: Length::mm(centring_mm),
            for_gap: Length::mm(room_mm - wanted_mm),
            range: range_mm.map(|range| (Length::mm(*range.start()), Length::mm(*range.end()))),
            spacer: fit_mm.map(Length::mm),
        })
    }

    /// The gap's limits and the overlap's: the pinion may lie off centre by half the difference of the
    /// faces plus what of the smaller face may miss.
    fn spacer_range_mm(&self, room_mm: f64, centring_mm: f64) -> Option<RangeInclusive<f64>> {
        let p = &self.parameters;
        let least_gap_mm = self.gap().root_sum_square.max(LEAST_GAP).to_mm();
        let smaller_mm = p.pinion_face_width.mm().min(p.spur_face_width.mm());
        let difference_mm = (p.pinion_face_width.mm() - p.spur_face_width.mm()).abs();
        let off_mm = difference_mm / 2.0 + (1.0 - NEEDED_OVERLAP_SHARE) * smaller_mm;
        let low_mm = (room_mm - WANDER_LIMIT.to_mm()).max(centring_mm - off_mm).max(0.0);
        let high_mm = (room_mm - least_gap_mm).min(centring_mm + off_mm);
        (low_mm <= high_mm).then_some(low_mm..=high_mm)
    }

    /// The overlap is concave in the pinion's offset, so its least is at an end, with the narrowest faces.
    fn least_overlap_mm(&self) -> f64 {
        let (faces, reach_mm) = self.widths_moved(-1.0);
        let ends = [-reach_mm, reach_mm].map(|by| Faces { offset_mm: faces.offset_mm + by, ..faces }.overlap_mm());
        ends[0].min(ends[1])
    }

    /// Its largest is with the widest faces at the reachable offset nearest to the centred one.
    fn most_overlap_mm(&self) -> f64 {
        let (faces, reach_mm) = self.widths_moved(1.0);
        let centred_mm = (faces.spur_mm - faces.pinion_mm) / 2.0;
        let offset_mm = centred_mm.clamp(faces.offset_mm - reach_mm, faces.offset_mm + reach_mm);
        Faces { offset_mm, ..faces }.overlap_mm()
    }

    /// Both widths at one end of their tolerance, and how far the offset can move.
    fn widths_moved(&self, sign: f64) -> (Faces, f64) {
        let p = &self.parameters;
        let nominal = Faces::of(p);
        let moved = Faces {
            pinion_mm: (nominal.pinion_mm + sign * p.pinion_face_width.tolerance_mm()).max(0.0),
            spur_mm: (nominal.spur_mm + sign * p.spur_face_width.tolerance_mm()).max(0.0),
            ..nominal
        };
        let reach_mm = [p.spacer, p.pinion_face_start, p.spur_face_start].iter().map(Dimension::tolerance_mm).sum();
        (moved, reach_mm)
    }

    fn single_losses_mm(&self) -> [f64; 5] {
        let p = &self.parameters;
        let now = Faces::of(p);
        let offset = |by_mm: f64| Faces { offset_mm: now.offset_mm + by_mm, ..now }.overlap_mm();
        let moved = |d: Dimension| now.overlap_mm() - offset(d.tolerance_mm()).min(offset(-d.tolerance_mm()));
        let pinion_mm = (now.pinion_mm - p.pinion_face_width.tolerance_mm()).max(0.0);
        let spur_mm = (now.spur_mm - p.spur_face_width.tolerance_mm()).max(0.0);
        [
            moved(p.spacer),
            moved(p.pinion_face_start),
            moved(p.spur_face_start),
            now.overlap_mm() - Faces { pinion_mm, ..now }.overlap_mm(),
            now.overlap_mm() - Faces { spur_mm, ..now }.overlap_mm(),
        ]
    }
}

/// Two faces, the pinion's starting `offset_mm` after the spur's.
#[derive(Clone, Copy)]
struct Faces {
    offset_mm: f64,
    pinion_mm: f64,
    spur_mm: f64,
}

impl Faces {
    fn of(p: &StackParameters) -> Self {
        Self {
            offset_mm: p.spacer.mm() + p.pinion_face_start.mm() - p.spur_face_start.mm(),
            pinion_mm: p.pinion_face_width.mm(),
            spur_mm: p.spur_face_width.mm(),
        }
    }

    fn overlap_mm(&self) -> f64 {
        let end_mm = (self.offset_mm + self.pinion_mm).min(self.spur_mm);
        (end_mm - self.offset_mm.max(0.0)).max(0.0)
    }
}

fn root_sum_square(parts_mm: &[f64]) -> Length {
    Length::mm(parts_mm.iter().map(|part| part * part).sum::<f64>().sqrt())
}
