//! What is printed on a truck's label: short, without letters that look alike, and a misreading shows.

use crate::error::{Error, Result};
use crate::id::Id;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Digits and capitals without I, L, O and U.
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Letters of a tag, the last of them the check.
const LENGTH: usize = 7;

/// A tag of six letters and a check letter.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Tag(String);

impl fmt::Display for Tag {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Tag {
    /// The tag that belongs to an id: from its drawn digits, so that it cannot be guessed from another one.
    pub(crate) fn of<T>(id: Id<T>) -> Tag {
        let text = id.to_string();
        let drawn: String = text.chars().filter(|letter| *letter != '-').skip(20).take(8).collect();
        let mut number = u64::from_str_radix(&drawn, 16).unwrap_or(0);
        let mut places = [0_u8; LENGTH - 1];
        for place in &mut places {
            *place = (number % 32) as u8;
            number /= 32;
        }
        let letters = places.into_iter().chain([check(&places)]);
        Tag(letters.map(|place| char::from(LETTERS[usize::from(place)])).collect())
    }
}

/// Each letter times an odd number, so that any single wrong letter changes the sum.
fn check(places: &[u8]) -> u8 {
    let sum: u32 = places.iter().zip([1_u32, 3, 5, 7, 9, 11]).map(|(place, weight)| u32::from(*place) * weight).sum();
    (sum % 32) as u8
}

fn place(letter: char) -> Option<u8> {
    let letter = match letter.to_ascii_uppercase() {
        'O' => '0',
        'I' | 'L' => '1',
        other => other,
    };
    LETTERS.iter().position(|known| char::from(*known) == letter).and_then(|place| u8::try_from(place).ok())
}

/// Reads a tag as somebody typed it; letters that look alike are taken for the right one.
///
/// # Errors
/// It has not seven letters, or one of them is wrong.
pub fn read(text: &str) -> Result<Tag> {
    let wrong = || Error::Value {
        of: "tag".into(),
        value: text.chars().take(40).collect(),
        allowed: "the seven letters of a label, the last of them fitting the others",
    };
    let typed = text.chars().filter(|letter| !letter.is_whitespace() && *letter != '-');
    let places: Vec<u8> = typed.map(place).collect::<Option<_>>().ok_or_else(wrong)?;
    let (last, first) = places.split_last().ok_or_else(wrong)?;
    if places.len() != LENGTH || check(first) != *last {
        return Err(wrong());
    }
    Ok(Tag(places.iter().map(|place| char::from(LETTERS[usize::from(*place)])).collect()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::moment::Moment;

    fn tag(bytes: [u8; 10]) -> Tag {
        Tag::of(Id::<()>::drawn(Moment::from_ms(0).unwrap(), bytes))
    }

    #[test]
    fn a_tag_is_read_as_it_is_printed_and_as_people_type_it() {
        let printed = tag([9, 8, 7, 6, 5, 4, 3, 2, 1, 0]);
        let typed = printed.to_string().to_lowercase().replace('0', "o").replace('1', "l");
        assert_eq!(read(&typed).unwrap(), printed);
        assert_eq!(read(&format!("{}-{}", &printed.0[..3], &printed.0[3..])).unwrap(), printed);
    }

    #[test]
    fn any_one_wrong_letter_shows() {
        let printed = tag([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]).to_string();
        for (at, right) in printed.char_indices() {
            for letter in LETTERS.iter().map(|letter| char::from(*letter)).filter(|letter| *letter != right) {
                let mut misread = printed.clone();
                misread.replace_range(at..=at, &letter.to_string());
                assert!(read(&misread).is_err(), "{misread} for {printed}");
            }
        }
    }
}
