//! The shop's days: Monday to Friday, eight in the morning to five in the evening, over two years.

use toothsayer_records::{Error, Moment};

/// The Monday on which the shop opens.
const OPENED: &str = "2024-11-04T08:00:00Z";
/// Working days of two years.
pub(crate) const DAYS: i64 = 104 * 5;
/// Minutes of a day, and of a working day.
const DAY: i64 = 24 * 60;
/// Minutes that the shop is open.
pub(crate) const OPEN_MINUTES: i64 = 9 * 60;

/// A working day's minute as a moment.
pub(crate) fn at(day: i64, minute: i64) -> Result<Moment, Error> {
    let weekends = 2 * (day / 5);
    Ok(Moment::parse(OPENED)?.after_minutes((day + weekends) * DAY + minute.clamp(0, OPEN_MINUTES)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fifth_day_is_a_friday_and_the_sixth_the_monday_after() {
        assert_eq!(at(4, 0).unwrap().to_string(), "2024-11-08T08:00:00.000Z");
        assert_eq!(at(5, 60).unwrap().to_string(), "2024-11-11T09:00:00.000Z");
        assert_eq!(&at(DAYS - 1, OPEN_MINUTES).unwrap().to_string()[..10], "2026-10-30");
    }
}
