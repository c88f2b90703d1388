//! The suspension of the whole truck as one spring, one damper and two stops.

use super::contact::{Guard, Piece};

/// Spring, damper and stops; compression c is 0 at full droop.
#[derive(Clone, Copy, Debug)]
pub struct Suspension {
    /// Stiffness ks, N/m.
    pub stiffness_n_m: f64,
    /// Damping cs, N·s/m.
    pub damping_n_s_m: f64,
    /// Travel between the stops, m.
    pub travel_m: f64,
    /// Stiffness kb of the stops, N/m.
    pub stop_stiffness_n_m: f64,
}

/// Where the suspension stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// Between the stops.
    Free,
    /// Pulled against the droop stop, c < 0.
    Droop,
    /// Pressed against the bump stop, c > travel.
    Bump,
}

impl Suspension {
    /// Where the suspension stands at a compression.
    pub fn stand(&self, compression_m: f64) -> Stand {
        if compression_m < 0.0 {
            Stand::Droop
        } else if compression_m > self.travel_m {
            Stand::Bump
        } else {
            Stand::Free
        }
    }

    /// The straight piece of the law that holds there:
    /// ks c between the stops, kb (c - travel) on top beyond the travel, kb c below zero; cs dc throughout.
    pub fn piece(&self, stand: Stand) -> Piece {
        let (stiffness, offset) = match stand {
            Stand::Free => (self.stiffness_n_m, 0.0),
            Stand::Droop => (self.stop_stiffness_n_m, 0.0),
            Stand::Bump => {
                let both = self.stiffness_n_m + self.stop_stiffness_n_m;
                (both, self.stop_stiffness_n_m * self.travel_m / both)
            }
        };
        let bounds = [f64::NEG_INFINITY, f64::INFINITY];
        Piece { stiffness, damping: self.damping_n_s_m, offset, spring: stiffness, bounds }
    }

    /// What ends where it stands, over the compression.
    pub fn guards(&self, stand: Stand) -> [Guard; 2] {
        match stand {
            Stand::Free => [Guard::below(0.0), Guard::above(self.travel_m)],
            Stand::Droop => [Guard::above(0.0), Guard::NEVER],
            Stand::Bump => [Guard::below(self.travel_m), Guard::NEVER],
        }
    }

    /// Energy in spring and stops, J.
    pub fn stored_j(&self, compression_m: f64) -> f64 {
        let half = |stiffness_n_m: f64, way_m: f64| 0.5 * stiffness_n_m * way_m * way_m;
        match self.stand(compression_m) {
            Stand::Free => half(self.stiffness_n_m, compression_m),
            Stand::Droop => half(self.stop_stiffness_n_m, compression_m),
            Stand::Bump => {
                half(self.stiffness_n_m, compression_m) + half(self.stop_stiffness_n_m, compression_m - self.travel_m)
            }
        }
    }

    /// Compression that carries a weight at rest, m; on the bump stop where the travel is not enough.
    pub fn static_compression_m(&self, weight_n: f64) -> f64 {
        let free_m = weight_n / self.stiffness_n_m;
        if free_m <= self.travel_m {
            return free_m;
        }
        (weight_n + self.stop_stiffness_n_m * self.travel_m) / (self.stiffness_n_m + self.stop_stiffness_n_m)
    }
}

impl Stand {
    /// Where it stands after the guard with this number became positive.
    pub fn after(self, guard: usize) -> Self {
        match (self, guard) {
            (Self::Free, 0) => Self::Droop,
            (Self::Free, _) => Self::Bump,
            (Self::Droop | Self::Bump, _) => Self::Free,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SUSPENSION: Suspension =
        Suspension { stiffness_n_m: 4800.0, damping_n_s_m: 240.0, travel_m: 0.06, stop_stiffness_n_m: 60_000.0 };

    /// Roundings of a few operations on forces of some hundred newton.
    const TOL_N: f64 = 1e-9;

    #[test]
    fn the_law_has_two_stops_and_a_damper_throughout() {
        check(0.05, 0.0, 4800.0 * 0.05);
        check(0.05, -2.0, 4800.0 * 0.05 - 480.0);
        check(0.07, 0.0, 4800.0 * 0.07 + 60_000.0 * 0.01);
        check(-0.01, 1.0, -600.0 + 240.0);
    }

    #[test]
    fn the_static_compression_carries_the_weight() {
        for weight_n in [10.0, 200.0, 400.0, 2000.0] {
            let compression_m = SUSPENSION.static_compression_m(weight_n);
            let piece = SUSPENSION.piece(SUSPENSION.stand(compression_m));
            let got_n = piece.force(compression_m, 0.0);
            assert!((got_n - weight_n).abs() < TOL_N, "{got_n} N of {weight_n} N");
        }
    }

    #[test]
    fn energy_is_the_force_summed_over_the_way() {
        for (from_m, to_m) in [(0.0, 0.05), (0.02, 0.08), (-0.02, 0.03)] {
            let n = 20_000;
            let step_m = (to_m - from_m) / f64::from(n);
            let work_j: f64 = (0..n)
                .map(|i| from_m + (f64::from(i) + 0.5) * step_m)
                .map(|c_m| SUSPENSION.piece(SUSPENSION.stand(c_m)).force(c_m, 0.0) * step_m)
                .sum();
            let got_j = SUSPENSION.stored_j(to_m) - SUSPENSION.stored_j(from_m);
            assert!((got_j - work_j).abs() < 1e-6 * work_j.abs(), "{got_j} J, {work_j} J");
        }
    }

    #[track_caller]
    fn check(compression_m: f64, rate_m_s: f64, expected_n: f64) {
        let got_n = SUSPENSION.piece(SUSPENSION.stand(compression_m)).force(compression_m, rate_m_s);
        assert!((got_n - expected_n).abs() < TOL_N, "{got_n} N, expected {expected_n} N");
    }
}
