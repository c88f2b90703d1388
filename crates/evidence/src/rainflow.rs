//! Cycles in a history of loads, by rainflow counting.

use crate::error::Error;

/// One cycle or half a cycle of a history.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cycle {
    /// Smaller end.
    pub low: f64,
    /// Larger end.
    pub high: f64,
    /// 1 for a closed cycle, 0.5 for one that stays open.
    pub count: f64,
}

impl Cycle {
    fn between(from: f64, to: f64, count: f64) -> Self {
        Self { low: from.min(to), high: from.max(to), count }
    }

    /// Larger less smaller end.
    pub fn range(&self) -> f64 {
        self.high - self.low
    }

    /// Middle between the ends.
    pub fn mean(&self) -> f64 {
        0.5 * (self.low + self.high)
    }
}

/// Rainflow counting of a history (ASTM E1049-85, 5.4.4), in the order in which the cycles close.
///
/// Values between two reversals do not count, nor do repeated ones. A history without a reversal is one half cycle, an
/// empty or constant one has none. Error: a value that is no finite number.
pub fn rainflow(history: impl IntoIterator<Item = f64>) -> Result<Vec<Cycle>, Error> {
    let mut cycles = Vec::new();
    let mut open: Vec<f64> = Vec::new();
    for reversal in reversals(history)? {
        open.push(reversal);
        while let [.., a, b, c] = open[..] {
            if (b - c).abs() < (a - b).abs() {
                break;
            }
            // The range a to b lies within the next one: whole, or half where it begins the history.
            if open.len() == 3 {
                cycles.push(Cycle::between(a, b, 0.5));
                open.remove(0);
            } else {
                cycles.push(Cycle::between(a, b, 1.0));
                open.truncate(open.len() - 3);
                open.push(c);
            }
        }
    }
    cycles.extend(open.windows(2).map(|ends| Cycle::between(ends[0], ends[1], 0.5)));
    Ok(cycles)
}

/// First value, turning points, last value.
fn reversals(history: impl IntoIterator<Item = f64>) -> Result<Vec<f64>, Error> {
    let mut turns: Vec<f64> = Vec::new();
    for (place, value) in history.into_iter().enumerate() {
        if !value.is_finite() {
            return Err(Error::NotFinite { what: "value of the history", place, value });
        }
        match turns[..] {
            [.., last] if last == value => {}
            [.., before, last] if (last > before) == (value > last) => {
                if let Some(end) = turns.last_mut() {
                    *end = value;
                }
            }
            _ => turns.push(value),
        }
    }
    Ok(turns)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The histories below are whole numbers, whose sums and halves are exact.
    const EXACT: f64 = 0.0;

    // ASTM E1049-85, figure 6: the standard's own history; ranges 3, 4, 6, 8, 9 with counts 0.5, 1.5, 0.5, 1.0, 0.5.
    const STANDARD: [f64; 9] = [-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0];

    fn cycles(history: &[f64]) -> Vec<Cycle> {
        rainflow(history.iter().copied()).unwrap_or_default()
    }

    #[test]
    fn the_standards_history_has_the_standards_cycles() {
        let wanted = [
            (3.0, -0.5, 0.5),
            (4.0, -1.0, 0.5),
            (4.0, 1.0, 1.0),
            (8.0, 1.0, 0.5),
            (9.0, 0.5, 0.5),
            (8.0, 0.0, 0.5),
            (6.0, 1.0, 0.5),
        ];
        let got: Vec<_> = cycles(&STANDARD).iter().map(|cycle| (cycle.range(), cycle.mean(), cycle.count)).collect();
        assert_eq!(got, wanted);
    }

    #[track_caller]
    fn check(history: &[f64], counts: f64) {
        let cycles = cycles(history);
        assert_eq!(cycles.iter().map(|cycle| cycle.count).sum::<f64>(), counts, "{cycles:?}");
    }

    #[test]
    fn what_does_not_turn_is_no_cycle() {
        check(&[], 0.0);
        check(&[3.0, 3.0, 3.0], 0.0);
        check(&[0.0, 1.0, 2.0], 0.5);
        check(&[0.0, 2.0, 2.0, 0.0], 1.0);
    }

    #[test]
    fn what_is_no_number_is_refused_with_its_place() {
        let told = rainflow([0.0, 2.0, f64::NAN, 5.0]).map_err(|error| error.to_string());
        assert_eq!(told, Err("value of the history number 2 is NaN, and must be a finite number".to_owned()));
    }

    /// Whole numbers that look drawn, as many as asked for.
    fn wandering(values: usize) -> Vec<f64> {
        let mut state = 7_u64;
        let next = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 45) as f64
        };
        std::iter::repeat_with(next).take(values).collect()
    }

    #[test]
    fn values_between_reversals_change_nothing() {
        for coarse in [STANDARD.to_vec(), wandering(500)] {
            let between = |ends: &[f64]| [ends[0], 0.75 * ends[0] + 0.25 * ends[1], 0.5 * (ends[0] + ends[1])];
            let mut fine: Vec<f64> = coarse.windows(2).flat_map(between).collect();
            fine.extend(coarse.last());
            assert_eq!(cycles(&fine), cycles(&coarse));
        }
    }

    // Each closed cycle is walked there and back, each half cycle once: together they are the whole way of the history.
    #[test]
    fn the_cycles_add_up_to_the_way_of_the_history() {
        for history in [STANDARD.to_vec(), wandering(1000)] {
            let way: f64 = history.windows(2).map(|ends| (ends[1] - ends[0]).abs()).sum();
            let counted: f64 = cycles(&history).iter().map(|cycle| 2.0 * cycle.count * cycle.range()).sum();
            assert!((counted - way).abs() <= EXACT, "{counted} of {way}");
        }
    }

    #[test]
    fn a_history_upside_down_has_the_same_ranges() {
        let history = wandering(300);
        let turned: Vec<f64> = history.iter().map(|value| -value).collect();
        let ranges =
            |history: &[f64]| cycles(history).iter().map(|cycle| (cycle.range(), cycle.count)).collect::<Vec<_>>();
        assert_eq!(ranges(&turned), ranges(&history));
    }

    #[test]
    fn the_largest_range_is_the_whole_span() {
        let history = wandering(1000);
        let span = history.iter().fold(f64::MIN, |a, b| a.max(*b)) - history.iter().fold(f64::MAX, |a, b| a.min(*b));
        let largest = cycles(&history).iter().fold(0.0, |largest: f64, cycle| largest.max(cycle.range()));
        assert_eq!(largest, span);
    }
}
