//! The letters: two embedded faces and one more where a paper needs another script, with the shaping of runs.

use super::block::Style;
use crate::Error;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use resvg::usvg::{Options, fontdb};
use rustybuzz::{Direction, UnicodeBuffer};
use std::sync::Arc;

/// DejaVu Sans, the face that the drawings count with too.
const REGULAR: &[u8] = include_bytes!("../../fonts/DejaVuSans.ttf");
const BOLD: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold.ttf");
/// The embedded faces, as font files.
pub const EMBEDDED: [&[u8]; 2] = [REGULAR, BOLD];
/// Stands for a letter that no face has.
const UNKNOWN: char = '□';

struct Face<'a> {
    shaper: rustybuzz::Face<'a>,
    font: Font,
}

impl<'a> Face<'a> {
    fn new(bytes: &'a [u8], name: &str) -> Result<Face<'a>, Error> {
        let unread = || Error::Font { name: name.to_owned() };
        let shaper = rustybuzz::Face::from_slice(bytes, 0).ok_or_else(unread)?;
        let font = Font::new(bytes.to_vec().into(), 0).ok_or_else(unread)?;
        Ok(Face { shaper, font })
    }

    fn has(&self, letter: char) -> bool {
        self.shaper.glyph_index(letter).is_some()
    }
}

/// Letters of one face, side by side.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub text: String,
    pub font: Font,
    pub glyphs: Vec<KrillaGlyph>,
    /// Width over the size.
    pub width_em: f32,
}

/// The faces of a paper.
pub(crate) struct Faces<'a> {
    regular: Face<'a>,
    bold: Face<'a>,
    more: Option<Face<'a>>,
    fonts: Arc<fontdb::Database>,
}

impl<'a> Faces<'a> {
    /// The embedded faces, and the font that a shop adds for another script.
    pub(crate) fn new(more: Option<&'a [u8]>) -> Result<Faces<'a>, Error> {
        let mut fonts = fontdb::Database::new();
        for bytes in [Some(REGULAR), Some(BOLD), more].into_iter().flatten() {
            fonts.load_font_data(bytes.to_vec());
        }
        fonts.set_sans_serif_family("DejaVu Sans");
        Ok(Faces {
            regular: Face::new(REGULAR, "DejaVu Sans")?,
            bold: Face::new(BOLD, "DejaVu Sans Bold")?,
            more: more.map(|bytes| Face::new(bytes, "the further font")).transpose()?,
            fonts: Arc::new(fonts),
        })
    }

    /// How the drawings are read: with these faces alone, so that they come out the same everywhere.
    pub(crate) fn drawing_options(&self) -> Options<'static> {
        Options { fontdb: Arc::clone(&self.fonts), font_family: "DejaVu Sans".into(), ..Options::default() }
    }

    /// Whether some face has the letter.
    fn has(&self, letter: char) -> bool {
        let known = |face: &Face<'_>| face.has(letter);
        known(&self.regular) || self.more.as_ref().is_some_and(known)
    }

    /// The text with a box for each letter that no face has, and a space for what is no letter; lines end where they did.
    pub(crate) fn printable(&self, text: &str) -> String {
        let own = |letter: char| match letter {
            '\n' => '\n',
            letter if letter.is_control() || letter.is_whitespace() => ' ',
            letter if self.has(letter) => letter,
            _ => UNKNOWN,
        };
        text.chars().filter(|letter| !is_invisible(*letter)).map(own).collect()
    }

    /// A drawing's text, prepared in the same way; what belongs to the drawing itself is plain ASCII.
    pub(crate) fn printable_svg(&self, svg: &str) -> String {
        let own = |letter: char| if letter.is_ascii() || self.has(letter) { letter } else { UNKNOWN };
        svg.chars().filter(|letter| !is_invisible(*letter)).map(own).collect()
    }

    /// Letters of a text that no face has, each once.
    pub(crate) fn missing(&self, text: &str) -> Vec<char> {
        let mut missing: Vec<char> = Vec::new();
        for letter in text.chars().filter(|letter| !letter.is_control() && !letter.is_whitespace()) {
            if !is_invisible(letter) && !self.has(letter) && !missing.contains(&letter) {
                missing.push(letter);
            }
        }
        missing
    }

    /// A text in runs of one face and one writing direction each, the runs from left to right.
    pub(crate) fn shape(&self, text: &str, style: Style) -> Vec<Run> {
        let mut parts: Vec<(&Face<'a>, bool, String)> = Vec::new();
        for (letter, leftward) in text.chars().zip(leftward(text)) {
            let face = self.face(letter, style);
            match parts.last_mut() {
                Some((last, same, part)) if std::ptr::eq(*last, face) && *same == leftward => part.push(letter),
                _ => parts.push((face, leftward, letter.to_string())),
            }
        }
        parts.into_iter().map(|(face, leftward, part)| run(face, leftward, part)).collect()
    }

    fn face(&self, letter: char, style: Style) -> &Face<'a> {
        let own = if style == Style::Strong { &self.bold } else { &self.regular };
        let others = [Some(own), Some(&self.regular), self.more.as_ref()];
        others.into_iter().flatten().find(|face| face.has(letter)).unwrap_or(own)
    }

    /// Width of a text over its size.
    pub(crate) fn width_em(&self, text: &str, style: Style) -> f32 {
        self.shape(text, style).iter().map(|run| run.width_em).sum()
    }
}

/// Joiners, direction marks and byte-order marks: nothing is printed for them.
fn is_invisible(letter: char) -> bool {
    matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}' | '\u{00ad}')
}

/// Which letters of a text are written from right to left: Hebrew, Arabic and their kin, and the spaces among them.
fn leftward(text: &str) -> Vec<bool> {
    let letters: Vec<char> = text.chars().collect();
    let own =
        |letter: &char| matches!(letter, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefe}');
    let is_letter = |letter: &&char| **letter != ' ';
    let is = |(place, letter): (usize, &char)| match letter {
        ' ' => {
            let before = letters[..place].iter().rfind(is_letter);
            before.is_some_and(own) && letters[place..].iter().find(is_letter).is_some_and(own)
        }
        letter => own(letter),
    };
    letters.iter().enumerate().map(is).collect()
}

fn run(face: &Face<'_>, leftward: bool, text: String) -> Run {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(&text);
    buffer.guess_segment_properties();
    buffer.set_direction(if leftward { Direction::RightToLeft } else { Direction::LeftToRight });
    let shaped = rustybuzz::shape(&face.shaper, &[], buffer);
    let per_em = face.shaper.units_per_em() as f32;
    let mut starts: Vec<usize> = shaped.glyph_infos().iter().map(|info| info.cluster as usize).collect();
    starts.sort_unstable();
    starts.dedup();
    let end = |start: usize| starts.iter().copied().find(|next| *next > start).unwrap_or(text.len());
    let mut width_em = 0.0;
    let glyph = |(info, place): (&rustybuzz::GlyphInfo, &rustybuzz::GlyphPosition)| {
        let [advance, x, y] = [place.x_advance, place.x_offset, place.y_offset].map(|units| units as f32 / per_em);
        width_em += advance;
        let start = info.cluster as usize;
        KrillaGlyph::new(GlyphId::new(info.glyph_id), advance, x, y, 0.0, start..end(start), None)
    };
    let glyphs = shaped.glyph_infos().iter().zip(shaped.glyph_positions()).map(glyph).collect();
    Run { text, font: face.font.clone(), glyphs, width_em }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: &[&str]) {
        let faces = Faces::new(None).unwrap();
        let from_left = |run: &Run| {
            let drawn = run.glyphs.iter().map(|glyph| &run.text[glyph.text_range.clone()]);
            drawn.collect::<String>()
        };
        assert_eq!(faces.shape(text, Style::Plain).iter().map(from_left).collect::<Vec<_>>(), expected);
    }

    #[test]
    fn letters_stand_in_the_order_in_which_their_script_is_read() {
        check("abc", &["abc"]);
        check("a שלום b", &["a ", "םולש", " b"]);
        check("שלום עולם", &["םלוע םולש"]);
    }
}
