//! Which straight piece of its law each element is on, and what ends it.
//!
//! Between two events all branches stand still and the right-hand side is smooth.

use pulp::Simd;

use super::clutch::{ShaftBranch, ShaftPiece};
use super::contact::{Guard, Piece, Touch};
use super::equations::Plant;
use super::lanes::{Lanes, PerLane};
use super::motor::{Command, Line, Supply};
use super::real::Real;
use super::state::{self, State};
use super::suspension::Stand;
use super::system::System;

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
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Pieces<T = f64> {
    pub mesh: Piece<T>,
    pub shaft: ShaftPiece<T>,
    pub ground: Piece<T>,
    pub slap: Piece<T>,
    pub suspension: Piece<T>,
    pub current: Line<T>,
}

impl<T: Real> Pieces<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self {
            mesh: Piece::filled(value),
            shaft: ShaftPiece::filled(value),
            ground: Piece::filled(value),
            slap: Piece::filled(value),
            suspension: Piece::filled(value),
            current: Line::filled(value),
        }
    }
}

impl<S: Simd> PerLane for Pieces<Lanes<S>> {
    type One = Pieces;

    fn put(&mut self, lane: usize, one: &Pieces) {
        self.mesh.put(lane, &one.mesh);
        self.shaft.put(lane, &one.shaft);
        self.ground.put(lane, &one.ground);
        self.slap.put(lane, &one.slap);
        self.suspension.put(lane, &one.suspension);
        self.current.put(lane, &one.current);
    }
}

/// What ends the branches.
pub(super) type Guards<T = f64> = [Guard<T>; GUARD_COUNT];

/// Travel and speed of each element.
pub(super) struct Motion<T = f64> {
    pub mesh: (T, T),
    pub shaft: (T, T),
    pub ground: (T, T),
    pub slap: (T, T),
    pub suspension: (T, T),
}

impl<T: Real> Motion<T> {
    #[inline(always)]
    pub fn of(plant: &Plant<T>, s: &State<T>) -> Self {
        let mesh_m_s = plant.pinion_radius_m * s[state::ROTOR_SPEED] - plant.spur_radius_m * s[state::SPUR_SPEED];
        Self {
            mesh: (s[state::MESH], mesh_m_s),
            shaft: (s[state::TWIST], s[state::SPUR_SPEED] - plant.ratio * s[state::WHEEL_SPEED]),
            ground: (-s[state::UNSPRUNG_HEIGHT], -s[state::UNSPRUNG_SPEED]),
            slap: (-s[state::SPRUNG_HEIGHT], -s[state::SPRUNG_SPEED]),
            suspension: (
                s[state::UNSPRUNG_HEIGHT] - s[state::SPRUNG_HEIGHT],
                s[state::UNSPRUNG_SPEED] - s[state::SPRUNG_SPEED],
            ),
        }
    }

    /// Travel and speed that each guard looks at.
    #[inline(always)]
    fn seen(&self, rotor_rad_s: T) -> [(T, T); GUARD_COUNT] {
        let Self { mesh, shaft, ground, slap, suspension } = *self;
        let rotor = (rotor_rad_s, rotor_rad_s.of(0.0));
        [mesh, mesh, shaft, shaft, shaft, ground, ground, slap, slap, suspension, suspension, rotor, rotor]
    }
}

/// Values of the guards at a state; a branch ends when one of its guards becomes positive.
#[inline(always)]
pub(super) fn guards_at<T: Real>(guards: &Guards<T>, plant: &Plant<T>, s: &State<T>) -> [T; GUARD_COUNT] {
    let seen = Motion::of(plant, s).seen(s[state::ROTOR_SPEED]);
    let mut values = [s[0].of(0.0); GUARD_COUNT];
    for (value, (guard, (x, dx))) in values.iter_mut().zip(guards.iter().zip(seen)) {
        *value = guard.at(x, dx);
    }
    values
}

/// Value of the guard with this number without its constant: straight in the state, so it holds for slopes as well.
pub(super) fn straight_of(guards: &Guards, plant: &Plant, s: &State, guard: usize) -> f64 {
    let (x, dx) = Motion::of(plant, s).seen(s[state::ROTOR_SPEED])[guard];
    guards[guard].x_share * x + guards[guard].dx_share * dx
}

impl Branches {
    /// The branches that a motion starts on.
    pub fn at(system: &System, command: Command, s: &State) -> Self {
        let motion = Motion::of(&Plant::new(system), s);
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

    /// What ends these branches.
    pub fn guards(&self, system: &System, command: Command) -> Guards {
        let [a, b] = system.mesh.guards(self.mesh);
        let [c, d, e] = system.shaft.guards(self.shaft);
        let [f, g] = system.ground.guards(self.ground);
        let [h, i] = system.slap.guards(self.slap);
        let [j, k] = system.suspension.guards(self.suspension);
        let [l, m] = system.motor.guards(command, self.supply);
        [a, b, c, d, e, f, g, h, i, j, k, l, m]
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
        let (y, dy) = Motion::of(&Plant::new(system), s).shaft;
        let (torque_n_m, _) = system.shaft.piece(next).torque_and_slip(y, dy);
        if closes && torque_n_m.abs() > system.shaft.clutch_torque_n_m { next.after(2) } else { next }
    }
}
