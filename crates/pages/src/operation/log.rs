//! A line for each request: when, which row of the table, with what result, how long. Nothing of who asked, and nothing of
//! what varies in an address: no numbers, no words that were looked for, no secrets.

use serde_json::json;
use std::io::Write;
use toothsayer_records::Moment;

/// What is told of requests on standard error.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Log {
    /// Those that the program could not answer (status 500 and above), as text.
    #[default]
    Quiet,
    /// Each, as text.
    Text,
    /// Each, as JSON.
    Json,
}

/// What is known of a request once it is answered.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Line<'a> {
    /// When it came.
    pub at: Moment,
    /// Its id, which its answer carries too.
    pub id: &'a str,
    /// How it asked.
    pub method: &'static str,
    /// The row of the table.
    pub route: &'static str,
    /// The answer's status.
    pub status: u16,
    /// How long the answer took, s.
    pub seconds: f64,
}

impl Log {
    /// Tells of a request, where it is to be told of. A standard error that is closed is nobody's concern.
    pub(crate) fn tell(self, line: &Line<'_>) {
        if let Some(text) = self.line(line) {
            let _ = writeln!(std::io::stderr().lock(), "{text}");
        }
    }

    fn line(self, line: &Line<'_>) -> Option<String> {
        let Line { at, id, method, route, status, seconds } = line;
        let milliseconds = (seconds * 1e6).round() / 1e3;
        match self {
            Self::Quiet if *status < 500 => None,
            Self::Quiet | Self::Text => Some(format!("{at} {method} {route} {status} {milliseconds} ms, request {id}")),
            Self::Json => {
                let object = json!({
                    "time": at.to_string(), "level": level(*status), "request": id, "method": method, "route": route,
                    "status": status, "milliseconds": milliseconds,
                });
                Some(object.to_string())
            }
        }
    }
}

fn level(status: u16) -> &'static str {
    match status {
        500.. => "error",
        _ => "info",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(log: Log, status: u16) -> Option<String> {
        let at = Moment::from_ms(0).unwrap();
        log.line(&Line { at, id: "7-1", method: "GET", route: "/jobs/{number}", status, seconds: 0.012_345_6 })
    }

    #[test]
    fn the_usual_log_tells_of_trouble_alone() {
        assert_eq!(line(Log::Quiet, 404), None);
        assert!(line(Log::Quiet, 500).is_some());
    }

    #[test]
    fn a_line_of_text_tells_when_what_and_how_long() {
        let told = line(Log::Text, 200).unwrap();
        assert!(
            told.ends_with("GET /jobs/{number} 200 12.346 ms, request 7-1") && told.starts_with("1970-01-01"),
            "{told}"
        );
    }

    #[test]
    fn a_line_of_json_is_one_object_with_a_key_for_each() {
        let told = line(Log::Json, 503).unwrap();
        let object: serde_json::Value = serde_json::from_str(&told).unwrap();
        let keys: Vec<&str> = object.as_object().unwrap().keys().map(String::as_str).collect();
        assert_eq!(keys.len(), 7, "{told}");
        assert_eq!((object["status"].as_u64(), object["milliseconds"].as_f64()), (Some(503), Some(12.346)));
        assert!(object["level"] == "error" && !told.contains('\n'), "{told}");
    }
}
