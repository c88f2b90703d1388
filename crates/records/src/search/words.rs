//! Words: how a text falls into them, their letters in threes, and how near two of them are.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Longest word, letters; what follows is left out.
const LONGEST: usize = 40;

/// The words of a text: small letters without accents, cut at everything that is neither letter nor digit.
pub(crate) fn words(text: &str) -> Vec<String> {
    let plain: String = text.nfkd().filter(|letter| !is_combining_mark(*letter)).flat_map(char::to_lowercase).collect();
    let plain = plain.replace('ß', "ss");
    let words = plain.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(|word| word.chars().take(LONGEST).collect()).collect()
}

/// All digits of a telephone number as one word, without the zeros and plus signs before it that people leave out.
pub(crate) fn phone(number: &str) -> Option<String> {
    let digits: String = number.chars().filter(char::is_ascii_digit).take(LONGEST).collect();
    let digits = digits.trim_start_matches('0');
    (digits.len() >= 3).then(|| digits.to_owned())
}

/// A word's letters in threes, with a mark before its first and behind its last.
pub(crate) fn grams(word: &str) -> Vec<String> {
    let letters: Vec<char> = std::iter::once('^').chain(word.chars()).chain(std::iter::once('$')).collect();
    let mut grams: Vec<String> = letters.windows(3).map(|three| three.iter().collect()).collect();
    grams.sort();
    grams.dedup();
    grams
}

/// Typing errors that are forgiven in a word of this length.
pub(crate) fn forgiven(letters: usize) -> usize {
    match letters {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    }
}

/// Letters to put in, leave out, change, or swap with their neighbour to make one word of the other.
pub(crate) fn distance(one: &str, other: &str) -> usize {
    let (one, other): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=other.len()).collect();
    for i in 1..=one.len() {
        let mut row = vec![i];
        for j in 1..=other.len() {
            let change = last[j - 1] + usize::from(one[i - 1] != other[j - 1]);
            let mut least = change.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1] {
                least = least.min(before[j - 2] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_falls_into_plain_words() {
        assert_eq!(words("Frau Müller-Öztürk, Straße 7b!"), ["frau", "muller", "ozturk", "strasse", "7b"]);
        assert_eq!(words("  …  "), Vec::<String>::new());
    }

    #[test]
    fn a_number_is_one_word_however_it_is_written() {
        for written in ["+49 30 1234567", "0049-30/1234567", "49301234567"] {
            assert_eq!(phone(written).as_deref(), Some("49301234567"), "{written}");
        }
        assert_eq!(phone("none"), None);
    }

    #[test]
    fn grams_mark_both_ends() {
        assert_eq!(grams("mesh"), ["^me", "esh", "mes", "sh$"]);
        assert_eq!(grams("7"), ["^7$"]);
    }

    #[test]
    fn one_slip_of_the_fingers_is_one() {
        // The usual example of the edit distance is 3; a swap of neighbours counts one (optimal string alignment).
        for (one, other, expected) in
            [("kitten", "sitting", 3), ("pinion", "pinoin", 1), ("spur", "sput", 1), ("mesh", "mesh", 0), ("", "ab", 2)]
        {
            assert_eq!(distance(one, other), expected, "{one} {other}");
        }
    }
}
