//! An axis: from values to px, with round steps.

/// A scale between two ends; even, or by powers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Axis {
    low: f64,
    high: f64,
    by_powers: bool,
    px: [f64; 2],
}

/// The least that a scale by powers tells from nothing.
const LEAST_POWER: f64 = 1e-12;

impl Axis {
    /// An even scale that holds every value, ends rounded out to a step; at least from 0 to 1.
    pub(crate) fn even(values: impl IntoIterator<Item = f64>, steps: usize, px: [f64; 2]) -> Axis {
        let (mut low, mut high) = (0.0_f64, 0.0_f64);
        for value in values.into_iter().filter(|value| value.is_finite()) {
            low = low.min(value);
            high = high.max(value);
        }
        if high - low <= 0.0 {
            high = 1.0;
        }
        let step = round_step((high - low) / steps.max(1) as f64);
        Axis { low: (low / step).floor() * step, high: (high / step).ceil() * step, by_powers: false, px }
    }

    /// An even scale between ends that are as they are.
    pub(crate) fn between([low, high]: [f64; 2], px: [f64; 2]) -> Axis {
        Axis { low, high: if high > low { high } else { low + 1.0 }, by_powers: false, px }
    }

    /// A scale by powers between two positive ends.
    pub(crate) fn powers([low, high]: [f64; 2], px: [f64; 2]) -> Axis {
        Axis { low, high, by_powers: true, px }
    }

    /// Where a value lies; what lies outside is put on the nearer end.
    pub(crate) fn at(&self, value: f64) -> f64 {
        let [from, to] = self.px;
        from + self.share(value).clamp(0.0, 1.0) * (to - from)
    }

    /// Whether a value lies between the ends.
    pub(crate) fn holds(&self, value: f64) -> bool {
        (-1e-9..=1.0 + 1e-9).contains(&self.share(value))
    }

    fn share(&self, value: f64) -> f64 {
        if self.by_powers {
            (value.max(LEAST_POWER) / self.low).ln() / (self.high / self.low).ln()
        } else {
            (value - self.low) / (self.high - self.low)
        }
    }

    /// The ends on the sheet.
    pub(crate) fn ends_px(&self) -> [f64; 2] {
        self.px
    }

    /// The ends as values.
    pub(crate) fn ends(&self) -> [f64; 2] {
        [self.low, self.high]
    }

    /// Round values between the ends, at most so many.
    pub(crate) fn ticks(&self, most: usize) -> Vec<f64> {
        if self.by_powers { self.powers_ticks(most) } else { self.even_ticks(most) }
    }

    fn even_ticks(&self, most: usize) -> Vec<f64> {
        let mut step = round_step((self.high - self.low) / most.max(1) as f64);
        let count = |step: f64| ((self.high / step + 1e-9).floor() - (self.low / step - 1e-9).ceil()) as usize + 1;
        while count(step) > most.max(2) {
            step = round_step(step * 1.01);
        }
        let first = (self.low / step - 1e-9).ceil();
        (0..count(step)).map(|place| (first + place as f64) * step + 0.0).collect()
    }

    fn powers_ticks(&self, most: usize) -> Vec<f64> {
        for parts in [&[1.0, 2.0, 5.0][..], &[1.0, 3.0], &[1.0]] {
            let decades = self.low.log10().floor() as i32..=self.high.log10().ceil() as i32;
            let all = decades.flat_map(|decade| parts.iter().map(move |part| part * 10f64.powi(decade)));
            let ticks: Vec<f64> = all.filter(|value| self.holds(*value)).collect();
            if ticks.len() <= most.max(3) {
                return ticks;
            }
        }
        vec![1.0]
    }
}

/// The least of 1, 2, 5 times a power of ten that is not below `step`.
fn round_step(step: f64) -> f64 {
    let power = 10f64.powf(step.max(LEAST_POWER).log10().floor());
    let parts = [1.0, 2.0, 5.0, 10.0];
    parts.iter().map(|part| part * power).find(|round| *round >= step * (1.0 - 1e-9)).unwrap_or(10.0 * power)
}

#[cfg(test)]
mod tests {
    use super::Axis;

    #[track_caller]
    fn check(axis: Axis, most: usize, expected: &[f64]) {
        let ticks = axis.ticks(most);
        assert_eq!(ticks.len(), expected.len(), "{ticks:?}");
        assert!(ticks.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{ticks:?}");
    }

    #[test]
    fn steps_are_round_and_few_enough() {
        check(Axis::even([0.0, 97.0], 5, [0.0, 1.0]), 6, &[0.0, 20.0, 40.0, 60.0, 80.0, 100.0]);
        check(Axis::even([-3.0, 8.0], 5, [0.0, 1.0]), 4, &[-5.0, 0.0, 5.0, 10.0]);
        check(Axis::powers([0.1, 10.0], [0.0, 1.0]), 9, &[0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0]);
        check(Axis::powers([0.1, 10.0], [0.0, 1.0]), 3, &[0.1, 1.0, 10.0]);
    }

    #[test]
    fn what_lies_outside_is_put_on_the_end() {
        let axis = Axis::powers([0.1, 10.0], [0.0, 100.0]);
        assert!((axis.at(1.0) - 50.0).abs() < 1e-9);
        assert_eq!([axis.at(0.0), axis.at(1e9)], [0.0, 100.0]);
        assert!(!axis.holds(11.0) && axis.holds(10.0));
    }
}
