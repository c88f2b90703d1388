//! Elementary functions in lanes: arctangent, sine and tanh as sums and products alone, so that lanes need no library.
//!
//! Plain power series after a reduction of the argument; each is good to 1e-10, tested against the library's.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

use super::real::Real;

/// tan(pi/8): where the arctangent changes its reduction.
const TAN_PI_8: f64 = 0.414_213_562_373_095_03;
/// tan(3 pi/8).
const TAN_3_PI_8: f64 = 2.414_213_562_373_095;
/// tanh of more than this is 1 to the last bit.
const TANH_FULL: f64 = 20.0;
/// How often the exponential's argument is halved: 0.32 is left of it.
const EXP_HALVINGS: u32 = 7;

/// (-1)^k/(2k + 1): atan u = u (1 - u²/3 + u⁴/5 ...); with |u| < tan(pi/8) the next term is below 3e-11.
static ATAN: [f64; 12] = atan_series();
/// (-1)^k/(2k + 1)!: sin x = x (1 - x²/3! + x⁴/5! ...); with |x| < pi/2 the next term is below 1e-11.
static SIN: [f64; 8] = factorial_series(2, -1.0);
/// 1/k!: exp x = 1 + x + x²/2! ...; with |x| < 0.32 the next term is below 1e-15.
static EXP: [f64; 12] = factorial_series(1, 1.0);

const fn atan_series<const N: usize>() -> [f64; N] {
    let mut series = [1.0; N];
    let mut k = 1;
    while k < N {
        let sign = if k % 2 == 0 { 1.0 } else { -1.0 };
        series[k] = sign / (2 * k + 1) as f64;
        k += 1;
    }
    series
}

/// sign^k/(stride k + stride - 1)!.
const fn factorial_series<const N: usize>(stride: usize, sign: f64) -> [f64; N] {
    let mut series = [1.0; N];
    let mut k = 1;
    while k < N {
        let mut term = sign * series[k - 1];
        let mut factor = stride * k + stride - 1;
        while factor > stride * k - 1 {
            term /= factor as f64;
            factor -= 1;
        }
        series[k] = term;
        k += 1;
    }
    series
}

/// A polynomial, its even and odd terms apart: two short chains of operations instead of a long one.
#[inline(always)]
fn polynomial<T: Real, const N: usize>(x: T, coefficients: &[f64; N]) -> T {
    let square = x * x;
    let (mut even, mut odd) = (x.of(0.0), x.of(0.0));
    for pair in (0..N / 2).rev() {
        even = even * square + x.of(coefficients[2 * pair]);
        odd = odd * square + x.of(coefficients[2 * pair + 1]);
    }
    even + x * odd
}

/// Arctangent, rad.
///
/// atan z = pi/2 - atan(1/z) above tan(3 pi/8), pi/4 + atan((z - 1)/(z + 1)) above tan(pi/8); then its series.
#[inline(always)]
pub fn atan<T: Real>(z: T) -> T {
    let (size, one) = (z.abs(), z.of(1.0));
    let (is_large, is_middle) = (size.above(z.of(TAN_3_PI_8)), size.above(z.of(TAN_PI_8)));
    let above = T::pick(is_large, -one, T::pick(is_middle, size - one, size));
    let below = T::pick(is_large, size, T::pick(is_middle, size + one, one));
    let base_rad = T::pick(is_large, z.of(FRAC_PI_2), T::pick(is_middle, z.of(FRAC_PI_4), z.of(0.0)));
    let u = above / below;
    with_sign_of(z, base_rad + u * polynomial(u * u, &ATAN))
}

/// Sine of up to 3 pi/2 either way: sin x = sin(pi - x) beyond pi/2, then its series.
#[inline(always)]
pub fn sin<T: Real>(x: T) -> T {
    let size = x.abs();
    let folded = T::pick(size.above(x.of(FRAC_PI_2)), x.of(PI) - size, size);
    with_sign_of(x, folded * polynomial(folded * folded, &SIN))
}

/// Hyperbolic tangent: (1 - e)/(1 + e) with e = exp(-2 |x|) by its series at a 128th of the argument.
#[inline(always)]
pub fn tanh<T: Real>(x: T) -> T {
    let small = x.abs().smaller(x.of(TANH_FULL)) * x.of(-2.0 / f64::from(1_u32 << EXP_HALVINGS));
    let mut fading = polynomial(small, &EXP);
    for _ in 0..EXP_HALVINGS {
        fading = fading * fading;
    }
    with_sign_of(x, (x.of(1.0) - fading) / (x.of(1.0) + fading))
}

/// An odd function's value from that of the argument without sign.
#[inline(always)]
fn with_sign_of<T: Real>(x: T, value: T) -> T {
    T::pick(x.of(0.0).above(x), -value, value)
}

#[cfg(test)]
mod tests {
    use pulp::{Arch, Simd, WithSimd};

    use super::super::lanes::Lanes;
    use super::*;

    /// The series' next terms.
    const TOL: f64 = 1e-10;

    #[test]
    fn they_agree_with_the_library_over_the_range_that_is_needed() {
        for step in -40_000..=40_000 {
            let x = f64::from(step) * 1e-4;
            check("sin", sin(x), x.sin());
            check("atan", atan(10.0 * x), (10.0 * x).atan());
            check("atan", atan(x), x.atan());
            check("tanh", tanh(10.0 * x), (10.0 * x).tanh());
        }
        for x in [0.0, 1e-300, 1e300, TAN_PI_8, TAN_3_PI_8] {
            check("atan", atan(x), x.atan());
            check("tanh", tanh(-x), (-x).tanh());
        }
    }

    /// All three functions in the lanes that the processor has.
    struct Lanewise<'a>(&'a [f64]);

    impl WithSimd for Lanewise<'_> {
        type Output = ();

        #[inline(always)]
        fn with_simd<S: Simd>(self, simd: S) {
            for x in self.0 {
                let wide = Lanes::all(simd, *x);
                for (wide, alone) in [(atan(wide), atan(*x)), (sin(wide), sin(*x)), (tanh(wide), tanh(*x))] {
                    assert!(wide.each().iter().all(|lane| lane.to_bits() == alone.to_bits()), "{x}: {wide:?} {alone}");
                }
            }
        }
    }

    #[test]
    fn a_lane_gives_the_same_bits_as_the_number_alone() {
        Arch::new().dispatch(Lanewise(&[-3.9, -0.3, -0.0, 0.0, 1e-9, 0.5, 2.5, 3.9]));
    }

    #[track_caller]
    fn check(name: &str, got: f64, expected: f64) {
        assert!((got - expected).abs() <= TOL, "{name}: {got}, expected {expected}");
    }
}
