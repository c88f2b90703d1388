//! Points in time as they are kept: UTC, cut to milliseconds, so that both databases give back what they took.

use crate::error::{Error, Result};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Milliseconds since the beginning of 1970, UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Moment(i64);

/// The last millisecond that is kept: the end of the year 9999, the last of RFC 3339.
const LAST_MS: i64 = 253_402_300_799_999;

impl Moment {
    /// Now, by the machine's clock.
    pub fn now() -> Self {
        Self(Timestamp::now().as_millisecond().clamp(0, LAST_MS))
    }

    /// The moment so many milliseconds after the beginning of 1970.
    ///
    /// # Errors
    /// Before 1970 or after the year 9999.
    pub fn from_ms(ms: i64) -> Result<Self> {
        if (0..=LAST_MS).contains(&ms) {
            return Ok(Self(ms));
        }
        Err(Error::Value { of: "time".into(), value: format!("{ms} ms"), allowed: "the years 1970 to 9999" })
    }

    /// Milliseconds since the beginning of 1970.
    pub fn to_ms(self) -> i64 {
        self.0
    }

    /// Reads "2026-11-25T09:30:00Z" (RFC 3339); what is finer than a millisecond is cut off.
    ///
    /// # Errors
    /// The text is no such time, or outside 1970 to 9999.
    pub fn parse(text: &str) -> Result<Self> {
        let wrong = || Error::Value { of: "time".into(), value: text.into(), allowed: "such as 2026-11-25T09:30:00Z" };
        let timestamp: Timestamp = text.parse().map_err(|_| wrong())?;
        Self::from_ms(timestamp.as_millisecond())
    }

    /// So many minutes later, or earlier where negative; at most the end of 9999.
    pub fn after_minutes(self, minutes: i64) -> Self {
        Self(self.0.saturating_add(minutes.saturating_mul(60_000)).clamp(0, LAST_MS))
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match Timestamp::from_millisecond(self.0) {
            Ok(timestamp) => write!(f, "{timestamp:.3}"),
            Err(_) => write!(f, "{} ms", self.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_comes_back_as_it_is_shown() {
        let moment = Moment::parse("2026-11-25T09:30:00.123987Z").unwrap();
        assert_eq!(moment.to_string(), "2026-11-25T09:30:00.123Z");
        assert_eq!(Moment::parse(&moment.to_string()).unwrap(), moment);
        // RFC 3339, 5.8: this instant is 00:20:50.52 into 12 April 1985, UTC; 482196050.52 s by POSIX.
        assert_eq!(Moment::parse("1985-04-12T23:20:50.52Z").unwrap().to_ms(), 482_196_050_520);
    }

    #[test]
    fn times_outside_the_calendar_are_refused() {
        assert!(Moment::from_ms(-1).is_err());
        assert!(Moment::from_ms(LAST_MS + 1).is_err());
        assert!(Moment::parse("yesterday").is_err());
    }
}
