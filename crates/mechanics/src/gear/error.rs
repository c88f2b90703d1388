//! What can be wrong with a gear or a pair of gears.

use super::Member;

/// Why a gear figure cannot be computed. Lengths in m, angles in rad.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum GearError {
    /// The centre distance leaves no working pressure angle.
    #[error(
        "centre distance is {:.4} mm, no contact is possible at or below {:.4} mm (the sum of the base radii)",
        .centre_distance_m * 1e3, .base_radii_m * 1e3
    )]
    ContactImpossible {
        /// The given centre distance.
        centre_distance_m: f64,
        /// Sum of the base radii.
        base_radii_m: f64,
    },
    /// The teeth are thicker than the gaps at this centre distance.
    #[error(
        "the teeth bind by {:.4} mm of normal backlash at centre distance {:.4} mm; they run free from {:.4} mm on",
        .by_m * 1e3, .centre_distance_m * 1e3, .free_from_m * 1e3
    )]
    Binds {
        /// Missing normal backlash.
        by_m: f64,
        /// The given centre distance.
        centre_distance_m: f64,
        /// The centre distance without backlash.
        free_from_m: f64,
    },
    /// The teeth do not reach each other.
    #[error(
        "no engagement at centre distance {} mm: contact ratio {contact_ratio:.3}, the tip circles overlap by {:.4} mm",
        .centre_distance_m * 1e3, .working_depth_m * 1e3
    )]
    Apart {
        /// The given centre distance.
        centre_distance_m: f64,
        /// Contact ratio, at or below 0 unless the tips are clear of each other.
        contact_ratio: f64,
        /// Overlap of the tip circles, negative when they are clear.
        working_depth_m: f64,
    },
    /// The flanks meet inside the tip circle.
    #[error("the tooth of {teeth} teeth is pointed: {:.4} mm thick at its tip, above 0 is needed", .tip_thickness_m * 1e3)]
    PointedTooth {
        /// Tooth count.
        teeth: u32,
        /// Thickness at the tip circle, negative.
        tip_thickness_m: f64,
    },
    /// The tip circle does not reach outside the base and root circles.
    #[error(
        "no involute flank on {teeth} teeth: tip radius {:.4} mm must exceed base radius {:.4} mm and root radius {:.4} mm, all above 0",
        .tip_m * 1e3, .base_m * 1e3, .root_m * 1e3
    )]
    NoFlank {
        /// Tooth count.
        teeth: u32,
        /// Tip radius.
        tip_m: f64,
        /// Base radius.
        base_m: f64,
        /// Root radius.
        root_m: f64,
    },
    /// The root fillet swallows the whole flank.
    #[error(
        "no involute is left on {teeth} teeth: the fillet reaches {:.4} mm, the tip radius is {:.4} mm",
        .form_m * 1e3, .tip_m * 1e3
    )]
    FilletToTip {
        /// Tooth count.
        teeth: u32,
        /// Form radius, where the fillet would end.
        form_m: f64,
        /// Tip radius.
        tip_m: f64,
    },
    /// The radius asked for lies off the tooth.
    #[error("radius {:.4} mm is off the involute, which runs from {:.4} to {:.4} mm", .radius_m * 1e3, .from_m * 1e3, .to_m * 1e3)]
    OffFlank {
        /// The radius asked for, or where the measuring tool would touch.
        radius_m: f64,
        /// Least radius.
        from_m: f64,
        /// Largest radius.
        to_m: f64,
    },
    /// The pin would not stand out of its gap.
    #[error("a pin of {:.4} mm lies {:.4} mm below the tip circle and cannot be measured over", .pin_m * 1e3, .below_m * 1e3)]
    PinTooSmall {
        /// Pin diameter.
        pin_m: f64,
        /// How far below the tips.
        below_m: f64,
    },
    /// The two gears do not share a base pitch.
    #[error(
        "pitches differ: base pitch {:.4} mm against {:.4} mm, a pitch error of {:.1} um per tooth; \
         both gears must have one module and one pressure angle",
        .base_pitch_a_m * 1e3, .base_pitch_b_m * 1e3, .error_per_tooth_m * 1e6
    )]
    PitchMismatch {
        /// Base pitch of the first gear.
        base_pitch_a_m: f64,
        /// Base pitch of the second gear.
        base_pitch_b_m: f64,
        /// Second less first.
        error_per_tooth_m: f64,
    },
    /// The root construction of ISO 6336-3 does not close.
    #[error("no 30 degree tangent on the root of {teeth} teeth with shift {shift}: {why}")]
    NoRootTangent {
        /// Tooth count.
        teeth: u32,
        /// Profile shift coefficient.
        shift: f64,
        /// Which quantity is out of its domain.
        why: &'static str,
    },
    /// The inner point of single contact lies inside the base circle.
    #[error(
        "the {member} meets its mate inside its own base circle; no flank pressure exists at its inner point of single contact"
    )]
    ContactInsideBase {
        /// The gear whose base circle is passed.
        member: Member,
    },
    /// Speed at which the dynamic factor's method ends.
    #[error(
        "speed figure v z1/100 is {speed_m_per_s:.2} m/s, the dynamic factor's method C ends at {limit_m_per_s} m/s"
    )]
    TooFastForMethodC {
        /// v z1/100 sqrt(u^2/(1+u^2)).
        speed_m_per_s: f64,
        /// The limit.
        limit_m_per_s: f64,
    },
}
