//! After which runs something is due.

/// After which runs something is due, counted from the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Due {
    /// After this run for the first time.
    pub first: u32,
    /// Then again every so many runs; none for once.
    pub every: Option<u32>,
}

impl Due {
    /// Once.
    pub(super) fn once(first: u32) -> Due {
        Due { first: first.max(1), every: None }
    }

    /// After the first run, for what settles in it, then every so many runs.
    pub(super) fn first_and_every(runs: u32) -> Due {
        Due { first: 1, every: Some(runs.max(1)) }
    }

    /// The runs after which it is due, up to the last one that is asked for. After a first time of its own the others
    /// fall on multiples of the interval, so that what needs the same cover off comes together.
    pub fn runs(self, last: u32) -> Vec<u32> {
        let mut runs: Vec<u32> = (self.first <= last).then_some(self.first).into_iter().collect();
        if let Some(every) = self.every.filter(|every| *every > 0) {
            runs.extend((1..=last / every).map(|times| times * every).filter(|run| *run > self.first));
        }
        runs
    }

    /// Whether it is due after every single run.
    pub fn is_every_run(self) -> bool {
        self == Due { first: 1, every: Some(1) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(due: Due, last: u32, wanted: &[u32]) {
        assert_eq!(due.runs(last), wanted);
    }

    #[test]
    fn runs_fall_on_multiples_after_the_first_time() {
        check(Due::once(1), 50, &[1]);
        check(Due::once(60), 50, &[]);
        check(Due::first_and_every(25), 50, &[1, 25, 50]);
        check(Due { first: 7, every: Some(7) }, 22, &[7, 14, 21]);
        check(Due::first_and_every(1), 3, &[1, 2, 3]);
        check(Due { first: 1, every: Some(0) }, 3, &[1]);
    }

    #[test]
    fn no_two_times_lie_further_apart_than_the_interval() {
        for every in 1..60 {
            for first in 1..=every {
                let runs = Due { first, every: Some(every) }.runs(500);
                assert!(runs.windows(2).all(|pair| pair[1] > pair[0] && pair[1] - pair[0] <= every), "{first} {every}");
            }
        }
    }
}
