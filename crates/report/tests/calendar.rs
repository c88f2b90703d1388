//! The calendar file, read by a library that shares no code with its writer, and what RFC 5545 asks of every line.

use icalendar::Component;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use toothsayer_report::{Calendar, Error, Event};

const SEED: u64 = 20_261_125;
/// Octets of a line without its end (RFC 5545, 3.1).
const MOST_OCTETS: usize = 75;

fn event(uid: &str, summary: &str, description: &str) -> Event {
    Event {
        uid: uid.into(),
        day: date(2026, 12, 4),
        summary: summary.into(),
        description: description.into(),
        weeks: 1,
    }
}

#[track_caller]
fn written(events: Vec<Event>) -> String {
    Calendar::new("Care plan of Tarnhorn 6".into(), date(2026, 12, 1), events).expect("a calendar").to_file()
}

/// Every line ends in CR LF, none is longer than allowed, and none is empty.
#[track_caller]
fn check_lines(file: &str) {
    assert!(file.ends_with("\r\n"));
    assert_eq!(file.matches('\n').count(), file.matches("\r\n").count(), "a bare line feed");
    assert_eq!(file.matches('\r').count(), file.matches("\r\n").count(), "a bare carriage return");
    for line in file.trim_end_matches("\r\n").split("\r\n") {
        assert!((1..=MOST_OCTETS).contains(&line.len()), "{} octets: {line}", line.len());
    }
}

/// Summary and description as the other library reads them.
fn read(file: &str) -> Vec<(Option<String>, Option<String>)> {
    let calendar: icalendar::Calendar = file.parse().expect("the other library reads it");
    let events = calendar.components.iter().filter_map(|component| component.as_event());
    let own = |text: Option<&str>| text.map(str::to_owned);
    events.map(|event| (own(event.get_summary()), own(event.get_description()))).collect()
}

#[test]
fn a_file_has_the_properties_that_the_standard_asks_for() {
    let weekly = Event { weeks: 25, ..event("every-run", "after every run", "try the screws") };
    let file = written(vec![event("run-1", "after run 1", "a\nb"), weekly]);
    let wanted = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Toothsayer//care plan//EN\r\nCALSCALE:GREGORIAN\r\n\
                  NAME:Care plan of Tarnhorn 6\r\n\
                  BEGIN:VEVENT\r\nUID:run-1\r\nDTSTAMP:20261201T000000Z\r\nDTSTART;VALUE=DATE:20261204\r\n\
                  SUMMARY:after run 1\r\nDESCRIPTION:a\\nb\r\nTRANSP:TRANSPARENT\r\nEND:VEVENT\r\n\
                  BEGIN:VEVENT\r\nUID:every-run\r\nDTSTAMP:20261201T000000Z\r\nDTSTART;VALUE=DATE:20261204\r\n\
                  RRULE:FREQ=WEEKLY;COUNT=25\r\nSUMMARY:after every run\r\nDESCRIPTION:try the screws\r\n\
                  TRANSP:TRANSPARENT\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
    assert_eq!(file, wanted);
    check_lines(&file);
}

#[test]
fn another_library_reads_day_name_and_texts_back() {
    let text = "Tighten \"mount; chassis\", 0.97 to 1.73 N·m; C:\\bench, then look.\nCaution: battery out.";
    let file = written(vec![event("run-1@care.toothsayer.invalid", "Tarnhorn 6: care, run 1", text)]);
    check_lines(&file);
    let calendar: icalendar::Calendar = file.parse().expect("it reads");
    let [icalendar::CalendarComponent::Event(event)] = &calendar.components[..] else { panic!("one event") };
    assert_eq!(event.get_uid(), Some("run-1@care.toothsayer.invalid"));
    assert_eq!(event.get_summary(), Some("Tarnhorn 6: care, run 1"));
    assert_eq!(event.get_description(), Some(text));
    let Some(icalendar::DatePerhapsTime::Date(day)) = event.get_start() else { panic!("a whole day") };
    assert_eq!(day.to_string(), "2026-12-04");
}

#[test]
fn long_and_non_latin_texts_are_folded_between_letters() {
    let text = "歯車とピニオンを確認する。Зубья и подшипники проверить после первой поездки 🦷🔧 ".repeat(12);
    let file = written(vec![event("run-1", &text, &text)]);
    check_lines(&file);
    assert_eq!(read(&file), [(Some(text.clone()), Some(text))]);
}

#[test]
fn what_no_calendar_takes_is_refused() {
    let refuse = |events: Vec<Event>| Calendar::new("plan".into(), date(2026, 12, 1), events).expect_err("refused");
    let bell = refuse(vec![event("run-1", "ring\u{7}", "")]);
    assert_eq!(bell, Error::ControlCharacter { what: "summary", code: 7 });
    assert_eq!(bell.to_string(), "the summary holds the control character U+0007, which no calendar takes");
    let twice = refuse(vec![event("run-1", "a", ""), event("run-1", "b", "")]);
    assert_eq!(twice.to_string(), "two events have the name \"run-1\"");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 256, failure_persistence: None, rng_seed: RngSeed::Fixed(SEED), ..ProptestConfig::default()
    })]

    /// Any printable text comes back as it was, and the same events give the same bytes.
    #[test]
    fn texts_survive_the_file(summary in "[^\\p{C}\\p{Zl}\\p{Zp}]{1,90}", lines in prop::collection::vec("[^\\p{C}\\p{Zl}\\p{Zp}]{1,120}", 1..4)) {
        let description = lines.join("\n");
        let events = || vec![event("run-1", &summary, &description)];
        let file = written(events());
        check_lines(&file);
        prop_assert_eq!(&file, &written(events()));
        // Blanks at the ends are the reader's to keep or drop.
        let trimmed = |text: &str| text.trim().to_owned();
        let [(Some(read_summary), Some(read_description))] = &read(&file)[..] else { panic!("one event") };
        prop_assert_eq!(trimmed(read_summary), trimmed(&summary));
        prop_assert_eq!(trimmed(read_description), trimmed(&description));
    }

    /// Any day from 1970 to 9999 is written with eight digits and read back.
    #[test]
    fn days_survive_the_file(days in 0_i64..2_900_000) {
        let day: Date = date(1970, 1, 1).checked_add(jiff::ToSpan::days(days)).expect("a day");
        let one = Event { day, ..event("run-1", "a", "b") };
        let file = written(vec![one]);
        let calendar: icalendar::Calendar = file.parse().expect("it reads");
        let [icalendar::CalendarComponent::Event(event)] = &calendar.components[..] else { panic!("one event") };
        let Some(icalendar::DatePerhapsTime::Date(read)) = event.get_start() else { panic!("a whole day") };
        prop_assert_eq!(read.to_string(), day.to_string());
    }
}
