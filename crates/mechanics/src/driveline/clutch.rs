//! The shaft behind the spur, with the slipping clutch in front of it where there is one.
//!
//! The shaft is a [`Contact`] in its twist y. Where its law passes the clutch's torque Tc, the clutch slips:
//! T = Tc sign, and the slip speed takes what the damper would have carried, (law - T)/c.

use pulp::Simd;

use super::contact::{Contact, Guard, Piece, Touch};
use super::lanes::{Lanes, PerLane};
use super::real::Real;

/// Shaft and clutch in series.
#[derive(Clone, Copy, Debug)]
pub struct Shaft {
    /// The shaft in its lash.
    pub contact: Contact,
    /// Torque at which the clutch slips, N·m; infinity without one.
    pub clutch_torque_n_m: f64,
}

/// The branch that shaft and clutch are on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShaftBranch {
    /// The clutch holds.
    Held(Touch),
    /// The clutch slips forward, at +Tc.
    SlipsForward,
    /// The clutch slips backward, at -Tc.
    SlipsBackward,
}

/// The straight piece of the shaft's law, and the piece that gives the slip speed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ShaftPiece<T = f64> {
    /// Torque over twist, without the clutch's share.
    pub twist: Piece<T>,
    /// Torque of the slipping clutch, N·m; 0 while it holds.
    pub clutch_torque_n_m: T,
    /// Slip speed per torque beyond the clutch's, rad/s/(N·m); 0 while it holds.
    pub slip_per_torque: T,
    /// The law that drives the slip.
    pub law: Piece<T>,
}

impl<T: Real> ShaftPiece<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self {
            twist: Piece::filled(value),
            clutch_torque_n_m: value,
            slip_per_torque: value,
            law: Piece::filled(value),
        }
    }

    /// Torque of the shaft, N·m, and slip speed of the clutch, rad/s.
    ///
    /// `dy` is the speed difference over shaft and clutch together, rad/s.
    #[inline(always)]
    pub fn torque_and_slip(&self, y: T, dy: T) -> (T, T) {
        let torque_n_m = self.twist.force(y, dy) + self.clutch_torque_n_m;
        let slip_rad_s = self.slip_per_torque * (self.law.force(y, dy) - self.clutch_torque_n_m);
        (torque_n_m, slip_rad_s)
    }
}

impl<S: Simd> PerLane for ShaftPiece<Lanes<S>> {
    type One = ShaftPiece;

    fn put(&mut self, lane: usize, one: &ShaftPiece) {
        self.twist.put(lane, &one.twist);
        self.clutch_torque_n_m.put(lane, &one.clutch_torque_n_m);
        self.slip_per_torque.put(lane, &one.slip_per_torque);
        self.law.put(lane, &one.law);
    }
}

impl Shaft {
    /// The branch that a motion starts on.
    pub fn branch(&self, y: f64, dy: f64) -> ShaftBranch {
        let held = ShaftBranch::Held(self.contact.touch(y, dy));
        let (torque_n_m, _) = self.piece(held).torque_and_slip(y, dy);
        if torque_n_m.abs() > self.clutch_torque_n_m { held.after(2) } else { held }
    }

    /// The straight piece on a branch.
    pub fn piece(&self, branch: ShaftBranch) -> ShaftPiece {
        let (touch, clutch_torque_n_m) = match branch {
            ShaftBranch::Held(touch) => {
                return ShaftPiece { twist: self.contact.piece(touch), ..ShaftPiece::default() };
            }
            ShaftBranch::SlipsForward => (Touch::Upper, self.clutch_torque_n_m),
            ShaftBranch::SlipsBackward => (Touch::Lower, -self.clutch_torque_n_m),
        };
        let law = self.contact.piece(touch);
        let twist = Piece { stiffness: 0.0, damping: 0.0, ..law };
        ShaftPiece { twist, clutch_torque_n_m, slip_per_torque: 1.0 / self.contact.damping, law }
    }

    /// What ends a branch.
    pub fn guards(&self, branch: ShaftBranch) -> [Guard; 3] {
        let (law, most_n_m) = (|touch| self.contact.piece(touch), self.clutch_torque_n_m);
        match branch {
            ShaftBranch::Held(touch) => {
                let [first, second] = self.contact.guards(touch);
                let passed = match touch {
                    Touch::Upper => Guard::stronger(&law(touch), most_n_m),
                    Touch::Lower => Guard::weaker(&law(touch), -most_n_m),
                    _ => Guard::NEVER,
                };
                [first, second, passed]
            }
            ShaftBranch::SlipsForward => [Guard::weaker(&law(Touch::Upper), most_n_m), Guard::NEVER, Guard::NEVER],
            ShaftBranch::SlipsBackward => [Guard::stronger(&law(Touch::Lower), -most_n_m), Guard::NEVER, Guard::NEVER],
        }
    }
}

impl ShaftBranch {
    /// The branch that follows when the guard with this number became positive.
    pub fn after(self, guard: usize) -> Self {
        match (self, guard) {
            (Self::Held(Touch::Lower), 2) => Self::SlipsBackward,
            (Self::Held(_), 2) => Self::SlipsForward,
            (Self::Held(touch), guard) => Self::Held(touch.after(guard)),
            (Self::SlipsForward, _) => Self::Held(Touch::Upper),
            (Self::SlipsBackward, _) => Self::Held(Touch::Lower),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CONTACT: Contact = Contact { stiffness: 36.0, damping: 0.01, upper: 0.2, lower: -0.2 };
    const SHAFT: Shaft = Shaft { contact: CONTACT, clutch_torque_n_m: 3.0 };

    /// Roundings of a few operations.
    const TOL: f64 = 1e-12;

    #[test]
    fn the_clutch_holds_below_its_torque() {
        check(0.25, 0.0, 36.0 * 0.05, 0.0);
        check(0.0, 50.0, 0.0, 0.0);
        check(-0.25, 0.0, -36.0 * 0.05, 0.0);
    }

    #[test]
    fn beyond_its_torque_the_clutch_slips_by_what_the_damper_would_carry() {
        check(0.3, 0.0, 3.0, (3.6 - 3.0) / 0.01);
        check(0.2, 400.0, 3.0, (4.0 - 3.0) / 0.01);
        check(-0.3, 0.0, -3.0, (3.0 - 3.6) / 0.01);
    }

    #[test]
    fn without_a_clutch_nothing_slips() {
        let shaft = Shaft { clutch_torque_n_m: f64::INFINITY, ..SHAFT };
        let branch = shaft.branch(1.0, 0.0);
        assert_eq!(branch, ShaftBranch::Held(Touch::Upper));
        assert!(shaft.guards(branch).iter().all(|guard| guard.at(1.0, 0.0) <= 0.0));
    }

    #[track_caller]
    fn check(y: f64, dy: f64, torque_n_m: f64, slip_rad_s: f64) {
        let branch = SHAFT.branch(y, dy);
        let got = SHAFT.piece(branch).torque_and_slip(y, dy);
        let near = |a: f64, b: f64| (a - b).abs() <= TOL * b.abs().max(1.0);
        assert!(near(got.0, torque_n_m) && near(got.1, slip_rad_s), "{branch:?}: {got:?}");
    }
}
