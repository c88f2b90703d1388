//! Numbers as people type them: a decimal comma is a decimal point, where it can be nothing else.

use std::borrow::Cow;

/// Digits between the commas of thousands: behind a comma they may mean either.
const OF_THOUSANDS: usize = 3;

/// The text with its decimal comma as a point: it has one comma and no point, digits on both sides of the comma, and not
/// three of them behind it. Any other text stays as it is.
pub(crate) fn decimal_comma(text: &str) -> Cow<'_, str> {
    let Some((before, behind)) = text.split_once(',') else { return Cow::Borrowed(text) };
    let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
    let between = before.ends_with(|letter: char| letter.is_ascii_digit()) && digits > 0;
    let one = !behind.contains(',') && !text.contains('.');
    match between && one && digits != OF_THOUSANDS {
        true => Cow::Owned(format!("{before}.{behind}")),
        false => Cow::Borrowed(text),
    }
}

/// What is wrong with a text's length; none where it fits.
pub(crate) fn misfit(what: &str, text: &str, [least, most]: [usize; 2]) -> Option<String> {
    let letters = text.trim().chars().count();
    let told = || format!("{what} has {letters} letters; {least} to {most} are allowed.");
    (letters < least || letters > most).then(told)
}

/// What a lower floor says of a typed text, with its way out, as a sentence of a page.
pub(crate) fn refusal(message: &str, hint: &str) -> String {
    format!("{}: {}.", crate::page::words::sentence(&quoted(message)), quoted(hint))
}

/// A message with marks of quotation for those of code.
pub(crate) fn quoted(message: &str) -> String {
    let pieces = message.split('`').enumerate();
    let marked = pieces.map(|(place, piece)| match place {
        0 => piece.to_owned(),
        odd if odd % 2 == 1 => format!("“{piece}"),
        _ => format!("”{piece}"),
    });
    marked.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, read: &str) {
        assert_eq!(decimal_comma(text), read);
    }

    #[test]
    fn a_comma_that_can_only_be_a_point_is_one() {
        check("12,50", "12.50");
        check("0,45 mm", "0.45 mm");
        check("9,5kg", "9.5kg");
        check("-1,2345", "-1.2345");
    }

    #[test]
    fn every_other_comma_stays() {
        // The last one has three digits behind its comma: 1.5 or 1500.
        for text in ["", ",", "12", "12.5", ",5", "5,", "1,2,3", "1,000.00", "1.000,00", "a,5", "1,500 mm"] {
            check(text, text);
        }
    }

    #[test]
    fn marks_of_code_become_marks_of_quotation() {
        assert_eq!(refusal("`9` has no unit", "write `9 mm`"), "“9” has no unit: write “9 mm”.");
        assert_eq!(quoted("nothing to mark"), "nothing to mark");
    }
}
