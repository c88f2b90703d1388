//! A calendar file of whole days (RFC 5545): the same events give the same bytes.

mod line;

use crate::Error;
use jiff::civil::Date;
use line::{content_line, text};

/// Who made the file (RFC 5545, 3.7.3).
const PRODUCT: &str = "-//Toothsayer//care plan//EN";

/// Something to do on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Its name, the same whenever the same event is written again, and no other event's (RFC 5545, 3.8.4.7).
    pub uid: String,
    /// The day.
    pub day: Date,
    /// One line.
    pub summary: String,
    /// Any number of lines.
    pub description: String,
    /// On how many weeks it comes, this one included; 1 for once.
    pub weeks: u32,
}

/// A checked calendar.
#[derive(Clone, Debug, PartialEq)]
pub struct Calendar {
    name: String,
    stamp: Date,
    events: Vec<Event>,
}

impl Calendar {
    /// Events that were made on the day `stamp`. Fails on a text that no calendar takes, and on two events of one name.
    pub fn new(name: String, stamp: Date, events: Vec<Event>) -> Result<Calendar, Error> {
        printable("calendar's name", &name)?;
        for event in &events {
            printable("event's name", &event.uid)?;
            printable("summary", &event.summary)?;
            printable("description", &event.description)?;
        }
        let mut uids: Vec<&str> = events.iter().map(|event| event.uid.as_str()).collect();
        uids.sort_unstable();
        match uids.windows(2).find(|pair| pair[0] == pair[1]) {
            Some(pair) => Err(Error::Twice { uid: pair[0].to_owned() }),
            None => Ok(Calendar { name, stamp, events }),
        }
    }

    /// The events, in order.
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// The file: VCALENDAR with one VEVENT an event, all day (a DATE without an end lasts one day, 3.6.1), marked as
    /// taking no time; no alarm. NAME is RFC 7986's, 5.1.
    pub fn to_file(&self) -> String {
        let mut file = String::new();
        let head = ["BEGIN:VCALENDAR".to_owned(), "VERSION:2.0".into(), format!("PRODID:{PRODUCT}")];
        let name = ["CALSCALE:GREGORIAN".to_owned(), format!("NAME:{}", text(&self.name))];
        head.iter().chain(&name).for_each(|line| content_line(line, &mut file));
        for event in &self.events {
            self.event(event).iter().for_each(|line| content_line(line, &mut file));
        }
        content_line("END:VCALENDAR", &mut file);
        file
    }

    fn event(&self, event: &Event) -> Vec<String> {
        let mut lines = vec![
            "BEGIN:VEVENT".to_owned(),
            format!("UID:{}", text(&event.uid)),
            format!("DTSTAMP:{}T000000Z", basic(self.stamp)),
            format!("DTSTART;VALUE=DATE:{}", basic(event.day)),
        ];
        if event.weeks > 1 {
            lines.push(format!("RRULE:FREQ=WEEKLY;COUNT={}", event.weeks));
        }
        lines.extend([
            format!("SUMMARY:{}", text(&event.summary)),
            format!("DESCRIPTION:{}", text(&event.description)),
            "TRANSP:TRANSPARENT".into(),
            "END:VEVENT".into(),
        ]);
        lines
    }
}

/// ISO 8601 basic format: 20261201.
fn basic(day: Date) -> String {
    format!("{:04}{:02}{:02}", day.year(), day.month(), day.day())
}

/// TEXT may hold no control character but tab and line ends (RFC 5545, 3.3.11 and 3.1).
fn printable(what: &'static str, text: &str) -> Result<(), Error> {
    let odd = text.chars().find(|letter| letter.is_control() && !matches!(letter, '\t' | '\n' | '\r'));
    odd.map_or(Ok(()), |letter| Err(Error::ControlCharacter { what, code: u32::from(letter) }))
}
