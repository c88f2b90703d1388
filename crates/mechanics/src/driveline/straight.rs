//! The straight part of the equations, mesh and shaft, solved at a stage itself, in lanes.
//!
//! With the lag g = width times diagonal the twist is y = y0 + y1 dy, the forces are F = F0 + f1 dx and T = T0 + t1 dy,
//! and dx = a - g (ux F - cross T), dy = b + g (cross F - uy T): two equations for dx and dy. With g = 0 nothing moves.

use super::branches::Motion;
use super::equations::Field;
use super::real::Real;
use super::state::{self, State};

/// The states that the straight part acts on.
pub(super) const FAST: usize = 5;

/// Slopes of the fast states that come from mesh and shaft alone: x, y, wm, ws, ww.
pub(super) type Straight<T> = [T; FAST];

/// Solves the stages of one step.
pub(super) struct Solver<'a, T> {
    field: &'a Field<T>,
    lag_s: T,
    rotor_per_force: T,
    spur_per_force: T,
    wheels_per_torque: T,
    ux: T,
    uy: T,
    y0_share: T,
    y0_shift: T,
    y1: T,
    f1: T,
    t1: T,
    /// Inverse of the two equations' matrix.
    inverse: [[T; 2]; 2],
}

impl<'a, T: Real> Solver<'a, T> {
    #[inline(always)]
    pub fn new(field: &'a Field<T>, lag_s: T) -> Self {
        let (plant, g, one) = (&field.plant, lag_s, lag_s.of(1.0));
        let (mesh, shaft) = (&field.pieces.mesh, &field.pieces.shaft);
        let wheels_per_torque = plant.ratio * field.wheels.per_torque;
        let spur_per_force = plant.spur_radius_m * plant.per_spur_inertia;
        let rotor_per_force = plant.pinion_radius_m * plant.per_rotor_inertia;
        let ux = plant.pinion_radius_m * rotor_per_force + plant.spur_radius_m * spur_per_force;
        let uy = plant.per_spur_inertia + plant.ratio * wheels_per_torque;
        // The clutch's slip is part of the twist's rate, so it is solved for here.
        let slip = g * shaft.slip_per_torque;
        let y0_share = one / (one + slip * shaft.law.stiffness);
        let y0_shift = slip * (shaft.law.stiffness * shaft.law.offset + shaft.clutch_torque_n_m) * y0_share;
        let y1 = (g - slip * shaft.law.damping) * y0_share;
        let f1 = mesh.damping + g * mesh.stiffness;
        let t1 = shaft.twist.damping + y1 * shaft.twist.stiffness;
        let (xx, xy) = (one + g * ux * f1, -g * spur_per_force * t1);
        let (yx, yy) = (-g * spur_per_force * f1, one + g * uy * t1);
        let over = one / (xx * yy - xy * yx);
        let inverse = [[yy * over, -xy * over], [-yx * over, xx * over]];
        Self {
            field,
            lag_s: g,
            rotor_per_force,
            spur_per_force,
            wheels_per_torque,
            ux,
            uy,
            y0_share,
            y0_shift,
            y1,
            f1,
            t1,
            inverse,
        }
    }

    /// The straight part at a known state.
    #[inline(always)]
    pub fn at(&self, s: &State<T>) -> Straight<T> {
        let motion = Motion::of(&self.field.plant, s);
        let mesh_n = self.field.pieces.mesh.force(motion.mesh.0, motion.mesh.1);
        let (shaft_n_m, slip_rad_s) = self.field.pieces.shaft.torque_and_slip(motion.shaft.0, motion.shaft.1);
        self.slopes([motion.mesh.1, motion.shaft.1 - slip_rad_s], mesh_n, shaft_n_m)
    }

    #[inline(always)]
    fn slopes(&self, rates: [T; 2], mesh_n: T, shaft_n_m: T) -> Straight<T> {
        [
            rates[0],
            rates[1],
            -mesh_n * self.rotor_per_force,
            mesh_n * self.spur_per_force - shaft_n_m * self.field.plant.per_spur_inertia,
            shaft_n_m * self.wheels_per_torque,
        ]
    }

    /// Moves the fast states from the known part of a stage to the stage; gives the straight part there.
    #[inline(always)]
    pub fn stage(&self, known: &mut State<T>) -> Straight<T> {
        let g = self.lag_s;
        let (mesh, shaft) = (&self.field.pieces.mesh, &self.field.pieces.shaft);
        let motion = Motion::of(&self.field.plant, known);
        let y0 = motion.shaft.0 * self.y0_share + self.y0_shift;
        let f0 = mesh.force(motion.mesh.0, g.of(0.0));
        let t0 = shaft.twist.force(y0, g.of(0.0)) + shaft.clutch_torque_n_m;
        let a = motion.mesh.1 - g * (self.ux * f0 - self.spur_per_force * t0);
        let b = motion.shaft.1 + g * (self.spur_per_force * f0 - self.uy * t0);
        let dx = self.inverse[0][0] * a + self.inverse[0][1] * b;
        let dy = self.inverse[1][0] * a + self.inverse[1][1] * b;
        let (_, slip_rad_s) = shaft.torque_and_slip(y0 + self.y1 * dy, dy);
        let straight = self.slopes([dx, dy - slip_rad_s], f0 + self.f1 * dx, t0 + self.t1 * dy);
        for (value, slope) in known[..FAST].iter_mut().zip(&straight) {
            *value = *value + g * *slope;
        }
        straight
    }
}

const _: () = assert!(state::WHEEL_SPEED + 1 == FAST);
