//! Breaking a text into lines: where the Unicode rules allow it (UAX 14), never between a number and its unit.

use super::block::{Style, Tone, Words};
use super::faces::Faces;
use super::measures::Size;
use super::strip::{SetRun, ink, rgb};
use toothsayer_figures::Role;
use toothsayer_quantity::{UNITS, pretty};
use unicode_linebreak::linebreaks;

/// A stretch of text of one style.
#[derive(Clone, Debug)]
struct Stretch {
    text: String,
    style: Style,
    tone: Tone,
    width_em: f32,
}

/// A piece between two places where a line may end.
#[derive(Debug, Default)]
struct Piece {
    stretches: Vec<Stretch>,
    /// Whether a line ends behind it.
    ends: bool,
}

/// Lines of set runs, each with its width.
pub(crate) struct Line {
    pub runs: Vec<SetRun>,
    pub width_pt: f32,
}

/// The lines of a text, none wider than `room_pt`; a word that is longer is broken.
pub(crate) fn lines(faces: &Faces<'_>, words: &Words, size: Size, room_pt: f32) -> Vec<Line> {
    let room_em = room_pt / size.size_pt;
    let mut lines: Vec<Vec<Stretch>> = vec![Vec::new()];
    let mut used_em = 0.0;
    let mut ended = false;
    for Piece { stretches: piece, ends } in pieces(faces, words) {
        let (all_em, ink_em) = (width_em(&piece), bare_em(faces, &piece));
        if std::mem::replace(&mut ended, ends) {
            lines.push(Vec::new());
            used_em = 0.0;
        }
        if used_em > 0.0 && used_em + ink_em > room_em {
            lines.push(Vec::new());
            used_em = 0.0;
        }
        if ink_em <= room_em {
            used_em += all_em;
            lines.last_mut().into_iter().for_each(|line| line.extend(piece.clone()));
        } else {
            used_em = broken(faces, &piece, room_em, &mut lines);
        }
    }
    lines.into_iter().map(|line| set(faces, line, size)).collect()
}

fn width_em(piece: &[Stretch]) -> f32 {
    piece.iter().map(|stretch| stretch.width_em).sum()
}

/// Width without the space at the end, which may stand over the edge.
fn bare_em(faces: &Faces<'_>, piece: &[Stretch]) -> f32 {
    let Some(last) = piece.last() else { return 0.0 };
    let end = &last.text[last.text.trim_end().len()..];
    width_em(piece) - faces.width_em(end, last.style)
}

/// A piece that no line holds, letter by letter; gives the width of its last line.
fn broken(faces: &Faces<'_>, piece: &[Stretch], room_em: f32, lines: &mut Vec<Vec<Stretch>>) -> f32 {
    let mut used_em = 0.0;
    for stretch in piece {
        for letter in stretch.text.chars() {
            let width_em = faces.width_em(letter.encode_utf8(&mut [0; 4]), stretch.style);
            if used_em + width_em > room_em && used_em > 0.0 {
                lines.push(Vec::new());
                used_em = 0.0;
            }
            used_em += width_em;
            let Some(line) = lines.last_mut() else { continue };
            match line.last_mut() {
                Some(last) if last.style == stretch.style && last.tone == stretch.tone => last.text.push(letter),
                _ => line.push(Stretch { text: letter.into(), width_em: 0.0, ..*stretch }),
            }
        }
    }
    used_em
}

/// The pieces of a text.
fn pieces(faces: &Faces<'_>, words: &Words) -> Vec<Piece> {
    let texts: Vec<String> = words.0.iter().map(|span| faces.printable(&span.text)).collect();
    let all: String = texts.concat();
    let mut from = 0;
    let mut pieces = Vec::new();
    for (to, _) in linebreaks(&all) {
        if to < all.len() && splits_number_and_unit(&all, to) {
            continue;
        }
        let ends = to < all.len() && all[..to].ends_with('\n');
        let mut piece = Piece { stretches: Vec::new(), ends };
        let mut begin = 0;
        for (span, text) in words.0.iter().zip(&texts) {
            let (low, high) = (from.max(begin), to.min(begin + text.len()));
            if low < high {
                let part = all[low..high].replace('\n', "");
                let width_em = faces.width_em(&part, span.style);
                piece.stretches.push(Stretch { text: part, style: span.style, tone: span.tone, width_em });
            }
            begin += text.len();
        }
        from = to;
        pieces.push(piece);
    }
    pieces
}

/// Whether a line that ends at `place` would part a number from its unit.
pub(crate) fn splits_number_and_unit(text: &str, place: usize) -> bool {
    let before = text[..place].trim_end();
    let after = text[place..].split(' ').next().unwrap_or("").trim_end_matches([',', ';', ':', '.', ')']);
    let is_currency = after.len() == 3 && after.chars().all(|letter| letter.is_ascii_uppercase());
    let is_unit = after == "%" || is_currency || UNITS.iter().any(|unit| pretty(unit.symbol) == after);
    before.len() < place && before.ends_with(|end: char| end.is_ascii_digit()) && is_unit
}

/// A line's stretches, shaped and side by side.
fn set(faces: &Faces<'_>, stretches: Vec<Stretch>, size: Size) -> Line {
    let mut joined: Vec<Stretch> = Vec::new();
    for stretch in stretches {
        match joined.last_mut() {
            Some(last) if last.style == stretch.style && last.tone == stretch.tone => last.text.push_str(&stretch.text),
            _ => joined.push(stretch),
        }
    }
    let mut line = Line { runs: Vec::new(), width_pt: 0.0 };
    let count = joined.len();
    for (place, stretch) in joined.into_iter().enumerate() {
        let text = if place + 1 == count { stretch.text.trim_end() } else { stretch.text.as_str() };
        let role = if stretch.style == Style::Quiet { Role::Quiet } else { ink(stretch.tone) };
        for run in faces.shape(text, stretch.style) {
            let x_pt = line.width_pt;
            line.width_pt += run.width_em * size.size_pt;
            line.runs.push(SetRun { run, x_pt, size_pt: size.size_pt, colour: rgb(role) });
        }
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::typeset::measures::BODY;

    #[track_caller]
    fn check(text: &str, room_pt: f32, expected: &[&str]) {
        let faces = Faces::new(None).unwrap();
        let set = lines(&faces, &Words::from(text), BODY, room_pt);
        let text = |line: &Line| line.runs.iter().map(|set| set.run.text.as_str()).collect::<String>();
        assert_eq!(set.iter().map(text).collect::<Vec<_>>(), expected);
        assert!(
            set.iter().all(|line| line.width_pt <= room_pt + 0.01),
            "{text:?} within {room_pt}",
            text = text(&set[0])
        );
    }

    #[test]
    fn a_line_ends_between_words_and_not_before_a_unit() {
        check("after 11.3 ms it ends", 300.0, &["after 11.3 ms it ends"]);
        check("after 11.3 ms it ends", 55.0, &["after", "11.3 ms it", "ends"]);
        check("costs 94.65 EUR, now", 60.0, &["costs", "94.65 EUR,", "now"]);
    }

    #[test]
    fn a_word_longer_than_a_line_is_broken() {
        check("mmmmmmm", 30.0, &["mmm", "mmm", "m"]);
        check("", 30.0, &[""]);
    }

    #[test]
    fn a_line_ends_where_the_text_says_so() {
        check("one\ntwo", 300.0, &["one", "two"]);
        check("one\n", 300.0, &["one"]);
    }

    #[test]
    fn letters_that_no_face_has_become_boxes() {
        let faces = Faces::new(None).unwrap();
        assert_eq!(faces.printable("山田"), "□□");
    }
}
