//! The lengths along the motor's shaft that a drawing needs: as measured, and where the file is silent as usual.

use toothsayer_job::{Build, Fields};
use toothsayer_mechanics::bearing;

/// A hub before the toothed face, and what stands behind it, where nobody measured them, mm (drawing only).
const USUAL_HUB_MM: f64 = 5.0;
const USUAL_TAIL_MM: f64 = 0.5;
/// An outer bearing whose size nobody gave, D over d and B, mm (drawing only).
const USUAL_BEARING_MM: [f64; 2] = [8.0, 5.0];
/// Overlaps that differ by less count as the same, mm.
const SAME_MM: f64 = 1e-6;

/// Places along the shaft in mm from the mount's face outward, and radii.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ShaftLengths {
    pub spacer: f64,
    pub pinion_end: f64,
    pub pinion_face: [f64; 2],
    pub spur_face: [f64; 2],
    pub bearing_face: f64,
    pub bearing_width: f64,
    pub bearing_radius: f64,
    pub shaft_radius: f64,
    /// Width on which the faces meet.
    pub overlap: f64,
    /// What was drawn as usual because the file does not give it, in words.
    pub usual: Vec<&'static str>,
}

impl ShaftLengths {
    pub(crate) fn of(build: &Build, fields: &Fields) -> ShaftLengths {
        let mm = |key: &str| fields.number(key).map(|si| 1e3 * si);
        let mut usual = Vec::new();
        let half_face = build.gears.pinion.face_width.to_mm() / 2.0;
        let middle = build.stack.mount_to_mid_face.to_mm();
        let pinion_face = [middle - half_face, middle + half_face];
        let spacer = mm("stack.spacer").unwrap_or_else(|| {
            usual.push("spacer");
            (pinion_face[0] - mm("stack.pinion_face_start").unwrap_or(USUAL_HUB_MM)).max(0.0)
        });
        let pinion_end = match mm("stack.pinion_length") {
            Some(length) => (spacer + length).max(pinion_face[1]),
            None => {
                usual.push("pinion's length");
                pinion_face[1] + USUAL_TAIL_MM
            }
        };
        let spur_face = spur_face(build, mm("stack.spur_face_start"), pinion_face, &mut usual);
        let size = build.support.as_ref().and_then(|support| bearing::find(support.bearing.as_deref()?));
        let shaft_radius = build.motor.shaft_diameter.to_mm() / 2.0;
        let [ring, width] = USUAL_BEARING_MM;
        ShaftLengths {
            spacer,
            pinion_end,
            pinion_face,
            spur_face,
            bearing_face: pinion_end + build.stack.gap.to_mm(),
            bearing_width: size.map_or(width, |size| size.width.to_mm()),
            bearing_radius: size.map_or(shaft_radius + ring / 2.0, |size| size.outside.to_mm() / 2.0),
            shaft_radius,
            overlap: build.stack.overlap.to_mm(),
            usual,
        }
    }

    /// Where the faces meet.
    pub(crate) fn meeting(&self) -> [f64; 2] {
        [self.pinion_face[0].max(self.spur_face[0]), self.pinion_face[1].min(self.spur_face[1])]
    }
}

/// The spur where it gives the build's overlap: at its measured place if that does, else moved outward until it does.
fn spur_face(build: &Build, start: Option<f64>, pinion: [f64; 2], usual: &mut Vec<&'static str>) -> [f64; 2] {
    let width = build.gears.spur.face_width.to_mm();
    let overlap = build.stack.overlap.to_mm();
    let meets = |start: f64| pinion[1].min(start + width) - pinion[0].max(start);
    if let Some(start) = start.filter(|start| (meets(*start) - overlap).abs() < SAME_MM) {
        return [start, start + width];
    }
    usual.push("spur's place");
    let narrower = width.min(pinion[1] - pinion[0]);
    let start = if overlap >= narrower - SAME_MM { (pinion[0] + pinion[1] - width) / 2.0 } else { pinion[1] - overlap };
    [start, start + width]
}
