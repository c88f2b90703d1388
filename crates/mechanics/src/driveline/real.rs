//! The numbers that the solver computes with: one sample, or several side by side in lanes.
//!
//! Every operation acts on each lane by itself and rounds as the plain operation does, with no fused multiply-add; so a
//! sample gets the same bits alone and among others, on any processor.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A number, or several side by side.
pub trait Real:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self> + Neg<Output = Self>
{
    /// The answer of a comparison.
    type Mask: Copy;

    /// A number in as many lanes as self has.
    fn of(self, value: f64) -> Self;

    /// Whether self > other.
    fn above(self, other: Self) -> Self::Mask;

    /// `yes` where the mask holds, `no` elsewhere.
    fn pick(mask: Self::Mask, yes: Self, no: Self) -> Self;

    /// Square root.
    fn sqrt(self) -> Self;

    /// Without its sign.
    #[inline(always)]
    fn abs(self) -> Self {
        self.larger(-self)
    }

    /// The larger of two; the other where one is no number.
    #[inline(always)]
    fn larger(self, other: Self) -> Self {
        Self::pick(self.above(other), self, other)
    }

    /// The smaller of two; the other where one is no number.
    #[inline(always)]
    fn smaller(self, other: Self) -> Self {
        Self::pick(other.above(self), self, other)
    }
}

impl Real for f64 {
    type Mask = bool;

    #[inline(always)]
    fn of(self, value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn above(self, other: Self) -> bool {
        self > other
    }

    #[inline(always)]
    fn pick(mask: bool, yes: Self, no: Self) -> Self {
        if mask { yes } else { no }
    }

    #[inline(always)]
    fn sqrt(self) -> Self {
        self.sqrt()
    }
}
