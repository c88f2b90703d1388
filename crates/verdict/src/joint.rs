//! One joint of a build: how tight it is, what it clamps after its runs, and what it must hold.

use crate::Error;
use crate::peaks::CasePeaks;
use std::collections::BTreeMap;
use toothsayer_job::{Build, Driver, Joint, Tightening};
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::material::{joint_material, screw_class};
use toothsayer_mechanics::screw::{
    self, Clamp, Friction, HeadMaterial, JointParameters, Loosening, Pattern, REPORTED_RUNS, SLIP_EVENT_LOSS,
    SLIP_FRICTION, SlipEvent, Strength, StrengthEnd, Thread, ThreadMaterial, Tightness, Weakest, Window,
};
use toothsayer_quantity::{Force, Torque};

/// Friction of screws and of the joints' faces; nominal unless a range is run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointFriction {
    /// In thread and under head.
    pub screw: f64,
    /// Between the clamped faces.
    pub faces: f64,
}

impl JointFriction {
    /// Clean screws, dry faces.
    pub const NOMINAL: JointFriction = JointFriction { screw: 0.14, faces: SLIP_FRICTION };
}

/// Shear on the worst screw in one case, and how often the case comes in a run.
#[derive(Clone, Copy, Debug)]
pub struct Shear {
    /// The case.
    pub case: Case,
    /// Newtons on the worst screw.
    pub demand: Force,
    /// Times a run.
    pub per_run: f64,
}

/// Windows of the joints as they will be tightened, by joint name.
pub type Windows = BTreeMap<String, Window>;

/// A joint with its mechanics.
#[derive(Clone, Debug)]
pub struct TightJoint<'a> {
    /// What the file says of it.
    pub joint: &'a Joint,
    mechanics: screw::Joint,
    shears: Vec<Shear>,
    friction: JointFriction,
}

/// How often each case comes in a run of this driver; a wheel stop is an accident.
pub fn per_run(driver: &Driver, case: Case) -> f64 {
    let coasting = 1.0 - driver.landings_on_throttle - driver.landings_on_brake;
    match case {
        Case::Launch => driver.launches,
        Case::FullBrake => driver.full_brakes,
        Case::Reversal => driver.reversals,
        Case::LandingOnThrottle => driver.landings * driver.landings_on_throttle,
        Case::LandingOnBrake => driver.landings * driver.landings_on_brake,
        Case::LandingCoasting => driver.landings * coasting.max(0.0),
        Case::WheelStop => 0.0,
    }
}

impl<'a> TightJoint<'a> {
    /// The joint under the build's blows.
    pub fn new(joint: &'a Joint, build: &Build, peaks: &[CasePeaks], friction: JointFriction) -> Result<Self, Error> {
        let mechanics = screw::Joint::new(parameters(joint)?)?;
        let shears = if carries_motor(joint) { shears(joint, build, peaks)? } else { Vec::new() };
        Ok(Self { joint, mechanics, shears, friction })
    }

    /// Shear by case; empty for joints that do not carry the motor.
    pub fn shears(&self) -> &[Shear] {
        &self.shears
    }

    /// Clamp that each screw must keep: as the file says, or what the blows ask for (an accident aside).
    pub fn needed_clamp(&self) -> Result<Option<Force>, Error> {
        if self.joint.needed_clamp.is_some() {
            return Ok(self.joint.needed_clamp);
        }
        let usual = self.shears.iter().filter(|shear| shear.case != Case::WheelStop);
        let worst = usual.map(|shear| shear.demand).reduce(Force::max);
        Ok(worst.map(|demand| Pattern::needed_clamp(demand, self.friction.faces)).transpose()?)
    }

    /// The tightening window for a needed clamp.
    pub fn window(&self, needed_clamp: Force) -> Result<Window, Error> {
        Ok(self.mechanics.window(needed_clamp)?)
    }

    /// Its window among those that the joints will be tightened in; its own clamp's where it is not among them.
    pub fn window_among(&self, windows: &Windows) -> Result<Window, Error> {
        match windows.get(&self.joint.name) {
            Some(window) => Ok(window.clone()),
            None => self.window(self.needed_clamp()?.unwrap_or(Force::ZERO)),
        }
    }

    /// The torque that it was tightened to: known, or the word's share of the middle of `window`.
    pub fn torque(&self, window: &Window) -> Torque {
        match &self.joint.tightening {
            Tightening::Torque(torque) => *torque,
            Tightening::Word(word) => {
                let tightness = Tightness::parse(word).unwrap_or(Tightness::Set);
                window.middle() * tightness.share().value
            }
        }
    }

    /// Preload of one screw at a torque.
    pub fn preload(&self, torque: Torque) -> Result<Force, Error> {
        Ok(self.mechanics.preload(torque, Friction::same(self.friction.screw)?)?)
    }

    /// Torque that strips or yields the weakest part.
    pub fn torque_to_strip(&self) -> Torque {
        self.mechanics.torque_to_strip()
    }

    /// What gives way first.
    pub fn weakest(&self) -> Weakest {
        self.mechanics.weakest(StrengthEnd::Nominal)
    }

    /// Clamp of one screw after some runs: embedding, creep and every blow that made the joint slip.
    pub fn clamp_after(&self, torque: Torque, runs: f64) -> Result<Force, Error> {
        if self.joint.free {
            return Ok(Force::ZERO);
        }
        self.loosened(Clamp::fresh(&self.mechanics, self.preload(torque)?)?, runs)
    }

    /// Clamp some runs after a joint put together `age_runs` before was tightened again to the same torque.
    pub fn clamp_after_again(&self, torque: Torque, age_runs: f64, runs: f64) -> Result<Force, Error> {
        if self.joint.free {
            return Ok(Force::ZERO);
        }
        self.loosened(Clamp::retightened(&self.mechanics, self.preload(torque)?, age_runs)?, runs)
    }

    fn loosened(&self, clamp: Clamp, runs: f64) -> Result<Force, Error> {
        let event = |shear: &Shear| SlipEvent { demand_per_screw: shear.demand, per_run: shear.per_run };
        let events: Vec<SlipEvent> = self.shears.iter().map(event).collect();
        let loss_per_event = SLIP_EVENT_LOSS.value;
        let loosening = Loosening { clamp, friction: self.friction.faces, events: &events, loss_per_event };
        Ok(loosening.clamp_after(runs)?)
    }

    /// Clamp after 1, 2, 5, 20 and 50 runs.
    pub fn clamp_over_runs(&self, torque: Torque) -> Result<Vec<(f64, Force)>, Error> {
        REPORTED_RUNS.iter().map(|runs| Ok((*runs, self.clamp_after(torque, *runs)?))).collect()
    }

    /// Friction between the clamped faces.
    pub fn face_friction(&self) -> f64 {
        self.friction.faces
    }

    /// Whether it is driven into plastic.
    pub fn into_plastic(&self) -> Result<bool, Error> {
        Ok(joint_material(&self.joint.thread_in)?.plastic)
    }
}

/// Whether the motor's forces go through the joint.
pub fn carries_motor(joint: &Joint) -> bool {
    matches!(joint.carries.as_str(), "motor" | "mount")
}

fn shears(joint: &Joint, build: &Build, peaks: &[CasePeaks]) -> Result<Vec<Shear>, Error> {
    let Some(circle) = joint.circle else { return Ok(Vec::new()) };
    let pattern = Pattern::new(joint.screws, circle)?;
    let torque_per_a = 1.0 / build.motor.kv.to_rad_per_s_v();
    let mut shears = Vec::with_capacity(peaks.len());
    for case in peaks {
        let mut demand = Force::ZERO;
        for blow in case.blows.iter().chain([&case.drive, &case.coast]) {
            let reaction = Torque::n_m(torque_per_a * blow.current_a.abs());
            if blow.force_n > 0.0 {
                demand = demand.max(pattern.worst_shear(Force::n(blow.force_n), reaction)?);
            }
        }
        shears.push(Shear { case: case.case, demand, per_run: per_run(&build.driver, case.case) });
    }
    Ok(shears)
}

fn parameters(joint: &Joint) -> Result<JointParameters, Error> {
    let boss = joint_material(&joint.thread_in)?;
    let part = joint_material(&joint.under_head)?;
    let thread = Thread::find(&joint.size)?;
    Ok(JointParameters {
        thread,
        length: joint.length,
        clamped: joint.clamped,
        hole_depth: joint.hole_depth,
        washer: joint.washer,
        proof_stress: screw_class(&joint.class)?.proof_stress(thread.diameter),
        thread_in: ThreadMaterial {
            shear: Strength::with_weak_end(boss.shear_strength, boss.weak_shear_strength)?,
            modulus: boss.modulus,
            creep_exponent: boss.creep_exponent,
            plastic: boss.plastic,
        },
        under_head: HeadMaterial {
            bearing: Strength::with_weak_end(part.bearing_pressure, part.weak_bearing_pressure)?,
            modulus: part.modulus,
            creep_exponent: part.creep_exponent,
        },
        removals: joint.removals,
    })
}
