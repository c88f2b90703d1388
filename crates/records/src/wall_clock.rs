//! The shop's clock: its days and times of day, by its time zone.

use crate::error::{Error, Result};
use crate::moment::Moment;
use crate::reach::Reach;
use crate::shop::shop_of;
use jiff::civil::Date;
use jiff::tz::{self, TimeZone};
use jiff::{Timestamp, ZonedDateTime};

/// Tells moments as the shop's people read them off the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct WallClock(TimeZone);

impl Default for WallClock {
    fn default() -> Self {
        Self(TimeZone::UTC)
    }
}

impl WallClock {
    /// In a time zone by its name in the IANA database, such as "Europe/Berlin"; letters of either case.
    ///
    /// # Errors
    /// The database has no zone of this name.
    pub fn of_zone(name: &str) -> Result<Self> {
        let wrong = |_| Error::Value {
            of: "time zone".into(),
            value: name.into(),
            allowed: "a name of the IANA database, such as Europe/Berlin, America/Denver or UTC",
        };
        TimeZone::get(name).map(Self).map_err(wrong)
    }

    /// On the shop's wall.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn of_shop(at: &impl Reach) -> Result<Self> {
        Ok(shop_of(at).await?.wall_clock())
    }

    /// The name as the database spells it.
    pub fn zone(&self) -> &str {
        self.0.iana_name().unwrap_or("UTC")
    }

    /// The names of the zones that can be set, in order of the alphabet.
    pub fn zones() -> Vec<String> {
        let mut names: Vec<String> = tz::db().available().map(|name| name.to_string()).collect();
        names.sort_unstable();
        names
    }

    /// The day of a moment.
    pub fn day(&self, moment: Moment) -> Date {
        self.read(moment).date()
    }

    /// Day and time to the minute with the zone's letters: "2026-11-25 10:30 CET".
    pub fn when(&self, moment: Moment) -> String {
        self.read(moment).strftime("%Y-%m-%d %H:%M %Z").to_string()
    }

    /// The last minute of a day.
    ///
    /// # Errors
    /// The day is outside 1970 to 9999.
    pub fn end_of(&self, day: Date) -> Result<Moment> {
        let wrong = || Error::Value { of: "day".into(), value: day.to_string(), allowed: "a day of 1970 to 9999" };
        let end = day.at(23, 59, 0, 0).to_zoned_datetime(self.0.clone()).map_err(|_| wrong())?;
        Moment::from_ms(end.timestamp().as_millisecond()).map_err(|_| wrong())
    }

    fn read(&self, moment: Moment) -> ZonedDateTime {
        // Every moment is within the calendar.
        Timestamp::from_millisecond(moment.to_ms()).unwrap_or(Timestamp::UNIX_EPOCH).to_zoned_datetime(self.0.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(zone: &str, moment: &str, told: &str) {
        let clock = WallClock::of_zone(zone).unwrap();
        let moment = Moment::parse(moment).unwrap();
        assert_eq!(clock.when(moment), told);
        assert_eq!(clock.day(moment).to_string(), told[..10]);
    }

    // Summer time of the European Union ends at 01:00 UTC on the last Sunday of October (directive 2000/84/EC, article 3).
    #[test]
    fn moments_are_told_in_the_shops_time() {
        check("UTC", "2026-11-25T09:30:59.123Z", "2026-11-25 09:30 UTC");
        check("Europe/Berlin", "2026-10-25T00:59:00Z", "2026-10-25 02:59 CEST");
        check("Europe/Berlin", "2026-10-25T01:00:00Z", "2026-10-25 02:00 CET");
        check("america/denver", "2026-12-02T05:10:00Z", "2026-12-01 22:10 MST");
    }

    #[test]
    fn a_day_ends_when_it_ends_in_the_shop() {
        let clock = WallClock::of_zone("America/Denver").unwrap();
        let day = "2026-12-01".parse().unwrap();
        assert_eq!(clock.end_of(day).unwrap(), Moment::parse("2026-12-02T06:59:00Z").unwrap());
        assert!(clock.end_of("1905-03-01".parse().unwrap()).is_err());
    }

    #[test]
    fn only_zones_of_the_database_are_set() {
        let names = WallClock::zones();
        assert!(names.len() > 300 && names.iter().all(|name| WallClock::of_zone(name).is_ok()));
        for name in ["", "Berlin", "+01:00", "Europe/Berlin ", "\u{202e}"] {
            assert!(WallClock::of_zone(name).is_err(), "{name}");
        }
        assert_eq!(WallClock::of_zone("europe/berlin").unwrap().zone(), "Europe/Berlin");
    }
}
