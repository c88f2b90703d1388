//! An additive Runge-Kutta pair of orders 4 and 3 for the time between blows, when the closed mesh no longer rings.
//!
//! The straight pieces of mesh and shaft are taken implicitly, all else explicitly, so that the step follows the
//! slow parts instead of the mesh's own frequency. Source: C. A. Kennedy and M. H. Carpenter, Additive Runge-Kutta
//! schemes for convection-diffusion-reaction equations, Appl. Numer. Math. 44 (2003) 139-181, scheme ARK4(3)6L[2]SA.

use super::branches::Motion;
use super::case::Wheels;
use super::equations::System;
use super::state::{self, State};
use super::step::Field;

/// Stages.
pub(super) const STAGES: usize = 6;

/// Diagonal of the implicit tableau.
const DIAGONAL: f64 = 0.25;

/// Rows of the explicit tableau for stages 2 to 6.
pub(super) const EXPLICIT: [[f64; 5]; 5] = [
    [0.5, 0.0, 0.0, 0.0, 0.0],
    [13861.0 / 62500.0, 6889.0 / 62500.0, 0.0, 0.0, 0.0],
    [
        -116_923_316_275.0 / 2_393_684_061_468.0,
        -2_731_218_467_317.0 / 15_368_042_101_831.0,
        9_408_046_702_089.0 / 11_113_171_139_209.0,
        0.0,
        0.0,
    ],
    [
        -451_086_348_788.0 / 2_902_428_689_909.0,
        -2_682_348_792_572.0 / 7_519_795_681_897.0,
        12_662_868_775_082.0 / 11_960_479_115_383.0,
        3_355_817_975_965.0 / 11_060_851_509_271.0,
        0.0,
    ],
    [
        647_845_179_188.0 / 3_216_320_057_751.0,
        73_281_519_250.0 / 8_382_639_484_533.0,
        552_539_513_391.0 / 3_454_668_386_233.0,
        3_354_512_671_639.0 / 8_306_763_924_573.0,
        4040.0 / 17871.0,
    ],
];

/// Rows of the implicit tableau for stages 2 to 6, left of the diagonal.
pub(super) const IMPLICIT: [[f64; 5]; 5] = [
    [0.25, 0.0, 0.0, 0.0, 0.0],
    [8611.0 / 62500.0, -1743.0 / 31250.0, 0.0, 0.0, 0.0],
    [5_012_029.0 / 34_652_500.0, -654_441.0 / 2_922_500.0, 174_375.0 / 388_108.0, 0.0, 0.0],
    [
        15_267_082_809.0 / 155_376_265_600.0,
        -71_443_401.0 / 120_774_400.0,
        730_878_875.0 / 902_184_768.0,
        2_285_395.0 / 8_070_912.0,
        0.0,
    ],
    [82889.0 / 524_892.0, 0.0, 15625.0 / 83664.0, 69875.0 / 102_672.0, -2260.0 / 8211.0],
];

/// Weights of the solution of order 4, the same for both parts.
pub(super) const WEIGHTS: [f64; STAGES] =
    [82889.0 / 524_892.0, 0.0, 15625.0 / 83664.0, 69875.0 / 102_672.0, -2260.0 / 8211.0, DIAGONAL];

/// Solution of order 4 less solution of order 3.
pub(super) const ERROR: [f64; STAGES] = [
    82889.0 / 524_892.0 - 4_586_570_599.0 / 29_645_900_160.0,
    0.0,
    15625.0 / 83664.0 - 178_811_875.0 / 945_068_544.0,
    69875.0 / 102_672.0 - 814_220_225.0 / 1_159_782_912.0,
    -2260.0 / 8211.0 + 3_700_637.0 / 11_593_932.0,
    DIAGONAL - 61727.0 / 225_920.0,
];

/// The states that the straight part acts on.
pub(super) const FAST: usize = 5;

/// Slopes of the fast states that come from mesh and shaft alone: x, y, wm, ws, ww.
pub(super) type Straight = [f64; FAST];

/// Solves the stages of one step: fast states with the straight part taken at the stage itself.
///
/// With the lag g = width times diagonal the twist is y = y0 + y1 dy, the forces are F = F0 + f1 dx and T = T0 + t1 dy,
/// and dx = a - g (ux F - cross T), dy = b + g (cross F - uy T): two equations for dx and dy.
pub(super) struct Solver<'a> {
    field: &'a Field<'a>,
    lag_s: f64,
    rotor_per_force: f64,
    spur_per_force: f64,
    spur_per_torque: f64,
    wheels_per_torque: f64,
    ux: f64,
    uy: f64,
    y0_share: f64,
    y0_shift: f64,
    y1: f64,
    f1: f64,
    t1: f64,
    /// Inverse of the two equations' matrix.
    inverse: [[f64; 2]; 2],
}

impl<'a> Solver<'a> {
    pub fn new(field: &'a Field<'a>, width_s: f64) -> Self {
        let (system, g): (&System, f64) = (field.system, DIAGONAL * width_s);
        let (mesh, shaft) = (&field.pieces.mesh, &field.pieces.shaft);
        let wheels_per_torque = match field.segment.wheels {
            Wheels::Driven => system.ratio / system.wheel_inertia,
            Wheels::Forced { .. } => 0.0,
        };
        let spur_per_torque = 1.0 / system.spur_inertia;
        let spur_per_force = system.spur_radius_m * spur_per_torque;
        let rotor_per_force = system.pinion_radius_m / system.rotor_inertia;
        let ux = system.pinion_radius_m * rotor_per_force + system.spur_radius_m * spur_per_force;
        let uy = spur_per_torque + system.ratio * wheels_per_torque;
        // The clutch's slip is part of the twist's rate, so it is solved for here.
        let slip = g * shaft.slip_per_torque;
        let y0_share = 1.0 / (1.0 + slip * shaft.law.stiffness);
        let y0_shift = slip * (shaft.law.stiffness * shaft.law.offset + shaft.clutch_torque_n_m) * y0_share;
        let y1 = (g - slip * shaft.law.damping) * y0_share;
        let f1 = mesh.damping + g * mesh.stiffness;
        let t1 = shaft.twist.damping + y1 * shaft.twist.stiffness;
        let (xx, xy) = (1.0 + g * ux * f1, -g * spur_per_force * t1);
        let (yx, yy) = (-g * spur_per_force * f1, 1.0 + g * uy * t1);
        let over = 1.0 / (xx * yy - xy * yx);
        let inverse = [[yy * over, -xy * over], [-yx * over, xx * over]];
        Self {
            field,
            lag_s: g,
            rotor_per_force,
            spur_per_force,
            spur_per_torque,
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
    pub fn straight(&self, s: &State) -> Straight {
        let motion = Motion::of(self.field.system, s);
        let mesh_n = self.field.pieces.mesh.force(motion.mesh.0, motion.mesh.1);
        let (shaft_n_m, slip_rad_s) = self.field.pieces.shaft.torque_and_slip(motion.shaft.0, motion.shaft.1);
        self.slopes([motion.mesh.1, motion.shaft.1 - slip_rad_s], mesh_n, shaft_n_m)
    }

    fn slopes(&self, rates: [f64; 2], mesh_n: f64, shaft_n_m: f64) -> Straight {
        [
            rates[0],
            rates[1],
            -mesh_n * self.rotor_per_force,
            mesh_n * self.spur_per_force - shaft_n_m * self.spur_per_torque,
            shaft_n_m * self.wheels_per_torque,
        ]
    }

    /// Moves the fast states from the known part of a stage to the stage; gives the straight part there.
    pub fn stage(&self, known: &mut State) -> Straight {
        let g = self.lag_s;
        let (mesh, shaft) = (&self.field.pieces.mesh, &self.field.pieces.shaft);
        let motion = Motion::of(self.field.system, known);
        let y0 = motion.shaft.0 * self.y0_share + self.y0_shift;
        let f0 = mesh.force(motion.mesh.0, 0.0);
        let t0 = shaft.twist.force(y0, 0.0) + shaft.clutch_torque_n_m;
        let a = motion.mesh.1 - g * (self.ux * f0 - self.spur_per_force * t0);
        let b = motion.shaft.1 + g * (self.spur_per_force * f0 - self.uy * t0);
        let dx = self.inverse[0][0] * a + self.inverse[0][1] * b;
        let dy = self.inverse[1][0] * a + self.inverse[1][1] * b;
        let y_rate = (y0 + self.y1 * dy - motion.shaft.0) / g;
        let straight = self.slopes([dx, y_rate], f0 + self.f1 * dx, t0 + self.t1 * dy);
        for (value, slope) in known[..FAST].iter_mut().zip(&straight) {
            *value += g * slope;
        }
        straight
    }
}

const _: () = assert!(state::WHEEL_SPEED + 1 == FAST);

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums of rounded fractions, printed to 13 digits.
    const TOL: f64 = 1e-12;

    fn nodes(rows: &[[f64; 5]; 5], diagonal: f64) -> [f64; STAGES] {
        let mut nodes = [0.0; STAGES];
        for (node, row) in nodes[1..].iter_mut().zip(rows) {
            *node = row.iter().sum::<f64>() + diagonal;
        }
        nodes
    }

    #[test]
    fn both_tableaux_have_the_nodes_of_the_paper() {
        let printed = [0.0, 0.5, 83.0 / 250.0, 31.0 / 50.0, 17.0 / 20.0, 1.0];
        for nodes in [nodes(&EXPLICIT, 0.0), nodes(&IMPLICIT, DIAGONAL)] {
            for (got, expected) in nodes.iter().zip(printed) {
                assert!((got - expected).abs() < TOL, "{got}, expected {expected}");
            }
        }
    }

    #[test]
    fn the_weights_integrate_powers_up_to_the_third_and_their_error_up_to_the_second() {
        let nodes = nodes(&EXPLICIT, 0.0);
        for power in 0..4 {
            let moment = |weights: &[f64]| -> f64 {
                weights.iter().zip(nodes).map(|(weight, node)| weight * node.powi(power)).sum()
            };
            assert!((moment(&WEIGHTS) - 1.0 / f64::from(power + 1)).abs() < TOL, "power {power}");
            let error = moment(&ERROR).abs();
            assert!(if power < 3 { error < TOL } else { error > 1e-5 }, "power {power}: {error}");
        }
    }

    #[test]
    fn the_parts_are_coupled_to_order_three() {
        let nodes = nodes(&EXPLICIT, 0.0);
        for (rows, diagonal) in [(&EXPLICIT, 0.0), (&IMPLICIT, DIAGONAL)] {
            let sum: f64 = (1..STAGES)
                .map(|stage| {
                    let left: f64 = rows[stage - 1].iter().zip(nodes).map(|(a, node)| a * node).sum();
                    WEIGHTS[stage] * (left + diagonal * nodes[stage])
                })
                .sum();
            assert!((sum - 1.0 / 6.0).abs() < TOL, "{sum}");
        }
    }
}
