//! Several samples side by side, as many as the processor's registers hold.

use std::ops::{Add, Div, Mul, Neg, Sub};

use pulp::Simd;
use pulp::bytemuck::{cast_slice, cast_slice_mut};

use super::real::Real;

/// Samples side by side, in the registers that the token `S` stands for.
#[derive(Clone, Copy, Debug)]
pub struct Lanes<S: Simd> {
    simd: S,
    values: S::f64s,
}

impl<S: Simd> Lanes<S> {
    /// How many samples.
    pub const COUNT: usize = S::F64_LANES;

    /// The same number in every lane.
    #[inline(always)]
    pub fn all(simd: S, value: f64) -> Self {
        Self { simd, values: simd.splat_f64s(value) }
    }

    /// The lanes one by one.
    pub fn each(&self) -> &[f64] {
        cast_slice(std::slice::from_ref(&self.values))
    }

    /// One lane's number.
    pub fn lane(&self, lane: usize) -> f64 {
        self.each()[lane]
    }

    #[inline(always)]
    fn with(self, values: S::f64s) -> Self {
        Self { values, ..self }
    }
}

/// What holds a value of its own for each lane.
pub(super) trait PerLane {
    /// The value of one lane.
    type One;

    /// Sets one lane's value.
    fn put(&mut self, lane: usize, one: &Self::One);
}

impl<S: Simd> PerLane for Lanes<S> {
    type One = f64;

    fn put(&mut self, lane: usize, one: &f64) {
        let values: &mut [f64] = cast_slice_mut(std::slice::from_mut(&mut self.values));
        values[lane] = *one;
    }
}

impl<P: PerLane, const N: usize> PerLane for [P; N] {
    type One = [P::One; N];

    fn put(&mut self, lane: usize, one: &[P::One; N]) {
        for (wide, one) in self.iter_mut().zip(one) {
            wide.put(lane, one);
        }
    }
}

impl<S: Simd> Real for Lanes<S> {
    type Mask = S::m64s;

    #[inline(always)]
    fn of(self, value: f64) -> Self {
        Self::all(self.simd, value)
    }

    #[inline(always)]
    fn above(self, other: Self) -> S::m64s {
        self.simd.greater_than_f64s(self.values, other.values)
    }

    #[inline(always)]
    fn pick(mask: S::m64s, yes: Self, no: Self) -> Self {
        no.with(no.simd.select_f64s(mask, yes.values, no.values))
    }

    #[inline(always)]
    fn sqrt(self) -> Self {
        self.with(self.simd.sqrt_f64s(self.values))
    }
}

impl<S: Simd> Add for Lanes<S> {
    type Output = Self;

    #[inline(always)]
    fn add(self, other: Self) -> Self {
        self.with(self.simd.add_f64s(self.values, other.values))
    }
}

impl<S: Simd> Sub for Lanes<S> {
    type Output = Self;

    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        self.with(self.simd.sub_f64s(self.values, other.values))
    }
}

impl<S: Simd> Mul for Lanes<S> {
    type Output = Self;

    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        self.with(self.simd.mul_f64s(self.values, other.values))
    }
}

impl<S: Simd> Div for Lanes<S> {
    type Output = Self;

    #[inline(always)]
    fn div(self, other: Self) -> Self {
        self.with(self.simd.div_f64s(self.values, other.values))
    }
}

impl<S: Simd> Neg for Lanes<S> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        self * self.of(-1.0)
    }
}
