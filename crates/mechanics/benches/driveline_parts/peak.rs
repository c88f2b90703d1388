//! The arithmetic that a core can do at most: fused multiply-adds in registers, on the lanes that the solver takes.

use std::hint::black_box;
use std::time::Instant;

use pulp::{Arch, Simd, WithSimd};

/// Chains side by side, enough to hide each operation's latency.
const CHAINS: usize = 16;
/// Multiply-adds of each chain.
const LENGTH: u32 = 4_000_000;
/// Runs of which the fastest counts.
const RUNS: u32 = 5;

/// Floating-point operations a second of one core, a multiply-add being two.
pub fn flops() -> f64 {
    let arch = Arch::new();
    (0..RUNS).map(|_| arch.dispatch(Chains)).fold(0.0, f64::max)
}

struct Chains;

impl WithSimd for Chains {
    type Output = f64;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> f64 {
        let (factor, term) = (simd.splat_f64s(black_box(0.999)), simd.splat_f64s(black_box(1e-3)));
        let mut chains = [simd.splat_f64s(black_box(0.5)); CHAINS];
        let begun = Instant::now();
        for _ in 0..LENGTH {
            for chain in &mut chains {
                *chain = simd.mul_add_e_f64s(*chain, factor, term);
            }
        }
        let taken_s = begun.elapsed().as_secs_f64();
        black_box(chains.map(|chain| simd.reduce_sum_f64s(chain)));
        2.0 * f64::from(LENGTH) * (CHAINS * S::F64_LANES) as f64 / taken_s
    }
}
