//! A care plan in days: runs fall evenly over the weeks from the day of the hand-over on.

use super::words::{CareWords, care_words};
use crate::calendar::{Calendar, Event};
use crate::error::Error;
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::BTreeMap;
use toothsayer_quantity::System;
use toothsayer_verdict::CareItem;

/// Fewest and most runs a week that make a calendar.
pub const RUNS_PER_WEEK: [f64; 2] = [0.1, 50.0];
/// First year of a day.
pub const FIRST_YEAR: i16 = 1970;

/// A run that falls on a day's first moment falls on that day, whatever division makes of it.
const ROUNDING_DAYS: f64 = 1e-9;

/// How often the driver runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunsPerWeek(f64);

impl RunsPerWeek {
    /// From 0.1 to 50.
    pub fn new(value: f64) -> Result<RunsPerWeek, Error> {
        let [least, most] = RUNS_PER_WEEK;
        if (least..=most).contains(&value) {
            return Ok(RunsPerWeek(value));
        }
        Err(Error::RunsPerWeek { value, least, most })
    }

    /// The day on which a run falls, runs spread evenly from the first moment of `from` on: whole days of 7 run/n, so
    /// that no day lies behind its run.
    ///
    /// # Errors
    /// The day lies past the year 9999.
    pub fn day(self, from: Date, run: u32) -> Result<Date, Error> {
        let days = (7.0 * f64::from(run) / self.0 + ROUNDING_DAYS).floor();
        from.checked_add((days as i64).days()).map_err(|_| Error::TooLate { run, from })
    }

    /// Weeks that so many runs take.
    fn weeks(self, runs: u32) -> u32 {
        (f64::from(runs) / self.0 - ROUNDING_DAYS).ceil().max(1.0) as u32
    }
}

/// What a care plan's days are made from.
pub struct CareDates<'a> {
    /// The plan.
    pub items: &'a [CareItem],
    /// The truck's name.
    pub truck: &'a str,
    /// The day of the hand-over, on which the file counts as made.
    pub from: Date,
    /// How often the driver runs.
    pub runs_per_week: RunsPerWeek,
    /// The last run that is looked ahead to.
    pub last_run: u32,
    /// Units that people see.
    pub system: System,
    /// The words of a caution by its id.
    pub caution: &'a dyn Fn(&str) -> Option<String>,
}

/// The calendar of a care plan: one day for each run after which something is due, and one day a week for what is due
/// after every run.
pub fn care_calendar(dates: &CareDates<'_>) -> Result<Calendar, Error> {
    if dates.from.year() < FIRST_YEAR {
        return Err(Error::TooEarly { day: dates.from, first_year: FIRST_YEAR });
    }
    let (always, sometimes): (Vec<&CareItem>, Vec<&CareItem>) =
        dates.items.iter().partition(|item| item.due.is_every_run());
    let mut by_run: BTreeMap<u32, Vec<&CareItem>> = BTreeMap::new();
    for item in sometimes {
        item.due.runs(dates.last_run).into_iter().for_each(|run| by_run.entry(run).or_default().push(item));
    }
    let mut events = Vec::new();
    if !always.is_empty() {
        events.push(dates.every_run(&always)?);
    }
    for (run, items) in by_run {
        events.push(dates.after_run(run, &items)?);
    }
    Calendar::new(format!("Care plan of {}", dates.truck), dates.from, events)
}

impl CareDates<'_> {
    fn every_run(&self, items: &[&CareItem]) -> Result<Event, Error> {
        Ok(Event {
            uid: self.uid("every-run"),
            day: self.runs_per_week.day(self.from, 1)?,
            summary: format!("{}: after every run of this week", self.truck),
            description: self.description(items),
            weeks: self.runs_per_week.weeks(self.last_run),
        })
    }

    fn after_run(&self, run: u32, items: &[&CareItem]) -> Result<Event, Error> {
        Ok(Event {
            uid: self.uid(&format!("run-{run}")),
            day: self.runs_per_week.day(self.from, run)?,
            summary: format!("{}: care after run {run}", self.truck),
            description: self.description(items),
            weeks: 1,
        })
    }

    fn description(&self, items: &[&CareItem]) -> String {
        let words: Vec<CareWords> = items.iter().map(|item| care_words(item, self.system)).collect();
        let line = |words: &CareWords| format!("- {}. Why: {}.", words.what, words.why);
        let mut lines: Vec<String> = words.iter().map(line).collect();
        let mut told: Vec<&str> = Vec::new();
        for id in words.iter().flat_map(|words| &words.cautions) {
            if !told.contains(id) {
                told.push(id);
                lines.extend((self.caution)(id).map(|caution| format!("Caution: {caution}")));
            }
        }
        lines.join("\n")
    }

    /// The same for the same truck, day of the hand-over and run, whatever else the plan says.
    fn uid(&self, of: &str) -> String {
        format!("{of}-{:016x}@care.toothsayer.invalid", fnv1a(&format!("{}\n{}", self.truck, self.from)))
    }
}

/// FNV-1a of 64 bits (Fowler, Noll and Vo, from memory): a name for a text, the same on every machine.
fn fnv1a(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn fnv_has_its_published_values() {
        // Test vectors of FNV-1a, 64 bits (from memory): the empty text, "a" and "foobar".
        assert_eq!(fnv1a(""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(fnv1a("a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(fnv1a("foobar"), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn runs_fall_evenly_over_the_weeks() {
        let from = date(2026, 12, 1);
        let twice = RunsPerWeek::new(2.0).unwrap();
        for (run, day) in [(1, date(2026, 12, 4)), (2, date(2026, 12, 8)), (50, date(2027, 5, 25))] {
            assert_eq!(twice.day(from, run).unwrap(), day, "run {run}");
        }
        assert_eq!(twice.weeks(50), 25);
        assert_eq!(RunsPerWeek::new(14.0).unwrap().day(from, 1).unwrap(), from, "two a day: the first one today");
    }

    #[test]
    fn no_division_moves_a_day() {
        // In tenths of a run a week the day is a division of whole numbers.
        let from = date(2026, 12, 1);
        for tenths in 1..=500_u32 {
            let rhythm = RunsPerWeek::new(f64::from(tenths) / 10.0).unwrap();
            for run in 1..=60 {
                let days = (rhythm.day(from, run).unwrap() - from).get_days();
                assert_eq!(i64::from(days), i64::from(70 * run / tenths), "{tenths} tenths, run {run}");
                assert_eq!(rhythm.weeks(run), (10 * run).div_ceil(tenths), "{tenths} tenths, {run} runs");
            }
        }
    }

    #[test]
    fn odd_rhythms_are_refused() {
        for value in [0.0, -1.0, 0.05, 51.0, f64::NAN, f64::INFINITY] {
            let error = RunsPerWeek::new(value).unwrap_err().to_string();
            assert!(error.contains("outside 0.1 to 50"), "{error}");
        }
    }
}
