//! What people type, before it is read.

use std::borrow::Cow;

/// Digits behind a comma that may part thousands.
const THOUSANDS: usize = 3;

/// A typed number with a point where a comma is surely meant as one: "0,45 mm" is 0.45 mm. More than one comma, a comma
/// beside a point, or one before exactly three digits may part thousands, and stays to be refused.
pub(crate) fn decimal_comma(text: &str) -> Cow<'_, str> {
    let Some((whole, rest)) = text.split_once(',') else { return Cow::Borrowed(text) };
    let behind = rest.chars().take_while(char::is_ascii_digit).count();
    let is_decimal = whole.ends_with(|letter: char| letter.is_ascii_digit())
        && !text.contains('.')
        && !rest.contains(',')
        && behind != 0
        && behind != THOUSANDS;
    if is_decimal { Cow::Owned(format!("{whole}.{rest}")) } else { Cow::Borrowed(text) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(typed: &str, read: &str) {
        assert_eq!(decimal_comma(typed), read);
    }

    #[test]
    fn a_comma_is_a_point_where_nothing_else_can_be_meant() {
        check("0,45 mm", "0.45 mm");
        check("62,50", "62.50");
        check("9,5 kg ± 0,1 kg", "9,5 kg ± 0,1 kg");
        for same in ["1,000", "1,000.5", "1,2,3", ",5", "5,", "0.45 mm", "many"] {
            check(same, same);
        }
    }
}
