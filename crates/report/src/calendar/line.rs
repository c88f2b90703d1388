//! Content lines of a calendar file: text escaped, long lines folded.

/// Most octets of a line, its end not counted (RFC 5545, 3.1).
const MOST_OCTETS: usize = 75;

/// Text as a value: backslash, semicolon, comma and line ends escaped (RFC 5545, 3.3.11).
pub(super) fn text(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.replace("\r\n", "\n").chars() {
        match letter {
            '\\' | ';' | ',' => escaped.extend(['\\', letter]),
            '\n' | '\r' => escaped.push_str("\\n"),
            other => escaped.push(other),
        }
    }
    escaped
}

/// Adds a content line with its end, folded between letters: each further line begins with a space, which counts.
pub(super) fn content_line(line: &str, file: &mut String) {
    let mut octets = 0;
    for letter in line.chars() {
        if octets + letter.len_utf8() > MOST_OCTETS {
            file.push_str("\r\n ");
            octets = 1;
        }
        file.push(letter);
        octets += letter.len_utf8();
    }
    file.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(line: &str, wanted: &str) {
        let mut file = String::new();
        content_line(line, &mut file);
        assert_eq!(file, wanted);
    }

    #[test]
    fn lines_of_75_octets_stay_whole_and_longer_ones_are_folded() {
        let whole = "x".repeat(75);
        check(&whole, &format!("{whole}\r\n"));
        check(&format!("{whole}yz"), &format!("{whole}\r\n yz\r\n"));
        check(&format!("{whole}{whole}"), &format!("{whole}\r\n {}\r\n x\r\n", "x".repeat(74)));
    }

    #[test]
    fn a_letter_of_several_octets_is_never_cut() {
        // 74 octets and one letter of three: it goes to the next line whole.
        check(&format!("{}歯", "x".repeat(74)), &format!("{}\r\n 歯\r\n", "x".repeat(74)));
    }

    #[test]
    fn what_has_a_meaning_is_escaped() {
        // The example of RFC 5545, 3.3.11 has these four.
        assert_eq!(text("a\\b; c, d\ne\r\nf"), "a\\\\b\\; c\\, d\\ne\\nf");
    }
}
