//! The mesh that a walk has opened, and what each case does in it.

use super::WalkPoint;
use crate::Error;
use crate::bay::Bay;
use crate::joint::JointFriction;
use crate::joint::Windows;
use crate::load_path::LoadPath;
use crate::peaks::event;
use std::collections::HashMap;
use std::rc::Rc;
use toothsayer_job::{Build, Joint};
use toothsayer_mechanics::driveline::{Case, Options, Outcome, simulate_with};
use toothsayer_mechanics::gear::Member;
use toothsayer_mechanics::screw::{ForceSample, Pattern, Place};
use toothsayer_quantity::{Angle, Force, Length, Time, Torque};

/// An event is simulated anew once the motor has moved by so much: a hundredth of a usual play.
const ANEW: Length = Length::um(1.0);
/// Phase of the lash at which landings come: a bouncing truck arrives at any, and some of them here.
const LANDING_PHASE: f64 = 0.875;
/// Samples closer than this are the same moment.
const SAME_MOMENT_S: f64 = 1e-9;
/// One run at this tolerance: friction and clamp are known far less well.
const WITH_HISTORY: Options =
    Options { tolerance: 1e-3, settle: false, trace_points: 0, mesh_history: true, max_steps: 500_000 };

/// One case in the mesh as it then stood.
pub(super) struct OpenMesh {
    pub(super) trace: Vec<ForceSample>,
    pub(super) pressure_angle: Angle,
    pub(super) worst_shear: Force,
    pub(super) peak: Force,
    pub(super) root_margin: f64,
    travel: Length,
    bay: Bay,
}

impl OpenMesh {
    /// The mesh with the motor at a place, before an event of this case or after one.
    pub(super) fn point(&self, case: Option<Case>, place: Place, friction: f64) -> Result<WalkPoint, Error> {
        let opened = place.travel - self.travel;
        let shear_n = self.worst_shear.to_n();
        Ok(WalkPoint {
            case,
            centre_distance: self.bay.pair.spec().centre_distance + opened,
            clamp: place.clamp,
            contact_ratio: self.contact_ratio(opened)?,
            peak: self.peak,
            slip_margin: if shear_n > 0.0 { friction * place.clamp.to_n() / shear_n } else { f64::INFINITY },
            root_margin: self.root_margin,
        })
    }

    /// Contact ratio a little further open, with the shaft bent by this case's largest force.
    fn contact_ratio(&self, opened: Length) -> Result<f64, Error> {
        let loaded = self.bay.loaded_contact_ratio(self.peak)?;
        let pair = self.bay.widest();
        let further = pair.at_centre_distance(pair.spec().centre_distance + opened)?;
        Ok((loaded + further.contact_ratio() - pair.contact_ratio()).max(0.0))
    }
}

/// The meshes of a walk, by case.
pub(super) struct OpenMeshes<'a> {
    build: &'a Build,
    joint: &'a Joint,
    run_in: bool,
    known: HashMap<Case, Rc<OpenMesh>>,
}

impl<'a> OpenMeshes<'a> {
    pub(super) fn new(build: &'a Build, joint: &'a Joint, run_in: bool) -> Self {
        Self { build, joint, run_in, known: HashMap::new() }
    }

    /// A case after some travel.
    pub(super) fn at(&mut self, case: Case, travel: Length) -> Result<Rc<OpenMesh>, Error> {
        if let Some(mesh) = self.known.get(&case).filter(|mesh| travel - mesh.travel < ANEW) {
            return Ok(Rc::clone(mesh));
        }
        let mesh = Rc::new(self.simulated(case, travel)?);
        self.known.insert(case, Rc::clone(&mesh));
        Ok(mesh)
    }

    fn simulated(&self, case: Case, travel: Length) -> Result<OpenMesh, Error> {
        let mut build = self.build.clone();
        build.gears.spec.centre_distance = build.gears.spec.centre_distance + travel;
        let bay = Bay::new(&build, self.run_in)?;
        let phase = case.is_landing().then_some(LANDING_PHASE);
        let outcome = simulate_with(&bay.parameters(&build), &event(case, &build.driver, phase), &WITH_HISTORY)?;
        let peak = Force::n(outcome.peak_drive_flank.force_n.max(outcome.peak_coast_flank.force_n));
        Ok(OpenMesh {
            trace: trace(&outcome),
            pressure_angle: bay.pair.working_pressure_angle(),
            worst_shear: self.worst_shear(&outcome)?,
            peak,
            root_margin: root_margin(&build, &bay, peak)?,
            travel,
            bay,
        })
    }

    /// The largest shear on the worst screw at any moment of an event.
    fn worst_shear(&self, outcome: &Outcome) -> Result<Force, Error> {
        let Some(circle) = self.joint.circle else { return Ok(Force::ZERO) };
        let pattern = Pattern::new(self.joint.screws, circle)?;
        let torque_per_a = 1.0 / self.build.motor.kv.to_rad_per_s_v();
        let mut worst = Force::ZERO;
        for point in outcome.mesh_history.iter().filter(|point| point.force_n != 0.0) {
            let reaction = Torque::n_m(torque_per_a * point.current_a.abs());
            worst = worst.max(pattern.worst_shear(Force::n(point.force_n.abs()), reaction)?);
        }
        Ok(worst)
    }
}

/// The tooth force with rising times: where a contact closes, the history holds the moment twice.
fn trace(outcome: &Outcome) -> Vec<ForceSample> {
    let mut samples: Vec<ForceSample> = Vec::with_capacity(outcome.mesh_history.len());
    for point in &outcome.mesh_history {
        let sample = ForceSample { time: Time::s(point.time_s), normal_force: Force::n(point.force_n) };
        match samples.last_mut() {
            Some(last) if point.time_s - last.time.to_s() < SAME_MOMENT_S => last.normal_force = sample.normal_force,
            _ => samples.push(sample),
        }
    }
    samples
}

/// Static strength over stress of the weaker root under a force.
fn root_margin(build: &Build, bay: &Bay, force: Force) -> Result<f64, Error> {
    let (windows, friction, strength) = (Windows::new(), JointFriction::NOMINAL, [1.0; 2]);
    let path = LoadPath { build, bay, peaks: &[], windows: &windows, horizon_runs: 0.0, friction, strength };
    let mut least = f64::INFINITY;
    for member in [Member::Pinion, Member::Spur] {
        let stress_pa = path.root_stress_pa(member, force.to_n())?;
        if stress_pa > 0.0 {
            least = least.min(path.root_strength_pa(member)? / stress_pa);
        }
    }
    Ok(least)
}
