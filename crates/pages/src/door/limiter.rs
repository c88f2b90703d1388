//! How often somebody may try to sign in: failures are counted by name and by address, and forgotten after a while.

use std::collections::HashMap;
use std::sync::Mutex;
use toothsayer_records::Moment;

/// Failures of one name within [`MINUTES`]: a person mistypes a few times, guessing takes thousands.
const OF_A_NAME: u32 = 8;
/// Failures of one address: several people behind one.
const OF_AN_ADDRESS: u32 = 30;
/// After so many minutes failures are forgotten.
const MINUTES: i64 = 10;
/// Names and addresses remembered at most, so that strangers cannot fill the memory.
const MOST: usize = 10_000;

/// Whose failures are counted.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Counted {
    /// Those under a name.
    Name(String),
    /// Those from an address.
    Address(String),
    /// Wrong links and tokens from an address.
    Secret(String),
}

impl Counted {
    fn most(&self) -> u32 {
        match self {
            Self::Name(_) => OF_A_NAME,
            Self::Address(_) | Self::Secret(_) => OF_AN_ADDRESS,
        }
    }
}

#[derive(Clone, Copy, Debug)]
struct Failures {
    count: u32,
    since: Moment,
}

impl Failures {
    fn are_over(self, now: Moment) -> bool {
        self.since.after_minutes(MINUTES) <= now
    }
}

/// Counts failures.
#[derive(Debug, Default)]
pub(crate) struct Limiter {
    failures: Mutex<HashMap<Counted, Failures>>,
}

impl Limiter {
    /// Whether one of these has failed too often lately.
    pub(crate) fn refuses(&self, whose: &[Counted], now: Moment) -> bool {
        let Ok(failures) = self.failures.lock() else { return true };
        let full = |one: &Counted| failures.get(one).is_some_and(|f| !f.are_over(now) && f.count >= one.most());
        whose.iter().any(full)
    }

    /// Counts a failure before it is known whether it is one, so that many at once are counted too.
    pub(crate) fn failed(&self, whose: &[Counted], now: Moment) {
        let Ok(mut failures) = self.failures.lock() else { return };
        if failures.len() >= MOST {
            failures.retain(|_, one| !one.are_over(now));
        }
        for one in whose {
            if failures.len() >= MOST && !failures.contains_key(one) {
                continue;
            }
            let entry = failures.entry(one.clone()).or_insert(Failures { count: 0, since: now });
            if entry.are_over(now) {
                *entry = Failures { count: 0, since: now };
            }
            entry.count = entry.count.saturating_add(1);
        }
    }

    /// Forgets a name's failures once it got in.
    pub(crate) fn got_in(&self, name: &Counted) {
        if let Ok(mut failures) = self.failures.lock() {
            failures.remove(name);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(minute: i64) -> Moment {
        Moment::from_ms(0).unwrap().after_minutes(minute)
    }

    #[track_caller]
    fn check(failures: u32, asked_after_minutes: i64, refused: bool) {
        let (limiter, name) = (Limiter::default(), [Counted::Name("mira".into())]);
        (0..failures).for_each(|_| limiter.failed(&name, at(0)));
        assert_eq!(limiter.refuses(&name, at(asked_after_minutes)), refused, "{failures} failures");
    }

    #[test]
    fn a_name_is_refused_after_its_failures_and_free_again_later() {
        check(OF_A_NAME - 1, 0, false);
        check(OF_A_NAME, 0, true);
        check(OF_A_NAME, MINUTES - 1, true);
        check(OF_A_NAME, MINUTES, false);
    }

    #[test]
    fn an_address_is_refused_whatever_names_it_tries() {
        let (limiter, address) = (Limiter::default(), Counted::Address("192.0.2.7".into()));
        for guess in 0..OF_AN_ADDRESS {
            limiter.failed(&[Counted::Name(guess.to_string()), address.clone()], at(0));
        }
        assert!(limiter.refuses(&[Counted::Name("somebody else".into()), address], at(1)));
    }

    #[test]
    fn who_got_in_begins_anew() {
        let (limiter, name) = (Limiter::default(), Counted::Name("mira".into()));
        (0..OF_A_NAME).for_each(|_| limiter.failed(std::slice::from_ref(&name), at(0)));
        limiter.got_in(&name);
        assert!(!limiter.refuses(&[name], at(0)));
    }

    #[test]
    fn strangers_cannot_fill_the_memory() {
        let limiter = Limiter::default();
        (0..MOST + 50).for_each(|guess| limiter.failed(&[Counted::Name(guess.to_string())], at(0)));
        assert!(limiter.failures.lock().unwrap().len() <= MOST);
    }
}
