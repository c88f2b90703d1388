//! How wide a text is, and how it is cut or wrapped to fit: the advance widths of a broad sans serif.
//!
//! The figures ask for that face first and for narrower ones after it, so that a text never needs more room than is
//! counted here. The widths are measured facts of DejaVu Sans, in thousandths of the size.

use toothsayer_quantity::{UNITS, pretty};
use unicode_width::UnicodeWidthChar;

/// The faces that the figures ask for, none wider than the first.
pub(crate) const FACES: &str = "'DejaVu Sans', Verdana, 'Noto Sans', sans-serif";
/// Height of a capital over the size.
pub(crate) const ASCENT: f64 = 0.76;

/// Printable ASCII from the space on, regular.
const REGULAR: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637, 637, 637, 637,
    637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632, 576, 775, 752, 295, 295, 656, 558, 863,
    749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838, 500, 500, 613, 635, 550, 635,
    616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637,
    337, 637, 838,
];
/// The same in bold.
const BOLD: [u16; 95] = [
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366, 696, 696, 696, 696, 696, 696, 696,
    696, 696, 696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831, 684, 684, 821, 837, 373, 373, 775, 638, 996,
    837, 851, 733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838, 500, 500, 675, 716, 593, 716,
    679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688, 716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712,
    366, 712, 838,
];
/// Letters of other scripts; the mean of Greek, Cyrillic and Arabic is 0.70, most lie below this.
const OTHER: f64 = 0.85;
/// Letters that fill a square.
const SQUARE: f64 = 1.1;

/// Width of a text over its size.
fn advance(letter: char, bold: bool) -> f64 {
    let table = if bold { &BOLD } else { &REGULAR };
    let known = (letter as usize).checked_sub(32).and_then(|place| table.get(place));
    match (known, letter) {
        (Some(thousandths), _) => f64::from(*thousandths) / 1000.0,
        (None, '·') => 0.38,
        (None, '°' | '²' | '–') => 0.5,
        _ => match letter.width() {
            None | Some(0) => 0.0,
            Some(1) => OTHER + if bold { 0.1 } else { 0.0 },
            Some(_) => SQUARE,
        },
    }
}

/// Width of a text of a size in px.
pub fn text_width(text: &str, size_px: f64, bold: bool) -> f64 {
    text.chars().map(|letter| advance(letter, bold)).sum::<f64>() * size_px
}

/// A size with or without weight.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Face {
    pub size_px: f64,
    pub bold: bool,
}

impl Face {
    pub(crate) fn width(self, text: &str) -> f64 {
        text_width(text, self.size_px, self.bold)
    }

    /// The text, cut with an ellipsis where it is wider than `room_px`.
    pub(crate) fn cut(self, text: &str, room_px: f64) -> String {
        if self.width(text) <= room_px {
            return text.to_owned();
        }
        let room_px = room_px - self.width("…");
        let mut width_px = 0.0;
        let kept: String = text
            .chars()
            .take_while(|letter| {
                width_px += advance(*letter, self.bold) * self.size_px;
                width_px <= room_px
            })
            .collect();
        format!("{}…", kept.trim_end())
    }

    /// The text in lines of at most `room_px`; a number keeps its unit, a word that is longer than a line is broken.
    pub(crate) fn wrap(self, text: &str, room_px: f64) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for word in glued(text).iter().flat_map(|word| self.pieces(word, room_px)) {
            let joined = lines.last().map(|line| format!("{line} {word}"));
            match (lines.last_mut(), joined) {
                (Some(line), Some(joined)) if self.width(&joined) <= room_px => *line = joined,
                _ => lines.push(word),
            }
        }
        lines
    }

    fn pieces(self, word: &str, room_px: f64) -> Vec<String> {
        let mut pieces = vec![String::new()];
        for letter in word.chars() {
            let last = pieces.last_mut();
            match last {
                Some(piece) if piece.is_empty() || self.width(piece) + self.width(&letter.to_string()) <= room_px => {
                    piece.push(letter);
                }
                _ => pieces.push(letter.to_string()),
            }
        }
        pieces
    }
}

/// Letters of a unit at most, with what stands behind it ("N·m,").
const UNIT_LETTERS: usize = 6;

/// The words of a text, a number and the unit behind it as one.
fn glued(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(last) if last.ends_with(|end: char| end.is_ascii_digit()) && is_unit(word) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn is_unit(word: &str) -> bool {
    let bare = word.trim_end_matches([',', ';', ':', '.']);
    let is_currency = bare.len() == 3 && bare.chars().all(|letter| letter.is_ascii_uppercase());
    let known = bare == "%" || is_currency || UNITS.iter().any(|unit| pretty(unit.symbol) == bare);
    known && word.chars().count() <= UNIT_LETTERS + 1
}

#[cfg(test)]
mod tests {
    use super::Face;

    const FACE: Face = Face { size_px: 10.0, bold: false };

    #[track_caller]
    fn check(text: &str, room_px: f64, expected: &[&str]) {
        assert_eq!(FACE.wrap(text, room_px), expected);
    }

    #[test]
    fn a_line_breaks_between_words_and_not_before_a_unit() {
        check("after 11.3 ms", 70.0, &["after 11.3 ms"]);
        check("after 11.3 ms", 60.0, &["after", "11.3 ms"]);
        check("94.65 EUR, now", 60.0, &["94.65 EUR,", "now"]);
    }

    #[test]
    fn a_word_longer_than_a_line_is_broken() {
        check("mmmmmm", 30.0, &["mmm", "mmm"]);
        check("", 30.0, &[]);
    }
}
