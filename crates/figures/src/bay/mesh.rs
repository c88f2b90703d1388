//! How two gears stand in contact: turned until drive flanks touch at the pitch point, everything in mm.

use crate::Error;
use std::f64::consts::{PI, TAU};
use toothsayer_mechanics::gear::{Member, Outline, Pair, Tooth, outline};
use toothsayer_quantity::Length;

/// How far a drawn flank may lie off the true one on the whole gear and under the lens.
const COARSE: Length = Length::um(8.0);
const FINE: Length = Length::um(0.5);

/// A pair in contact. The pinion's axis is the origin, the spur's lies on the x axis; the pinion turns from x to y.
pub(crate) struct Mesh<'a> {
    pub pair: &'a Pair,
    pub centre_mm: f64,
    working_rad: f64,
    base_mm: [f64; 2],
    turn_rad: [f64; 2],
    along_mm: f64,
}

impl<'a> Mesh<'a> {
    /// Drive flanks touch at `along_mm` past the pitch point on the line of contact.
    pub(crate) fn new(pair: &'a Pair, along_mm: f64) -> Mesh<'a> {
        let working_rad = pair.working_pressure_angle().to_rad();
        let base_mm = Member::BOTH.map(|member| pair.tooth(member).base_radius().to_mm());
        let centre_mm = pair.spec().centre_distance.to_mm();
        let reach_mm = centre_mm * working_rad.sin();
        let pinion_mm = base_mm[0] * working_rad.tan() + along_mm;
        let turn = |member: Member, s_mm: f64| {
            s_mm / base_mm[member as usize] - working_rad - base_half_angle_rad(pair.tooth(member))
        };
        let turn_rad = [turn(Member::Pinion, pinion_mm), PI + turn(Member::Spur, reach_mm - pinion_mm)];
        Mesh { pair, centre_mm, working_rad, base_mm, turn_rad, along_mm }
    }

    /// Drive flanks touch at the pitch point; where the gap behind them would then lie off a flank, as near to it as
    /// lets both lie on one.
    pub(crate) fn shown(pair: &'a Pair) -> Mesh<'a> {
        let mesh = Mesh::new(pair, 0.0);
        let ([start, end], [from, to]) = (mesh.contact_mm(), mesh.gap_mm());
        if end <= start || (from <= end && to >= start) {
            return mesh;
        }
        // Turning on moves contact on and the gap back by the same way: both are put equally far off the middle.
        let middle = (start + end) / 2.0;
        let (touch, gap) = (mesh.pitch_point_mm() - middle, (from + to) / 2.0 - middle);
        let base_pitch = pair.base_pitch().to_mm();
        let gap = gap - ((gap + touch) / base_pitch).round() * base_pitch;
        Mesh::new(pair, (gap - touch) / 2.0)
    }

    /// Whole outline of a gear in place.
    pub(crate) fn whole(&self, member: Member) -> Result<Vec<[f64; 2]>, Error> {
        let outline = self.outline(member, COARSE)?;
        Ok(self.placed(member, &outline.points_m))
    }

    /// The teeth of a gear that stand near the pitch point, closed through the gear's axis.
    pub(crate) fn near(&self, member: Member, each_side: u32) -> Result<Vec<[f64; 2]>, Error> {
        let outline = self.outline(member, FINE)?;
        let teeth = self.pair.tooth(member).teeth();
        let facing_rad = if member == Member::Pinion { 0.0 } else { PI };
        let pitch_rad = TAU / f64::from(teeth);
        let middle = ((facing_rad - self.turn_rad[member as usize]) / pitch_rad).round() as i64;
        let count = (2 * each_side + 1).min(teeth.saturating_sub(1)) as i64;
        let first = middle - count / 2;
        let mut points: Vec<[f64; 2]> = (first..first + count)
            .flat_map(|tooth| outline.tooth_points_m(tooth.rem_euclid(i64::from(teeth)) as usize).iter().copied())
            .collect();
        points.push([0.0, 0.0]);
        Ok(self.placed(member, &points))
    }

    fn outline(&self, member: Member, tolerance: Length) -> Result<Outline, Error> {
        let tooth = self.pair.tooth(member);
        let module = tooth.spec().module;
        Ok(outline(tooth, tolerance.min(module * 0.05))?)
    }

    fn placed(&self, member: Member, points_m: &[[f64; 2]]) -> Vec<[f64; 2]> {
        let (sin, cos) = self.turn_rad[member as usize].sin_cos();
        let along_mm = if member == Member::Pinion { 0.0 } else { self.centre_mm };
        let place = |[x, y]: &[f64; 2]| [along_mm + 1e3 * (x * cos - y * sin), 1e3 * (x * sin + y * cos)];
        points_m.iter().map(place).collect()
    }

    /// A point on the line of contact of the drive flanks, by its distance from the pinion's base circle.
    pub(crate) fn on_drive_line(&self, s_mm: f64) -> [f64; 2] {
        let (sin, cos) = self.working_rad.sin_cos();
        [self.base_mm[0] * cos + s_mm * sin, -self.base_mm[0] * sin + s_mm * cos]
    }

    /// The same on the line of the coast flanks.
    pub(crate) fn on_coast_line(&self, s_mm: f64) -> [f64; 2] {
        let [x, y] = self.on_drive_line(s_mm);
        [x, -y]
    }

    /// Where contact begins and ends on the drive line; end before start where the gears do not meet.
    pub(crate) fn contact_mm(&self) -> [f64; 2] {
        let reach_mm = self.centre_mm * self.working_rad.sin();
        let tip = |member: Member| {
            let tooth = self.pair.tooth(member);
            let (tip, base) = (tooth.tip_radius().to_mm(), tooth.base_radius().to_mm());
            ((tip - base) * (tip + base)).max(0.0).sqrt()
        };
        [reach_mm - tip(Member::Spur), tip(Member::Pinion)]
    }

    fn middle_mm(&self) -> f64 {
        let [start, end] = self.contact_mm();
        (start + end) / 2.0
    }

    /// The pitch point's distance from the pinion's base circle.
    pub(crate) fn pitch_point_mm(&self) -> f64 {
        self.base_mm[0] * self.working_rad.tan()
    }

    /// Where flanks touch now, by their distance from the pinion's base circle.
    pub(crate) fn touching_mm(&self) -> Vec<f64> {
        let [start, end] = self.contact_mm();
        let base_pitch = self.pair.base_pitch().to_mm();
        let now = (self.turn_rad[0] + self.working_rad + base_half_angle_rad(self.pair.tooth(Member::Pinion)))
            * self.base_mm[0];
        let first = ((start - now) / base_pitch - 1e-9).ceil();
        let last = ((end - now) / base_pitch + 1e-9).floor();
        (first as i64..=last as i64).map(|k| now + k as f64 * base_pitch).collect()
    }

    /// The gap between the coast flanks nearest the pitch point (or the middle of contact), along their line; the second end lies before the
    /// first where the teeth bind.
    pub(crate) fn gap_mm(&self) -> [f64; 2] {
        let base_pitch = self.pair.base_pitch().to_mm();
        let half = base_half_angle_rad(self.pair.tooth(Member::Pinion));
        let s = self.base_mm[0] * (self.working_rad + half - self.turn_rad[0]);
        let backlash = self.pair.normal_backlash().to_mm();
        let wanted = if self.along_mm == 0.0 { self.pitch_point_mm() } else { self.middle_mm() - backlash / 2.0 };
        let s = s + ((wanted - s) / base_pitch).round() * base_pitch;
        [s, s + backlash]
    }
}

/// Half of a tooth's angle at the base circle: half of it at the reference circle and inv alpha.
fn base_half_angle_rad(tooth: &Tooth) -> f64 {
    let alpha = tooth.spec().pressure_angle;
    tooth.reference_half_angle().to_rad() + (alpha.to_rad().tan() - alpha.to_rad())
}
