//! A torque that was applied, held against the joint's window and the torque that its maker prints.

use toothsayer_mechanics::screw::Window;
use toothsayer_quantity::Torque;

/// How a torque lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tightened {
    /// Tight enough, and no tighter than the joint bears.
    Within,
    /// Less than holds.
    Below {
        /// What would hold.
        least: Torque,
    },
    /// More than the joint bears, or than its maker prints.
    Above {
        /// What it bears.
        most: Torque,
    },
    /// No torque both clamps enough and spares the joint.
    NoneDoes,
}

impl Tightened {
    /// `applied` against the window; a torque that the maker prints is the most, and is always enough.
    pub fn of(applied: Torque, window: &Window, printed: Option<Torque>) -> Tightened {
        let (least, most) = match printed {
            Some(printed) => (window.low.min(printed), printed),
            None if !window.is_open() => return Tightened::NoneDoes,
            None => (window.low, window.high),
        };
        if applied > most {
            Tightened::Above { most }
        } else if applied < least {
            Tightened::Below { least }
        } else {
            Tightened::Within
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use toothsayer_mechanics::screw::Weakest;

    #[track_caller]
    fn check(applied_n_m: f64, printed_n_m: Option<f64>, expected: Tightened) {
        let [low, high] = [2.0, 3.5].map(Torque::n_m);
        let (limited_by, openings) = (Weakest::Thread, Vec::new());
        let window = Window { low, high, low_if_dry: low * 1.5, limited_by, openings };
        let told = Tightened::of(Torque::n_m(applied_n_m), &window, printed_n_m.map(Torque::n_m));
        assert_eq!(told, expected, "{applied_n_m} N·m, printed {printed_n_m:?} N·m");
    }

    #[test]
    fn a_torque_is_held_against_both_ends_of_the_window() {
        check(1.9, None, Tightened::Below { least: Torque::n_m(2.0) });
        check(2.0, None, Tightened::Within);
        check(3.5, None, Tightened::Within);
        check(3.6, None, Tightened::Above { most: Torque::n_m(3.5) });
    }

    #[test]
    fn a_printed_torque_is_the_most_and_is_enough() {
        check(3.0, Some(2.8), Tightened::Above { most: Torque::n_m(2.8) });
        check(1.8, Some(1.8), Tightened::Within);
        check(1.7, Some(1.8), Tightened::Below { least: Torque::n_m(1.8) });
        check(4.0, Some(4.0), Tightened::Within);
    }

    #[test]
    fn where_nothing_clamps_no_torque_does() {
        let [low, high] = [2.0, 0.0].map(Torque::n_m);
        let (limited_by, openings) = (Weakest::Bottoms, Vec::new());
        let window = Window { low, high, low_if_dry: low, limited_by, openings };
        assert_eq!(Tightened::of(Torque::n_m(2.5), &window, None), Tightened::NoneDoes);
    }
}
