//! The roots of both gears of a build: stress under a force, static strength, line of strength over cycles.

use crate::Error;
use crate::bay::Bay;
use crate::joint::JointFriction;
use crate::joint::Windows;
use crate::load_path::LoadPath;
use toothsayer_job::Build;
use toothsayer_mechanics::fatigue::{RootLine, RootMetal};
use toothsayer_mechanics::gear::{Member, RootDuty};

/// Forces at which the stress is computed, evenly up to the largest; it is taken as straight between them and to zero,
/// where the load across the face has no value any more.
const FORCES: usize = 40;
const MEMBERS: [Member; 2] = [Member::Pinion, Member::Spur];

/// What the roots of pinion and spur bear, and the stress that a tooth force makes in them.
pub(crate) struct Roots {
    /// Static strength, Pa.
    pub(crate) once_pa: [f64; 2],
    /// Scatter of the strength, as a relative deviation.
    pub(crate) scatter: [f64; 2],
    /// Strength over cycles.
    pub(crate) lines: [RootLine; 2],
    step_n: f64,
    stress_pa: [Vec<f64>; 2],
}

/// The forces that the roots meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Forces {
    /// Largest tooth force, N.
    pub(crate) hardest_n: f64,
    /// Whether both flanks are loaded.
    pub(crate) both_flanks: bool,
}

impl Roots {
    pub(crate) fn new(build: &Build, bay: &Bay, forces: &Forces) -> Result<Self, Error> {
        let windows = Windows::new();
        let (friction, strength) = (JointFriction::NOMINAL, [1.0; 2]);
        let path = LoadPath { build, bay, peaks: &[], windows: &windows, horizon_runs: 0.0, friction, strength };
        let step_n = forces.hardest_n / FORCES as f64;
        let stress_pa = |member: Member| -> Result<Vec<f64>, Error> {
            let at =
                |place: usize| if place == 0 { Ok(0.0) } else { path.root_stress_pa(member, step_n * place as f64) };
            if step_n > 0.0 { (0..=FORCES).map(at).collect() } else { Ok(vec![0.0; FORCES + 1]) }
        };
        let line = |member: Member| -> Result<RootLine, Error> {
            let duty = RootDuty { hardness: bay.hardness(build, member), cycles: 1.0, both_flanks: forces.both_flanks };
            let stress_factor = bay.root(member).stress_factor;
            Ok(RootLine::of(&RootMetal { material: bay.material(member), duty, stress_factor })?)
        };
        let [pinion, spur] = MEMBERS;
        Ok(Self {
            once_pa: [path.root_strength_pa(pinion)?, path.root_strength_pa(spur)?],
            scatter: [0, 1].map(|gear: usize| bay.materials[gear].scatter.root),
            lines: [line(pinion)?, line(spur)?],
            step_n,
            stress_pa: [stress_pa(pinion)?, stress_pa(spur)?],
        })
    }

    /// Root stress of a gear under a tooth force up to the largest.
    pub(crate) fn stress_pa(&self, gear: usize, force_n: f64) -> f64 {
        let stress_pa = &self.stress_pa[gear];
        let along = if self.step_n > 0.0 { (force_n / self.step_n).clamp(0.0, FORCES as f64) } else { 0.0 };
        let below = (along.floor() as usize).min(FORCES - 1);
        stress_pa[below] + (along - below as f64) * (stress_pa[below + 1] - stress_pa[below])
    }

    /// Slope of a gear's line.
    pub(crate) fn slope(&self, gear: usize) -> f64 {
        self.lines[gear].slope()
    }
}
