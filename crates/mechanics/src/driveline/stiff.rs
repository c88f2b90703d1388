//! An additive Runge-Kutta pair of orders 4 and 3 for the time between blows, when the closed mesh no longer rings.
//!
//! The straight pieces of mesh and shaft are taken implicitly, all else explicitly, so that the step follows the
//! slow parts instead of the mesh's own frequency. Source: C. A. Kennedy and M. H. Carpenter, Additive Runge-Kutta
//! schemes for convection-diffusion-reaction equations, Appl. Numer. Math. 44 (2003) 139-181, scheme ARK4(3)6L[2]SA.

use super::tableau::{self, IMPLICIT_STAGES};

/// Stages.
const STAGES: usize = 6;

/// Diagonal of the implicit tableau.
pub(super) const DIAGONAL: f64 = 0.25;

/// Rows of the explicit tableau for stages 2 to 6.
const EXPLICIT: [[f64; 5]; 5] = [
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
const IMPLICIT: [[f64; 5]; 5] = [
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
const WEIGHTS: [f64; STAGES] =
    [82889.0 / 524_892.0, 0.0, 15625.0 / 83664.0, 69875.0 / 102_672.0, -2260.0 / 8211.0, DIAGONAL];

/// Solution of order 4 less solution of order 3.
const ERROR: [f64; STAGES] = [
    82889.0 / 524_892.0 - 4_586_570_599.0 / 29_645_900_160.0,
    0.0,
    15625.0 / 83664.0 - 178_811_875.0 / 945_068_544.0,
    69875.0 / 102_672.0 - 814_220_225.0 / 1_159_782_912.0,
    -2260.0 / 8211.0 + 3_700_637.0 / 11_593_932.0,
    DIAGONAL - 61727.0 / 225_920.0,
];

/// Explicit weights of every stage, the solution as the last.
pub(super) const fn rows() -> [[f64; STAGES]; STAGES] {
    let mut rows = [[0.0; STAGES]; STAGES];
    let mut stage = 0;
    while stage < IMPLICIT_STAGES {
        let mut column = 0;
        while column <= stage {
            rows[stage][column] = EXPLICIT[stage][column];
            column += 1;
        }
        stage += 1;
    }
    rows[STAGES - 1] = WEIGHTS;
    rows
}

/// Implicit less explicit weights.
pub(super) const fn shifts() -> [[f64; IMPLICIT_STAGES]; IMPLICIT_STAGES] {
    let mut shifts = [[0.0; IMPLICIT_STAGES]; IMPLICIT_STAGES];
    let mut stage = 0;
    while stage < IMPLICIT_STAGES {
        let mut column = 0;
        while column <= stage {
            shifts[stage][column] = IMPLICIT[stage][column] - EXPLICIT[stage][column];
            column += 1;
        }
        stage += 1;
    }
    shifts
}

/// Weights of the error, none for the end of the step.
pub(super) const fn error() -> [f64; tableau::STAGES] {
    let mut error = [0.0; tableau::STAGES];
    let mut stage = 0;
    while stage < STAGES {
        error[stage] = ERROR[stage];
        stage += 1;
    }
    error
}

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
