//! The contact law: a spring and a damper across a gap, which push and never pull.
//!
//! F = max(0, k (x - u) + c dx) for x > u, min(0, k (x - l) + c dx) for x < l, else 0.
//! Mesh and shaft have both sides, tyre and chassis the upper one only (l = -infinity).
//! With damping the force jumps at closing, so a solver has to know on which branch it is: [`Touch`].
//! A branch is data, a [`Piece`] and its [`Guard`]s, so that samples on different branches are computed side by side.

use pulp::Simd;

use super::lanes::{Lanes, PerLane};
use super::real::Real;

/// A spring and a damper across a gap; x may be a travel (m, N) or a twist (rad, N·m).
#[derive(Clone, Copy, Debug)]
pub struct Contact {
    /// Stiffness k, N/m or N·m/rad.
    pub stiffness: f64,
    /// Damping c, N·s/m or N·m·s/rad.
    pub damping: f64,
    /// Where the upper side closes, m or rad; infinity where there is none.
    pub upper: f64,
    /// Where the lower side closes, m or rad; minus infinity where there is none.
    pub lower: f64,
}

/// The branch of the contact law that holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Touch {
    /// Inside the gap.
    Open,
    /// The upper side pushes.
    Upper,
    /// Still beyond the upper side, but the damper would pull: no force.
    UpperReleased,
    /// The lower side pushes.
    Lower,
    /// Still beyond the lower side, but the damper would pull: no force.
    LowerReleased,
}

/// One straight piece of an element's law: force = stiffness (x - offset) + damping dx.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Piece<T = f64> {
    /// Slope over x.
    pub stiffness: T,
    /// Slope over dx.
    pub damping: T,
    /// Where the spring is without force.
    pub offset: T,
    /// Stiffness of the spring that stores energy, also while it is released.
    pub spring: T,
    /// Least and most that the element can exert there; the line leaves this range only within an event's width.
    pub bounds: [T; 2],
}

impl<T: Real> Piece<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self { stiffness: value, damping: value, offset: value, spring: value, bounds: [value; 2] }
    }

    /// Force at x and dx.
    #[inline(always)]
    pub fn force(&self, x: T, dx: T) -> T {
        self.stiffness * (x - self.offset) + self.damping * dx
    }

    /// Force at x and dx as the element can exert it.
    #[inline(always)]
    pub fn exerted(&self, x: T, dx: T) -> T {
        self.force(x, dx).larger(self.bounds[0]).smaller(self.bounds[1])
    }

    /// Power that the element loses: what is put in less what the spring stores.
    #[inline(always)]
    pub fn loss(&self, force: T, x: T, dx: T) -> T {
        (force - self.spring * (x - self.offset)) * dx
    }
}

impl<S: Simd> PerLane for Piece<Lanes<S>> {
    type One = Piece;

    fn put(&mut self, lane: usize, one: &Piece) {
        self.stiffness.put(lane, &one.stiffness);
        self.damping.put(lane, &one.damping);
        self.offset.put(lane, &one.offset);
        self.spring.put(lane, &one.spring);
        self.bounds.put(lane, &one.bounds);
    }
}

/// What ends a branch: it ends when x_share x + dx_share dx + constant becomes positive.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Guard<T = f64> {
    /// Factor of x.
    pub x_share: T,
    /// Factor of dx.
    pub dx_share: T,
    /// What is left at rest in the middle.
    pub constant: T,
}

impl Guard {
    /// A guard that is never passed.
    pub const NEVER: Self = Self { x_share: 0.0, dx_share: 0.0, constant: f64::NEG_INFINITY };

    /// Passed above a travel.
    pub fn above(x: f64) -> Self {
        Self { x_share: 1.0, dx_share: 0.0, constant: -x }
    }

    /// Passed below a travel.
    pub fn below(x: f64) -> Self {
        Self { x_share: -1.0, dx_share: 0.0, constant: x }
    }

    /// Passed where a piece's force rises above a value.
    pub fn stronger(piece: &Piece, force: f64) -> Self {
        let constant = -piece.stiffness * piece.offset - force;
        Self { x_share: piece.stiffness, dx_share: piece.damping, constant }
    }

    /// Passed where a piece's force falls below a value.
    pub fn weaker(piece: &Piece, force: f64) -> Self {
        let Self { x_share, dx_share, constant } = Self::stronger(piece, force);
        Self { x_share: -x_share, dx_share: -dx_share, constant: -constant }
    }
}

impl<T: Real> Guard<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self { x_share: value, dx_share: value, constant: value }
    }

    /// Value at x and dx.
    #[inline(always)]
    pub fn at(&self, x: T, dx: T) -> T {
        self.x_share * x + self.dx_share * dx + self.constant
    }
}

impl<S: Simd> PerLane for Guard<Lanes<S>> {
    type One = Guard;

    fn put(&mut self, lane: usize, one: &Guard) {
        self.x_share.put(lane, &one.x_share);
        self.dx_share.put(lane, &one.dx_share);
        self.constant.put(lane, &one.constant);
    }
}

impl Contact {
    /// The law as a plain function of x and dx.
    pub fn force(&self, x: f64, dx: f64) -> f64 {
        if x > self.upper {
            self.law(x - self.upper, dx).max(0.0)
        } else if x < self.lower {
            self.law(x - self.lower, dx).min(0.0)
        } else {
            0.0
        }
    }

    /// Energy in the spring at x.
    pub fn stored(&self, x: f64) -> f64 {
        let pressed = (x - self.upper).max(0.0) + (x - self.lower).min(0.0);
        0.5 * self.stiffness * pressed * pressed
    }

    /// The branch that a motion starts on; at the very edge the speed decides.
    pub fn touch(&self, x: f64, dx: f64) -> Touch {
        if x > self.upper || (x == self.upper && dx > 0.0) {
            if self.law(x - self.upper, dx) < 0.0 { Touch::UpperReleased } else { Touch::Upper }
        } else if x < self.lower || (x == self.lower && dx < 0.0) {
            if self.law(x - self.lower, dx) > 0.0 { Touch::LowerReleased } else { Touch::Lower }
        } else {
            Touch::Open
        }
    }

    /// The straight piece of the law on a branch.
    pub fn piece(&self, touch: Touch) -> Piece {
        let closed = |offset: f64, bounds: [f64; 2]| {
            let Self { stiffness, damping, .. } = *self;
            Piece { stiffness, damping, offset, spring: stiffness, bounds }
        };
        let released = |offset: f64| Piece { offset, spring: self.stiffness, ..Piece::default() };
        match touch {
            Touch::Open => Piece::default(),
            Touch::Upper => closed(self.upper, [0.0, f64::INFINITY]),
            Touch::UpperReleased => released(self.upper),
            Touch::Lower => closed(self.lower, [f64::NEG_INFINITY, 0.0]),
            Touch::LowerReleased => released(self.lower),
        }
    }

    /// What ends a branch.
    pub fn guards(&self, touch: Touch) -> [Guard; 2] {
        let law = |touch| self.piece(touch);
        match touch {
            Touch::Open => [Guard::above(self.upper), Guard::below(self.lower)],
            Touch::Upper => [Guard::weaker(&law(Touch::Upper), 0.0), Guard::NEVER],
            Touch::UpperReleased => [Guard::stronger(&law(Touch::Upper), 0.0), Guard::below(self.upper)],
            Touch::Lower => [Guard::stronger(&law(Touch::Lower), 0.0), Guard::NEVER],
            Touch::LowerReleased => [Guard::weaker(&law(Touch::Lower), 0.0), Guard::above(self.lower)],
        }
    }

    fn law(&self, pressed: f64, dx: f64) -> f64 {
        self.stiffness * pressed + self.damping * dx
    }
}

impl Touch {
    /// The branch that follows when the guard with this number became positive.
    pub fn after(self, guard: usize) -> Self {
        match (self, guard) {
            (Self::Open, 0) | (Self::UpperReleased, 0) => Self::Upper,
            (Self::Open, _) | (Self::LowerReleased, 0) => Self::Lower,
            (Self::Upper, _) => Self::UpperReleased,
            (Self::Lower, _) => Self::LowerReleased,
            (Self::UpperReleased | Self::LowerReleased, _) => Self::Open,
        }
    }

    /// Whether a force can act on this branch.
    pub fn is_closed(self) -> bool {
        matches!(self, Self::Upper | Self::Lower)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MESH: Contact = Contact { stiffness: 100.0, damping: 2.0, upper: 1.0, lower: -1.0 };
    const TYRE: Contact = Contact { stiffness: 100.0, damping: 2.0, upper: 0.0, lower: f64::NEG_INFINITY };

    #[test]
    fn the_law_pushes_beyond_the_gap_and_never_pulls() {
        check(MESH, 0.9, 5.0, 0.0);
        check(MESH, 1.5, 0.0, 50.0);
        check(MESH, 1.5, 3.0, 56.0);
        check(MESH, 1.1, -9.0, 0.0);
        check(MESH, -1.5, 0.0, -50.0);
        check(MESH, -1.1, 9.0, 0.0);
        check(TYRE, -1.0, -9.0, 0.0);
        check(TYRE, 1e-9, 3.0, 100.0 * 1e-9 + 6.0);
    }

    #[test]
    fn a_branch_ends_where_the_law_changes() {
        assert_eq!(Touch::Open.after(0), Touch::Upper);
        assert_eq!(Touch::Open.after(1), Touch::Lower);
        assert_eq!(Touch::Upper.after(0), Touch::UpperReleased);
        assert_eq!(Touch::UpperReleased.after(0), Touch::Upper);
        assert_eq!(Touch::UpperReleased.after(1), Touch::Open);
        assert_eq!(Touch::LowerReleased.after(1), Touch::Open);
        assert_eq!(MESH.touch(1.0, 1.0), Touch::Upper);
        assert_eq!(MESH.touch(1.0, 0.0), Touch::Open);
    }

    #[test]
    fn a_released_spring_loses_what_it_stored() {
        let piece = MESH.piece(Touch::UpperReleased);
        assert_eq!(piece.force(1.1, -9.0), 0.0);
        assert!((piece.loss(0.0, 1.1, -9.0) - 90.0).abs() < 1e-12, "{}", piece.loss(0.0, 1.1, -9.0));
    }

    #[track_caller]
    fn check(contact: Contact, x: f64, dx: f64, expected: f64) {
        assert_eq!(contact.force(x, dx), expected);
        let touch = contact.touch(x, dx);
        assert_eq!(contact.piece(touch).force(x, dx), expected, "{touch:?}");
        assert!(contact.guards(touch).iter().all(|guard| guard.at(x, dx) <= 0.0), "{touch:?}");
    }
}
