//! Numbers as text that programs collect: OpenMetrics 1.0 (also known as the Prometheus text format, version 0.0.4).

use std::fmt::{Display, Write};

/// The media type of the text.
pub(crate) const MEDIA: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";

/// Names with their values, in the order of the text.
pub(crate) type Labels<'a> = &'a [(&'static str, &'a str)];

/// Text under construction.
#[derive(Debug, Default)]
pub(crate) struct Exposition(String);

impl Exposition {
    /// Begins a family of numbers: of one kind, with one help.
    pub(crate) fn family(&mut self, name: &str, kind: &str, help: &str) {
        // Writing into a String does not fail.
        let _ = write!(self.0, "# TYPE {name} {kind}\n# HELP {name} {help}\n");
    }

    /// A number of the family.
    pub(crate) fn sample(&mut self, name: &str, labels: Labels<'_>, value: impl Display) {
        let told: Vec<String> = labels.iter().map(|(label, value)| format!("{label}=\"{}\"", escaped(value))).collect();
        let told = if told.is_empty() { String::new() } else { format!("{{{}}}", told.join(",")) };
        let _ = writeln!(self.0, "{name}{told} {value}");
    }

    /// The whole text.
    pub(crate) fn finish(mut self) -> String {
        self.0.push_str("# EOF\n");
        self.0
    }
}

/// A label's value (OpenMetrics 1.0, "Escaping").
fn escaped(value: &str) -> String {
    value.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', "\\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_family_is_told_line_by_line_and_closed() {
        let mut text = Exposition::default();
        text.family("nuts", "counter", "Nuts.");
        text.sample("nuts_total", &[("size", "M4"), ("note", "a \"b\"\\\n")], 3);
        text.sample("nuts_total", &[], 0.5);
        let expected = "# TYPE nuts counter\n# HELP nuts Nuts.\nnuts_total{size=\"M4\",note=\"a \\\"b\\\"\\\\\\n\"} 3\n\
                        nuts_total 0.5\n# EOF\n";
        assert_eq!(text.finish(), expected);
    }
}
