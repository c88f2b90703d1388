//! Every margin of a build at point values, along the load path.

use crate::Error;
use crate::bay::{Bay, sound_support, support_static_rating};
use crate::bearings;
use crate::heat;
use crate::joint::{JointFriction, TightJoint, Windows, carries_motor, per_run};
use crate::margin::{Limit, Margin};
use crate::measure::NEEDED_CONTACT_RATIO;
use crate::peaks::CasePeaks;
use toothsayer_job::{Build, Tightening};
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::gear::{
    FILM_FACTORS, FlankDuty, FlankLoad, Member, RootDuty, RootLoad, flank_pressure, flank_strength, root_strength,
    root_stress,
};
use toothsayer_mechanics::material::GearMaterial;
use toothsayer_mechanics::screw::{Seat, Securing, SetScrew, SetScrewParameters, SetScrewRow, SetScrewTool};
use toothsayer_mechanics::stack::{LEAST_GAP, NEEDED_OVERLAP_SHARE, WANDER_LIMIT};
use toothsayer_quantity::{Force, Length, Torque};

/// Normal backlash that a mesh needs, in modules (common practice, no source).
const NEEDED_BACKLASH_MODULES: f64 = 0.02;
/// Difference of base pitches that teeth bear, in modules (common practice, no source).
const PITCH_ERROR_MODULES: f64 = 0.02;
/// A flank counts as loaded in turn when its blows reach this share of the other's.
pub(crate) const LOADED_IN_TURN: f64 = 0.01;

/// A build with its bay, its blows and what else its margins need.
pub struct LoadPath<'a> {
    /// The build.
    pub build: &'a Build,
    /// Its gear bay.
    pub bay: &'a Bay,
    /// Its blows.
    pub peaks: &'a [CasePeaks],
    /// Windows of the joints as they will be tightened.
    pub windows: &'a Windows,
    /// Runs that endurance is asked for.
    pub horizon_runs: f64,
    /// Friction of the joints.
    pub friction: JointFriction,
    /// Factor on the strength of pinion and spur.
    pub strength: [f64; 2],
}

const MEMBERS: [(Member, &str); 2] = [(Member::Pinion, "pinion"), (Member::Spur, "spur")];

impl LoadPath<'_> {
    /// Every margin.
    pub fn margins(&self) -> Result<Vec<Margin>, Error> {
        let mut out = Vec::with_capacity(80);
        for (member, name) in MEMBERS {
            self.gear(member, name, &mut out)?;
        }
        self.mesh(&mut out)?;
        self.stack(&mut out);
        self.shaft(&mut out)?;
        self.set_screw(&mut out)?;
        bearings::margins(self, &mut out)?;
        out.push(heat::margin(self.build, self.bay)?);
        for joint in &self.build.joints {
            self.joint(&TightJoint::new(joint, self.build, self.peaks, self.friction)?, &mut out)?;
        }
        Ok(out)
    }

    pub(crate) fn each(&self) -> impl Iterator<Item = (&'static str, f64)> + '_ {
        self.peaks.iter().map(|case| (case.case.name(), case.hardest().force_n))
    }

    /// Root stress under a tooth force.
    pub fn root_stress_pa(&self, member: Member, force_n: f64) -> Result<f64, Error> {
        let force = Force::n(force_n);
        let k_f_beta = self.bay.face_factors(self.build, force)?.k_f_beta;
        let load = RootLoad { normal_force: force, face_width: self.bay.overlap, k_f_beta, rim_and_depth: 1.0 };
        let mut worst_pa = 0.0_f64;
        for (pair, root) in self.bay.root_places(member) {
            worst_pa = worst_pa.max(root_stress(pair, root, &load)?.to_pa());
        }
        Ok(worst_pa)
    }

    /// Static strength of the root.
    pub fn root_strength_pa(&self, member: Member) -> Result<f64, Error> {
        let duty = RootDuty { hardness: self.bay.hardness(self.build, member), cycles: 1.0, both_flanks: false };
        Ok(root_strength(self.bay.material(member), &duty)?.to_pa() * self.strength[member as usize])
    }

    fn gear(&self, member: Member, name: &str, out: &mut Vec<Margin>) -> Result<(), Error> {
        let bears_pa = self.root_strength_pa(member)?;
        for (case, force_n) in self.each() {
            out.push(Margin::new(name, Limit::Root, case, self.root_stress_pa(member, force_n)?, bears_pa));
        }
        out.push(self.endurance(member, name, self.horizon_runs)?);
        let bears_pa = self.flank_strength_pa(member)?;
        for (case, force_n) in self.each() {
            // Pinions of six teeth and fewer have no inner point of single contact: their wear is not told.
            if let Ok(demand_pa) = self.flank_pressure_pa(force_n) {
                out.push(Margin::new(name, Limit::Flank, case, demand_pa, bears_pa));
            }
        }
        Ok(())
    }

    /// Miner's equivalent of the driver's events over some runs against the endurance at their number.
    pub fn endurance(&self, member: Member, name: &str, runs: f64) -> Result<Margin, Error> {
        let material = self.bay.material(member);
        let slope = root_slope(material)?;
        let (mut cycles, mut damage) = (0.0, 0.0);
        let (mut drive_n, mut coast_n) = (0.0_f64, 0.0_f64);
        for case in self.peaks {
            let times = per_run(&self.build.driver, case.case) * runs;
            if times > 0.0 {
                let stress_pa = self.root_stress_pa(member, case.hardest().force_n)?;
                cycles += times;
                damage += times * stress_pa.powf(slope);
                drive_n = drive_n.max(case.drive.force_n);
                coast_n = coast_n.max(case.coast.force_n);
            }
        }
        let demand_pa = if cycles > 0.0 { (damage / cycles).powf(1.0 / slope) } else { 0.0 };
        let both_flanks = drive_n.min(coast_n) > LOADED_IN_TURN * drive_n.max(coast_n);
        let duty = RootDuty { hardness: self.bay.hardness(self.build, member), cycles: cycles.max(1.0), both_flanks };
        let bears_pa = root_strength(material, &duty)?.to_pa() * self.strength[member as usize];
        Ok(Margin::new(name, Limit::RootEndurance, "any", demand_pa, bears_pa))
    }

    fn flank_pressure_pa(&self, force_n: f64) -> Result<f64, Error> {
        let force = Force::n(force_n);
        let k_h_beta = self.bay.face_factors(self.build, force)?.k_h_beta;
        let load =
            FlankLoad { normal_force: force, face_width: self.bay.overlap, k_h_beta, elastic: self.bay.elastic() };
        Ok(flank_pressure(&self.bay.pair, &load)?.to_pa())
    }

    fn flank_strength_pa(&self, member: Member) -> Result<f64, Error> {
        let material = self.bay.material(member);
        let hardness = self.bay.hardness(self.build, member);
        let hard_mate = !material.surface_hardened && self.bay.material(member.mate()).surface_hardened;
        let duty = FlankDuty { hardness, cycles: 1.0, hard_mate, film_factors: FILM_FACTORS };
        Ok(flank_strength(material, &duty)?.to_pa())
    }

    pub(crate) fn mesh(&self, out: &mut Vec<Margin>) -> Result<(), Error> {
        for (case, force_n) in self.each() {
            let ratio = self.bay.loaded_contact_ratio(Force::n(force_n))?.max(0.0);
            out.push(Margin::new("mesh", Limit::Engagement, case, NEEDED_CONTACT_RATIO, ratio));
        }
        let gears = &self.build.gears;
        let narrow = gears.pinion.face_width.min(gears.spur.face_width);
        let needed_m = NEEDED_OVERLAP_SHARE * narrow.to_m();
        out.push(Margin::new("mesh", Limit::Overlap, "any", needed_m, self.bay.overlap.to_m()));
        let play_m = self.bay.least_backlash().to_m().max(0.0);
        let needed_m = NEEDED_BACKLASH_MODULES * gears.spec.module.to_m();
        out.push(Margin::new("mesh", Limit::Backlash, "any", needed_m, play_m));
        let pitch_error = gears.pitch_error();
        if pitch_error > Length::ZERO {
            let bears_m = PITCH_ERROR_MODULES * gears.spec.module.to_m();
            out.push(Margin::new("mesh", Limit::Pitch, "any", pitch_error.to_m(), bears_m));
        }
        Ok(())
    }

    pub(crate) fn stack(&self, out: &mut Vec<Margin>) {
        if self.build.support.is_none() {
            return;
        }
        let demand = self.build.stack.gap_tolerance.max(LEAST_GAP);
        let room = self.bay.gap.min(WANDER_LIMIT - self.bay.gap);
        out.push(Margin::new("stack", Limit::Gap, "any", demand.to_m(), room.to_m().max(0.0)));
    }

    pub(crate) fn shaft(&self, out: &mut Vec<Margin>) -> Result<(), Error> {
        let yield_pa = self.build.motor.shaft_yield.to_pa();
        for (case, force_n) in self.each() {
            let stress_pa = self.bay.bend(Force::n(force_n))?.stress.to_pa();
            out.push(Margin::new("motor-shaft", Limit::Bending, case, stress_pa, yield_pa));
        }
        if let (Some(_), Some(rating)) = (sound_support(self.build), support_static_rating(self.build)) {
            for (case, force_n) in self.each() {
                let load_n = self.bay.bend(Force::n(force_n))?.support_reaction.to_n().abs();
                out.push(Margin::new("support-bearing", Limit::Static, case, load_n, rating.to_n()));
            }
        }
        Ok(())
    }

    pub(crate) fn set_screw(&self, out: &mut Vec<Margin>) -> Result<(), Error> {
        let rb1_m = self.bay.pair.tooth(Member::Pinion).base_radius().to_m();
        let holds_n_m = holding_torque(self.build)?.to_n_m();
        for (case, force_n) in self.each() {
            out.push(Margin::new("set-screw", Limit::Hold, case, force_n * rb1_m, holds_n_m));
        }
        Ok(())
    }

    pub(crate) fn joint(&self, tight: &TightJoint<'_>, out: &mut Vec<Margin>) -> Result<(), Error> {
        let joint = tight.joint;
        let needed = tight.needed_clamp()?;
        let torque = tight.torque(&tight.window_among(self.windows)?);
        let clamp = tight.clamp_after(torque, joint.runs_since_tightened)?;
        if carries_motor(joint) {
            let bears_n = tight.face_friction() * clamp.to_n();
            for shear in tight.shears() {
                out.push(Margin::new(&joint.name, Limit::Slip, shear.case.name(), shear.demand.to_n(), bears_n));
            }
        }
        let strips = tight.torque_to_strip();
        out.push(Margin::new(&joint.name, Limit::Strip, "any", torque.to_n_m(), strips.to_n_m()));
        if let Some(needed) = needed {
            out.push(Margin::new(&joint.name, Limit::Clamp, "any", needed.to_n(), clamp.to_n()));
        }
        Ok(())
    }
}

/// Exponent p of N sigma^p over the sloping part of a root line.
fn root_slope(material: &GearMaterial) -> Result<f64, Error> {
    let (few, many) = (1e4_f64, 3e6_f64);
    Ok((many / few).ln() / (material.y_nt(few)? / material.y_nt(many)?).ln())
}

/// What the set screw holds; a pinion found to move holds nothing.
pub fn holding_torque(build: &Build) -> Result<Torque, Error> {
    if build.pinion_free {
        return Ok(Torque::ZERO);
    }
    let row = SetScrewRow::find(&build.set_screw.size)?;
    let torque = match &build.set_screw.tightening {
        Tightening::Torque(torque) => *torque,
        Tightening::Word(tool) => row.torque_by(SetScrewTool::parse(tool).unwrap_or(SetScrewTool::Driver)),
    };
    let seat = if build.set_screw.on_flat { Seat::Flat } else { Seat::Round };
    let parameters =
        SetScrewParameters { row, torque, seat, securing: Securing::Fresh, shaft_diameter: build.motor.shaft_diameter };
    Ok(SetScrew::new(parameters)?.holding_torque())
}

/// The hardest blow of the cases that a driver drives, an accident aside.
pub fn hardest_n(peaks: &[CasePeaks]) -> f64 {
    let usual = peaks.iter().filter(|case| case.case != Case::WheelStop);
    usual.map(|case| case.hardest().force_n).fold(0.0, f64::max)
}
