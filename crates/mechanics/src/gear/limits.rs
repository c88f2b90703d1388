//! The ranges that the gear formulas are held to, one row each.

use crate::range::Range;

const fn row(what: &'static str, min: f64, max: f64, unit: &'static str) -> Range {
    Range { what, min, max, unit }
}

pub(super) const TEETH: Range = row("tooth count", 5.0, 500.0, "");
pub(super) const MODULE_MM: Range = row("module", 0.05, 50.0, "mm");
pub(super) const PRESSURE_ANGLE_DEG: Range = row("pressure angle", 10.0, 30.0, "deg");
pub(super) const SHIFT: Range = row("profile shift coefficient", -1.0, 1.5, "");
pub(super) const THINNING_MODULES: Range = row("tooth thinning", -0.3, 1.5, "modules");
pub(super) const TIP_SHORTENING: Range = row("tip shortening", -0.2, 1.2, "modules");
pub(super) const ADDENDUM: Range = row("rack addendum", 0.3, 1.6, "modules");
pub(super) const DEDENDUM: Range = row("rack dedendum", 0.5, 2.0, "modules");
pub(super) const ROOT_RADIUS: Range = row("rack root radius", 0.0, 0.6, "modules");
pub(super) const CENTRE_DISTANCE_MM: Range = row("centre distance", 0.0, 10_000.0, "mm");
pub(super) const FACE_WIDTH_MM: Range = row("face width", 1e-3, 500.0, "mm");
pub(super) const TOOTH_FORCE_N: Range = row("tooth force", 0.0, 1e7, "N");
pub(super) const TORQUE_N_M: Range = row("torque", 0.0, 1e5, "N*m");
pub(super) const FACE_FACTOR: Range = row("face load factor", 1.0, 1e4, "");
pub(super) const RIM_AND_DEPTH: Range = row("rim and deep tooth factor", 0.5, 3.0, "");
pub(super) const ACCURACY_GRADE: Range = row("accuracy grade", 6.0, 12.0, "");
pub(super) const ELASTIC_MODULUS_GPA: Range = row("elastic modulus", 0.05, 1000.0, "GPa");
pub(super) const POISSON: Range = row("Poisson's ratio", 0.0, 0.5, "");
pub(super) const FLANK_LIMIT_MPA: Range = row("flank endurance limit", 1.0, 5000.0, "N/mm2");
pub(super) const LINE_LOAD_N_PER_MM: Range = row("load per face width", 0.0, 1e7, "N/mm");
pub(super) const MISALIGNMENT_UM: Range = row("misalignment over the face", 0.0, 1e5, "um");
pub(super) const SPEED_M_PER_S: Range = row("pitch line speed", 0.0, 200.0, "m/s");
pub(super) const BACKLASH_MODULES: Range = row("backlash", -1.0, 3.0, "modules");
/// ISO 6336-1 covers transverse contact ratios below 2.5; below 1 the load is taken at the tip.
pub(super) const STRENGTH_CONTACT_RATIO: Range = row("contact ratio for tooth strength", -10.0, 2.5, "");
/// ISO 6336-3 states the stress correction for 1 <= qs < 8.
pub(super) const NOTCH: Range = row("notch parameter", 1.0, 8.0, "");
pub(super) const RIM_RATIO: Range = row("rim thickness over tooth height", 0.5, 1e6, "");
pub(super) const LEWIS_TEETH: Range = row("tooth count for the Lewis table", 12.0, f64::INFINITY, "");
pub(super) const APPLICATION_FACTOR: Range = row("application factor", 0.1, 10.0, "");
pub(super) const TIP_READING_MM: Range = row("tip diameter reading", 0.5, 5_000.0, "mm");
pub(super) const SPAN_READING_MM: Range = row("span reading", 0.1, 2_000.0, "mm");
pub(super) const READING_TOLERANCE_MM: Range = row("tolerance of the reading", 0.0, 5.0, "mm");
pub(super) const PIN_MODULES: Range = row("pin diameter", 0.5, 4.0, "modules");
pub(super) const OUTLINE_TOLERANCE_MODULES: Range = row("outline tolerance", 1e-9, 0.2, "modules");
pub(super) const INVOLUTE: Range = row("involute function", 0.0, 100.0, "rad");
pub(super) const INVOLUTE_ANGLE_DEG: Range = row("angle of an involute", 0.0, 89.9, "deg");
pub(super) const FILM_FACTORS: Range = row("lubricant film factors ZL ZR Zv", 0.3, 1.2, "");

/// Every range of this module, in the order of the code.
pub static LIMITS: &[Range] = &[
    TEETH,
    MODULE_MM,
    PRESSURE_ANGLE_DEG,
    SHIFT,
    THINNING_MODULES,
    TIP_SHORTENING,
    ADDENDUM,
    DEDENDUM,
    ROOT_RADIUS,
    CENTRE_DISTANCE_MM,
    FACE_WIDTH_MM,
    TOOTH_FORCE_N,
    TORQUE_N_M,
    FACE_FACTOR,
    RIM_AND_DEPTH,
    ACCURACY_GRADE,
    ELASTIC_MODULUS_GPA,
    POISSON,
    FLANK_LIMIT_MPA,
    LINE_LOAD_N_PER_MM,
    MISALIGNMENT_UM,
    SPEED_M_PER_S,
    BACKLASH_MODULES,
    STRENGTH_CONTACT_RATIO,
    NOTCH,
    RIM_RATIO,
    LEWIS_TEETH,
    APPLICATION_FACTOR,
    TIP_READING_MM,
    SPAN_READING_MM,
    READING_TOLERANCE_MM,
    PIN_MODULES,
    OUTLINE_TOLERANCE_MODULES,
    INVOLUTE,
    INVOLUTE_ANGLE_DEG,
    FILM_FACTORS,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_range_is_named_once_and_holds_its_own_ends() {
        for (i, range) in LIMITS.iter().enumerate() {
            assert!(range.min < range.max, "{}", range.what);
            assert!(range.check(range.min).is_ok() && range.check(range.max).is_ok(), "{}", range.what);
            assert!(range.check(f64::NAN).is_err(), "{}", range.what);
            assert!(LIMITS[..i].iter().all(|other| other.what != range.what), "{} twice", range.what);
        }
    }
}
