//! Which straight piece of its law each element is on, and what ends it.
//!
//! Between two events all branches stand still and the right-hand side is smooth.

use super::clutch::{ShaftBranch, ShaftPiece};
use super::contact::{Piece, Touch};
use super::equations::System;
use super::motor::{Command, Line, Supply};
use super::state::{self, State};
use super::suspension::Stand;

/// Number of guards: mesh 2, shaft 3, ground 2, slap 2, suspension 2, supply 2.
pub(super) const GUARD_COUNT: usize = 13;

/// The branch of every element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Branches {
    pub mesh: Touch,
    pub shaft: ShaftBranch,
    ground: Touch,
    slap: Touch,
    suspension: Stand,
    supply: Supply,
}

/// The straight piece of every element.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pieces {
    pub mesh: Piece,
    pub shaft: ShaftPiece,
    pub ground: Piece,
    pub slap: Piece,
    pub suspension: Piece,
    pub current: Line,
}

/// Travel and speed of each element.
pub(super) struct Motion {
    pub mesh: (f64, f64),
    pub shaft: (f64, f64),
    pub ground: (f64, f64),
    pub slap: (f64, f64),
    pub suspension: (f64, f64),
}

impl Motion {
    #[inline(always)]
    pub fn of(system: &System, s: &State) -> Self {
        let mesh_m_s = system.pinion_radius_m * s[state::ROTOR_SPEED] - system.spur_radius_m * s[state::SPUR_SPEED];
        Self {
            mesh: (s[state::MESH], mesh_m_s),
            shaft: (s[state::TWIST], s[state::SPUR_SPEED] - system.ratio * s[state::WHEEL_SPEED]),
            ground: (-s[state::UNSPRUNG_HEIGHT], -s[state::UNSPRUNG_SPEED]),
            slap: (-s[state::SPRUNG_HEIGHT], -s[state::SPRUNG_SPEED]),
            suspension: (
                s[state::UNSPRUNG_HEIGHT] - s[state::SPRUNG_HEIGHT],
                s[state::UNSPRUNG_SPEED] - s[state::SPRUNG_SPEED],
            ),
        }
    }
}

impl Branches {
    /// The branches that a motion starts on.
    pub fn at(system: &System, command: Command, s: &State) -> Self {
        let motion = Motion::of(system, s);
        Self {
            mesh: system.mesh.touch(motion.mesh.0, motion.mesh.1),
            shaft: system.shaft.branch(motion.shaft.0, motion.shaft.1),
            ground: system.ground.touch(motion.ground.0, motion.ground.1),
            slap: system.slap.touch(motion.slap.0, motion.slap.1),
            suspension: system.suspension.stand(motion.suspension.0),
            supply: system.motor.supply(command, s[state::ROTOR_SPEED]),
        }
    }

    /// Starts a new command.
    pub fn command(&mut self, system: &System, command: Command, s: &State) {
        self.supply = system.motor.supply(command, s[state::ROTOR_SPEED]);
    }

    /// The pieces that hold on these branches.
    pub fn pieces(&self, system: &System, command: Command) -> Pieces {
        Pieces {
            mesh: system.mesh.piece(self.mesh),
            shaft: system.shaft.piece(self.shaft),
            ground: system.ground.piece(self.ground),
            slap: system.slap.piece(self.slap),
            suspension: system.suspension.piece(self.suspension),
            current: system.motor.current_line(command, self.supply),
        }
    }

    /// Rate of the fastest contact that is closed, rad/s.
    pub fn fast_rad_s(&self, system: &System) -> f64 {
        let mesh_rad_s = if self.mesh.is_closed() { system.mesh_rad_s } else { 0.0 };
        let shaft_rad_s = match self.shaft {
            ShaftBranch::Held(touch) if touch.is_closed() => system.shaft_rad_s,
            ShaftBranch::Held(_) => 0.0,
            _ => system.shaft.contact.stiffness / system.shaft.contact.damping,
        };
        mesh_rad_s.max(shaft_rad_s)
    }

    /// All guards; a branch ends when one of its guards becomes positive.
    pub fn guards(&self, system: &System, command: Command, s: &State) -> [f64; GUARD_COUNT] {
        let motion = Motion::of(system, s);
        let mesh = system.mesh.guards(self.mesh, motion.mesh.0, motion.mesh.1);
        let shaft = system.shaft.guards(self.shaft, motion.shaft.0, motion.shaft.1);
        let ground = system.ground.guards(self.ground, motion.ground.0, motion.ground.1);
        let slap = system.slap.guards(self.slap, motion.slap.0, motion.slap.1);
        let stand = system.suspension.guards(self.suspension, motion.suspension.0);
        let supply = system.motor.guards(command, self.supply, s[state::ROTOR_SPEED]);
        let ([a, b], [c, d, e]) = (mesh, shaft);
        [a, b, c, d, e, ground[0], ground[1], slap[0], slap[1], stand[0], stand[1], supply[0], supply[1]]
    }

    /// Goes over to the branch behind the guard with this number, at this state.
    pub fn pass(&mut self, guard: usize, system: &System, s: &State) {
        match guard {
            0..2 => self.mesh = self.mesh.after(guard),
            2..5 => self.shaft = self.shaft_after(guard - 2, system, s),
            5..7 => self.ground = self.ground.after(guard - 5),
            7..9 => self.slap = self.slap.after(guard - 7),
            9..11 => self.suspension = self.suspension.after(guard - 9),
            _ => self.supply = self.supply.after(guard - 11),
        }
    }

    /// A shaft that closes may jump past the clutch's torque at once.
    fn shaft_after(&self, guard: usize, system: &System, s: &State) -> ShaftBranch {
        let next = self.shaft.after(guard);
        let closes = self.shaft == ShaftBranch::Held(Touch::Open);
        let (y, dy) = Motion::of(system, s).shaft;
        let (torque_n_m, _) = system.shaft.piece(next).torque_and_slip(y, dy);
        if closes && torque_n_m.abs() > system.shaft.clutch_torque_n_m { next.after(2) } else { next }
    }
}
